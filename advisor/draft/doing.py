"""The verbs of a clause made steps."""

from __future__ import annotations

import re

from advisor.draft.amounting import Amounting
from advisor.draft.board import Span, Thing
from advisor.draft.clauses import Clause
from advisor.draft.items import Item
from advisor.draft.mentions import Mention
from advisor.draft.rows import Rows
from advisor.draft.turns import turns


class Doing(Rows, Amounting):
    """Hears what is done."""

    def _steps(
        self, clause: Clause, verbs: list[Item], mentions: list[Mention], items: list[Item]
    ) -> list[tuple[Item, Thing]]:
        made: list[tuple[Item, Thing]] = []
        for number, item in enumerate(verbs):
            start = verbs[number - 1].end if number else clause.start
            stop = verbs[number + 1].start if number + 1 < len(verbs) else clause.stop
            span = self.span(item.start, item.end)
            for place in item.also:
                self.board.heard.append((self.span(place, place + 1), "words: part of the verb"))
            left = self._left_to_others(item, mentions)
            denied = clause.denied and not self._not_yet(item, clause)
            if left is None and (clause.unknown or (denied and item.start >= clause.denied_from)):
                if clause.denied:
                    self._not_mine(clause, item, mentions, stop)
                self.board.heard.append((span, "not to be done" if clause.denied else "unknown"))
                continue
            self.things.others = []
            to, held = self.things.objects(
                clause,
                item,
                mentions,
                start,
                stop,
                passive=self.frames.passive(item, clause) or (number == 0 and not self._follows(mentions, item, stop)),
            )
            cover = self._covers(item, stop)
            self._takes_out(item, stop, held)
            if self._empties(item, held):
                to = self._emptied(item, held)
            if not to and (self._handles(item, held) or self._says_nothing_alone(item, held)):
                continue
            if left is not None:
                to = left
            if to and self.ahead and clause.lead in (",", "and") and not self._follows(mentions, item, stop):
                to = [*(own for own in self.ahead if own not in to), *to]  # `fridge, stove and range get moved out`
            if not to and self._all_of_it(item):
                to = self.things.main(item.verb.name if item.verb else "")
            if not to and item.verb is not None and item.verb.name == "locate studs":
                to = self.things.walls()
            bare = not to
            inherited = False
            if (not to and self.things.inner(item)) or (item.verb is not None and item.verb.name == "empty"):
                pass
            elif (
                not to
                and self._inherits(item)
                and not self._unknown_object(item, stop, mentions)
                and not self._unknown_subject(item, clause, mentions)
                and not self.things.only_ends(item, mentions, stop)
                and not (self.frames.hangs(clause) and self.frames.told(item))
            ):
                to, self.things.others = self.things.inherited(item.verb.name if item.verb else "", item.start)
                inherited = True
            if left is None and not self._with_its_thing(item, to, held):
                continue
            over = self.frames.is_over(clause, item) and not (clause.denied and not denied)
            if over and self.tokens[clause.stop - 1].text == "before":
                self.board.heard.append((span, "done before: no work of this job"))
                continue  # `he has laid tile before`
            told_who = self._only_who(clause, item, mentions)
            count = len(self.board.steps)
            step = self.frames.step(clause, item, to, span, over=over, bare=bare, first=number == 0, told_who=told_who)
            if step is None:
                continue
            self.retold = self.begin if told_who and bare and len(self.board.steps) == count else self.retold
            step.bare = bare
            step.others = [*self.things.others, *(one for one in step.others if one not in self.things.others)]
            if inherited and to and "to" in step.facts and step.facts["to"].value == to:
                step.facts["to"].note = "inferred"
            step.moved = item.verb is not None and item.verb.of == "moved"
            made.append((item, step))
            self._take_away(step, to)
            for earlier, one in self.waiting if not bare else []:
                fits = all(
                    (t := self.board.named(own)) and self.things.likely.score(one.kind, t.kind) >= 0 for own in to
                )
                if one in self.board.steps and not one.drop and fits:
                    self.board.put(one, "to", to, self.span(earlier.start, earlier.end), over=True)
            behind = self.tokens[item.end].text if item.end < clause.stop else ","
            joins = item.end >= clause.stop or behind in (",", "and", "or", "then", "/")
            if (
                joins
                and (((bare and item.end == stop) and "to" not in step.facts) or inherited)
                and not self.things.inner(item)
                and not item.also  # `let it dry, take off the plates`: its thing stands within it
            ):
                self.waiting.append((item, step))
            elif not bare:
                self.waiting = []
            kept_clean = any(
                step.kind in self.board.vocabulary.taxonomies["action"].below(o) for o in ("protect", "mask")
            )
            passing = kept_clean or (self.board.last_to and (over or self.things.only_accessories(to)))
            if kept_clean:  # `cover the floor, then scrape it`: not the floor
                covered = [t for t in self.board.focus if t.id in to]
                for thing in covered:
                    thing.covered = True
                self.board.focus = [*(t for t in self.board.focus if t.id not in to), *covered]
            if to and not passing:
                self.board.last_to = to
                self.board.last_at = item.start
            self.things.equip(step, held, self.span, clause)
            if cover:
                self.board.put(step, "with", [cover], span)
            tool = next((m for m in held if m.sense.role == "tool" and item.also and m.end == item.also[0]), None)
            if tool is not None:  # `run the sander over the floor`
                self.board.put(step, "with", [tool.sense.name], self.span(tool.start, tool.end))
            self._besides(step, item, span)
            self._grit_behind(step, item, items)
            self._wet_or_dry(step, item, stop)
            self.things.embedded(step, item, self.span)
        if made:
            self.row_end = clause.stop
        return made

    def _not_yet(self, item: Item, clause: Clause) -> bool:
        """`the trim isn't painted yet`: it is to be; what is not tested or measured yet is only not known."""
        known = self.board.vocabulary.taxonomies["action"].below("inspect")
        last = self.tokens[clause.stop - 1].text
        return item.verb is not None and item.verb.of == "past" and item.verb.name not in known and last == "yet"

    def _only_who(self, clause: Clause, item: Item, mentions: list[Mention]) -> bool:
        """Whether somebody stands before a verb, and no word of order: it may only be told who does it."""
        words = {t.text for t in self.tokens[clause.start : clause.stop]}
        goes_on = self.retold == self.begin  # in this sentence that is all that is told
        if self.label and clause.lead in (":", ",", "and"):
            return True
        ordered = clause.lead == "then" or "after it" in clause.cues or words & turns("once more")
        if {"before it", "first"} & set(clause.cues) or (ordered and not goes_on):
            return False
        if goes_on and clause.lead in ("and", ",") and item.start == clause.start:
            return True  # `I sand and paint`
        before = self.tokens[item.start - 1].text if item.start > clause.start else ""
        return before in ("i", "we") or any(m.sense.role == "who" and m.end == item.start for m in mentions)

    def _all_of_it(self, item: Item) -> bool:
        """`stain the whole thing`, `vacuum all of it`: what the text is about."""
        words = tuple(t.text for t in self.tokens[item.end : item.end + 3])
        told = words in (("the", "whole", "thing"), ("all", "of", "it")) or words[:2] == ("it", "all")
        return told or words[:1] == ("everything",)

    def _coat_or_state(self, place: int, stop: int) -> bool:
        """`scrape the loose paint`: what is on the thing, which is the one worked on."""
        for at in range(place, min(stop, place + 3)):
            found = self.lexicon.at(self.tokens, at, stop)
            if found and any(s.role == "term" and s.of in ("coating", "condition") for s in found[1]):
                return True
            word = self.tokens[at].text
            if not (self.language.has("articles", word) or self.language.has("adjectives", word)):
                return False
        return False

    def _unknown_object(self, item: Item, stop: int, mentions: list[Mention]) -> bool:
        """`put up a fan rated box`: what it is done to is said, in words that are not understood."""
        words = [t.text for t in self.tokens[item.end : min(stop, item.end + 3)]]
        if not words or any(m.start <= item.end + 1 and m.end > item.end for m in mentions):
            return False
        if words[0] == "everything":
            return True
        if words[0] in turns("parts of something"):
            return True
        if self._coat_or_state(item.end, stop):
            return False
        if any(self.language.has("ails", word) for word in words[:2]):
            return False
        if self._unheard_of(item.end) and not words[0].endswith("ly"):
            self.strange = True
            return True
        if any(self.language.has("wholes", word) for word in words[1:]):
            return False
        if words[1:2] and words[1] in turns("pieces"):
            return False  # `screw in a piece of plywood`
        named = self.language.has("articles", words[0]) and len(words) > 1 and not self.language.has("little", words[1])
        return named and words[1] not in ("first", "last")

    def _unknown_subject(self, item: Item, clause: Clause, mentions: list[Mention]) -> bool:
        """`the pan gets pulled`: what it is done to stands before it, in words that are not understood."""
        if item.verb is None or not (item.verb.of == "moved" or self.frames.passive(item, clause)):
            return False
        first = next((p for p in range(item.start - 1, clause.start - 1, -1)
                      if self.language.has("articles", self.tokens[p].text)), None)  # fmt: skip
        if first is None or any(m.end > first and m.start < item.start for m in mentions):
            return False
        return any(self._unheard_of(p) for p in range(first + 1, item.start))

    def _grit_behind(self, step: Thing, item: Item, items: list[Item]) -> None:
        """`scuff sand 180`: the number behind a verb that abrades."""
        numbers: list[str] = []
        first = item.end + (item.end < len(self.tokens) and self.language.has("pronouns", self.tokens[item.end].text))
        last = first
        while last < min(len(self.tokens), first + 6):
            token = self.tokens[last]
            if token.sort == "number" and token.value is not None and token.value.denominator == 1:
                numbers.append(token.text)
            elif not numbers or token.text != "then":
                break
            last += 1
        if len(numbers) > 1 and step.kind in self.board.vocabulary.taxonomies["action"].below("abrade"):
            place = self.span(first, last)
            self.board.put(step, "grits", numbers, place)
            self.board.put(step, "grit", max(numbers, key=int), place)
            return
        row = next((t for t in self.tokens[item.end : item.end + 4] if re.fullmatch(r"\d+(?:/\d+)+", t.text)), None)
        if row is not None and step.kind in self.board.vocabulary.taxonomies["action"].below("abrade"):
            self.board.put(step, "grits", row.text.split("/"), (row.start, row.end))
            self.board.put(step, "grit", max(row.text.split("/"), key=int), (row.start, row.end))
        following = next((i for i in items if i.start == first), None)
        amount = following.amount if following else None
        abrades = step.kind in self.board.vocabulary.taxonomies["action"].below("abrade")
        if (
            following
            and amount
            and abrades
            and amount.sort == "number"
            and not amount.unit
            and 30 <= amount.number <= 3000
        ):
            self.board.put(step, "grit", amount.text, self.span(following.start, following.end))

    def _wet_or_dry(self, step: Thing, item: Item, stop: int) -> None:
        """`cut tile dry with a grinder`, `wet cut it`: how dust is made or kept down; `sand it when dry` is not."""
        taxonomy = self.board.vocabulary.taxonomies["action"]
        if not any(step.kind in taxonomy.below(one) for one in ("cut", "drill", "abrade") if one in taxonomy.terms):
            return
        places = [p for p in range(item.end, stop) if self._ends_there(p + 1, stop)]
        places += [item.start - 1] if item.start else []
        for place in places:
            before = self.tokens[place - 1].text if place else ""
            if self.tokens[place].text in ("wet", "dry") and not self.language.has("not how", before):
                said = "yes" if self.tokens[place].text == "wet" else "no"
                self.board.put(step, "wet", said, self.span(place, place + 1))
                return

    def _ends_there(self, place: int, stop: int) -> bool:
        """Whether what stands there belongs to no name: a stop, `with`, `in`."""
        return (
            place >= stop
            or self.tokens[place].sort == "mark"
            or self.language.has("prepositions", self.tokens[place].text)
        )

    @staticmethod
    def _somebody(items: list[Item], verb: Item) -> bool:
        """Whether a person who does it is named before a verb."""
        return any(i.get("who") and i.end <= verb.start and verb.start - i.end < 3 for i in items)

    def _grits(self, clause: Clause, items: list[Item], steps: list[tuple[Item, Thing]]) -> bool:
        """`36 grit, then 60, then 100`: numbers alone behind a grit go on with it; the finest counts."""
        step = self.board.steps[-1] if self.board.steps else None
        numbers = [i for i in items if i.amount is not None and i.amount.sort == "number" and not i.amount.unit]
        named = [i for i in items if i.get("attr") and self.tokens[i.start].text == "grit"]
        alone = numbers and len(numbers) + len(named) == len(items) and clause.lead in (",", "and", "then", "or")
        if not alone or step is None or "grit" not in step.facts or self.frames.last is not step:
            return False
        first = step.facts.get("grits") or step.facts["grit"]
        listed = list(first.value) if isinstance(first.value, list) else [str(first.value)]
        for item in numbers:
            assert item.amount is not None
            listed.append(item.amount.text)
            span = self.span(item.start, item.end)
            self.board.put(step, "grits", listed, span, over=True)
            self.board.put(step, "grit", max(listed, key=int), span, over=True)
        return True

    def _besides(self, step: Thing, item: Item, span: Span) -> None:
        """What a verb says besides: to steam wallpaper off is to remove it by steam."""
        words = tuple(t.text for t in self.tokens[item.start : item.end])
        for name, value in self.lexicon.extras.get((words, "action"), ()):
            known = self.board.vocabulary.attributes["step"].get(name)
            if known is not None and known.type != "ref":
                self.board.put(step, name, value, span)

    @staticmethod
    def _follows(mentions: list[Mention], item: Item, stop: int) -> bool:
        return any(item.end <= m.start < stop and m.sense.role == "part" for m in mentions)
