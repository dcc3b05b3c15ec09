"""How clauses are meant beside each other: asked, left open, hanging on a condition; and which sayings hold in them."""

from __future__ import annotations

from advisor.draft.clauses import OPENER, Clause, find
from advisor.draft.hearing import Hearing
from advisor.draft.items import Item, Match
from advisor.draft.mentions import Mention
from advisor.draft.turns import turns


class Meant(Hearing):
    """Judges the clauses of one text."""

    def _named_in_passing(self, clause: Clause, items: list[Item]) -> None:
        """`is the wall behind it rotten?`: what is asked of is there, and no more is said of it."""
        for item in items:
            item.verb = None
        mentions = self.namer.mentions(clause, items, set(), set(), {})
        there = [
            m for m in mentions if m.sense.role == "part" and (self.things.definite(m) or self._asked_how(m, clause))
        ]
        self.things.resolve(clause, there, items, self.span, unknown=True)

    def _asked_how(self, mention: Mention, clause: Clause) -> bool:
        """`is wall behind rotten?`, `header wood or metal?`: how it is is asked, not whether there is one."""
        if mention.prep:
            return False
        first = clause.start
        if self.tokens[first].text in ("is", "are", "was", "were", "does", "do", "how", "did"):
            first += 1
        behind = self.tokens[mention.end].text if mention.end < clause.stop else ""
        if mention.start != first or not behind or behind in turns("where it would be"):
            return False
        return not self.language.has("prepositions", behind) or behind in ("behind", "under", "above")

    def _asked_and_unknown(self, clause: Clause, following: list[Clause]) -> bool:
        """`is the pipe leaking or did the grout go i dont know`: each of it is asked, and none known."""
        if self.tokens[clause.start].text not in turns("asks"):
            return False
        for after in following:
            if self._only_unknown(after):
                return True
            if self.tokens[after.start].text not in turns("asks"):
                return False
        return False

    def _left_open(self, clause: Clause, items: list[Item], following: list[Clause]) -> bool:
        """`the finish is poly or lacquer, no idea`: which of two it is is not known."""
        if not following or not self._only_unknown(following[0]):
            return False
        ors = [p for p in range(clause.start, clause.stop) if self.tokens[p].text == "or"]
        return any(
            a.end == p and b.start == p + 1 and a.verb is None and b.verb is None
            for p in ors for a in items for b in items
        )  # fmt: skip

    def _only_unknown(self, clause: Clause) -> bool:
        places = find(self.tokens, clause.start, clause.stop, self.language.words["unknown"])
        return bool(places) and clause.stop - clause.start <= 6 and places[0][0] - clause.start <= 1

    def _hangs_on_a_condition(self, clause: Clause, items: list[Item], before: Clause | None) -> bool:
        """`if it is dry i paint it, then hang it`: the condition, and what follows at once; not what comes after."""
        if clause.conditional:
            joint = "if" in clause.cues
            self.condition = joint and not any(i.verb is not None for i in items[1:])
            inner = next((p for p in range(clause.start + 1, clause.stop) if self._starts_anew(p)), None)
            if joint and inner is not None and any(i.verb is not None and i.start > inner for i in items):
                self.condition = True  # `if it is dry i paint it and hang it`
            return True
        if not self.condition:
            return False
        ended = before is not None and not before.conditional and clause.lead in (OPENER, "then", "but", "so", "also")
        ended = (
            ended
            or clause.lead in ("then", "but")
            or (before is not None and not before.conditional and clause.lead == ",")
        )
        ended = ended or (
            before is not None and before.conditional and clause.lead == "then" and "if" not in before.cues
        )
        self.condition = not ended
        return self.condition

    def _starts_anew(self, place: int) -> bool:
        return self.tokens[place].text in ("i", "we", "ill", "well", "he", "she")

    def _goes_on_with_goal(self, clause: Clause, items: list[Item], before: Clause) -> bool:
        """`I'm going to strip and repaint the door`: what is joined to a purpose is one, too."""
        first = next((i for i in items if i.verb is not None), None)
        if first is None or first.verb is None or not before.goal or clause.lead not in ("and", "or"):
            return False
        return first.start <= clause.start + 1 and first.verb.of == "base"

    def _guesses(self, clause: Clause) -> bool:
        first = tuple(t.text for t in self.tokens[clause.start : clause.start + 2])
        return first in (("could", "be"), ("might", "be"), ("may", "be")) or first[:1] in (("maybe",), ("perhaps",))

    def _only_tells(self, clause: Clause, items: list[Item]) -> None:
        """`new one is stainless, drop in, 33 by 22`: a word by itself where a thing is told of is no work."""
        first = items[0] if items else None
        if first is None or first.verb is None or clause.lead != "," or self.frames.sentence:
            return
        alone = first.start == clause.start and first.end == clause.stop
        weak = self.finder.is_weak(tuple(t.text for t in self.tokens[first.start : first.end]))
        tells = any(t.text in ("is", "are") for t in self.tokens[self.begin : clause.start])
        state = first.verb.of == "gerund" and first.start == clause.start  # `old and thick, chipping in places`
        if tells and ((alone and (weak or len(first.senses) > 1)) or (state and first.get("term", "condition"))):
            first.verb = None

    def _worked_on(self, group: list[Match], items: list[Item]) -> bool:
        """`sand the oak floor`: the thing of a verb, and not only what the room is told of."""
        first = group[0]
        if first.saying.sort != "room" or first.saying.attribute not in ("walls", "floor", "ceiling"):
            return False
        if first.value is None or first.value.start != first.start:
            return False
        at = first.start - 1
        while at > 0 and any(self.language.has(g, self.tokens[at].text) for g in ("articles", "adjectives")):
            at -= 1
        return any(i.verb is not None and i.verb.of in ("base", "gerund", "third") and i.end == at + 1 for i in items)

    @staticmethod
    def _names_a_part(group: list[Match], items: list[Item]) -> bool:
        """`the hall has wallpaper`: a thing of the room, not what is on a part, where no part is named before it."""
        value = group[0].value
        if (
            value is None
            or not value.get("part")
            or any(m.saying.attribute not in ("has", "coating", "material", "core") for m in group)
        ):
            return False
        return not any(i.get("part") and i.end <= group[0].start for i in items) and any(
            i.get("room") and i.end <= group[0].start for i in items
        )

    def _names_itself(self, group: list[Match], items: list[Item]) -> bool:
        """`run a 4 inch duct`: the duct is named, and the size is its own."""
        value = group[0].value
        if value is None and any(
            (i.start, i.end) == (group[0].start, group[0].end) and i.get("product") for i in items
        ):
            return True  # `stain blocker`: the product, of which its kind tells that
        last = next((i for i in items if i.end == group[0].end and i.get("part")), None)
        names = last is not None and value is not None and value.end <= last.start
        return names and all(m.saying.attribute in self.language.of_its_name for m in group)

    def _also_named(self, group: list[Match], items: list[Item]) -> set[int]:
        """`with 3 in screws`: what is said of the work names a thing besides."""
        value = group[0].value
        last = next((i for i in items if i.end == group[0].end and i.roles() & {"part", "product"}), None)
        names = last is not None and value is not None and value.end <= last.start
        if last is None or not names or not all(m.saying.attribute in self.language.names_besides for m in group):
            return set()
        return set(range(last.start, last.end))

    def _chosen(self, matches: list[Match], items: list[Item]) -> list[list[Match]]:
        """Sayings grouped by their words, the longest first, none over another."""
        groups: dict[tuple[int, int], list[Match]] = {}
        for match in matches:
            if match.saying.attribute == "windows" and match.value is not None and not self._of_a_room(match):
                continue  # `4 windows upstairs` are worked on
            if match.saying.attribute == "termination" and match.value is not None and match.value.get("part"):
                continue  # `a hole in the wall`: the wall itself
            groups.setdefault((match.start, match.end), []).append(match)
        found: list[list[Match]] = []
        taken: set[int] = set()
        for (start, end), group in sorted(groups.items(), key=lambda g: (g[0][0] - g[0][1], g[0])):
            places = set(range(start, end))
            cut = any(i.start in places and i.end > end and i.end - i.start > 1 and not i.amount for i in items) or any(
                i.start < start < i.end and i is not group[0].value for i in items
            )
            if places & taken or cut:
                continue
            taken |= places
            found.append(group)
        return sorted(found, key=lambda g: g[0].start)

    def _of_a_room(self, match: Match) -> bool:
        """Whether windows are counted to tell of a room: one is spoken of."""
        found = [self.lexicon.at(self.tokens, p, match.start) for p in range(self.begin, match.start)]
        return self.board.room is not None or any(s.role == "room" for one in found if one for s in one[1])
