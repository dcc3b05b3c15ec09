"""Who has what, what was bought, headings of lists, and words that are names of things or people told before."""

from __future__ import annotations

from advisor.draft.board import Candidate, Unsure
from advisor.draft.clauses import Clause
from advisor.draft.hearing import Hearing
from advisor.draft.items import Item
from advisor.draft.lexicon import Sense
from advisor.draft.mentions import Mention
from advisor.draft.named import listed, may_be_name

_LISTING = frozenset({",", "and", ":", "-"})  # what may join the entries of a list


class Owning(Hearing):
    """Hears of what is owned and of names."""

    def _owns(self, clause: Clause, mentions: list[Mention], items: list[Item]) -> bool:
        """Things that somebody has or is to get: tools are the crew's, products are entries, no step is made."""
        tools = [m for m in mentions if m.sense.role == "tool"]
        if "owns" in clause.cues:
            told = clause.cues["owns"][-1][1]
            self.reach = next((i.start for i in items if i.verb is not None and i.start >= told), clause.stop)
            tools = [m for m in tools if m.start < self.reach]
        bare = not any(m.prep for m in tools)
        owning = "owns" in clause.cues and "not owned" not in clause.cues and not clause.denied
        carried = (
            self.owning and clause.lead in _LISTING and bare and "not owned" not in clause.cues and not clause.denied
        )
        if "wearing" in clause.cues and tools and self.board.steps:
            for mention in tools:
                self.board.put(
                    self.board.steps[-1], "wearing", [mention.sense.name], self.span(mention.start, mention.end)
                )
            self.owning = False
            return False
        if (owning or carried) and tools and bare and not clause.unknown:
            for mention in tools:
                self.board.put(
                    self.board.single("crew"), "owns", [mention.sense.name], self.span(mention.start, mention.end)
                )
            self.owning = True
            return True
        strange = clause.lead in _LISTING and not mentions and not any(i.verb for i in items)
        self.owning = self.owning and strange and not clause.denied  # `a saw set, knee pads`: the list goes on
        if "not owned" in clause.cues or clause.denied:
            self.board.heard.extend((self.span(m.start, m.end), "not there") for m in tools)
        return (
            "owns" in clause.cues
            and "future" not in clause.cues
            and any(m.sense.role in ("product", "tool") and m.start < self.reach for m in mentions)
        )

    def _bought(self, clause: Clause, mentions: list[Mention]) -> None:
        """`we bought two lights`: what was bought for the work is new."""
        if clause.denied or clause.unknown:
            return
        for begin, end in clause.cues.get("owns", ()):
            words = {t.text for t in self.tokens[begin:end]}
            bought = bool(words & {"bought", "ordered", "purchased", "buying", "picked"})
            if not bought and "got" not in words:
                continue
            if bought and not mentions and clause.lead == "," and self.told is not None:  # `a tee, bought`
                last = self.things.last_of(self.told)
                if last is not None and last.sort == "part":
                    self.board.put(last, "new", "yes", self.span(begin, end))
            for mention in mentions:
                thing = self.things.of(mention)
                close = mention.start >= end or mention.end == begin
                if thing is None or thing.sort != "part" or not close or mention.prep or mention.age:
                    continue
                if bought and not self.things.only_accessories([thing.id]):
                    thing.idle, thing.wanted = thing.idle or self.span(mention.start, mention.end), True
                if bought:
                    self.board.put(thing, "new", "yes", self.span(begin, end))
                elif "new" not in thing.facts:
                    ways = tuple(Candidate("part", thing.id, "new", answer) for answer in ("yes", "no"))
                    self.board.unsure.append(Unsure(self.span(mention.start, mention.end), ways, "is it new?"))

    def _heading(self, clause: Clause) -> bool:
        """`Tools: a saw, a drill`, `Steps:`: words that say what the list behind them is."""
        behind = self.tokens[clause.stop].text if clause.stop < len(self.tokens) else ""
        words = [t.text for t in self.tokens[clause.start : clause.stop]]
        if behind not in (":", "-", "–", "—") or len(words) > 4:
            return False
        groups = ("own headings", "step headings", "headings")
        found = [g for g in groups if any(self.language.has(g, word) for word in words)]
        if not found:
            return False
        self.board.heard.append((self.span(clause.start, clause.stop), "words: a heading"))
        self.owning = found[0] == "own headings"
        self.listing = self.listing or found[0] == "step headings"
        return all(self.language.has("little", w) or any(self.language.has(g, w) for g in groups) for w in words)

    def _named(self, item: Item, clause: Clause) -> bool:
        before = self.tokens[item.start - 1].text if item.start > clause.start else ""
        return not before or self.language.has("articles", before) or self.language.has("adjectives", before)

    def _words_of_names(self) -> dict[str, str]:
        """Words that stand in the name of just one thing so far, and name nothing by themselves."""
        found: dict[str, list[str]] = {}
        for thing in (t for sort in ("part", "product") for t in self.board.things[sort]):
            for word in thing.words.split()[:-1] if not thing.called else ():
                phrase = self.lexicon.phrases.get(word, {}).get((word,))
                if not phrase and len(word) > 3 and not listed(word, self.language):
                    found.setdefault(word, []).append(thing.id)
        for thing in self.board.things["part"]:
            for kind, pieces in self.language.pieces.items():
                if thing.kind in self.things.below("part", kind):
                    for word in pieces:
                        if not self.lexicon.phrases.get(word, {}).get((word,)):
                            found.setdefault(word, []).append(thing.id)
        return {word: own[0] for word, own in found.items() if len(set(own)) == 1}

    def _with_names(self, items: list[Item], start: int, stop: int) -> list[Item]:
        """`Theo cuts, I lay`: a name with a capital that does something, or is with somebody, is a person who helps."""
        taken = {p for i in items for p in range(i.start, i.end)}
        verbs = {i.start for i in items if i.verb is not None}
        third = {i.start for i in items if any(s.role == "action" and s.of == "third" for s in i.senses)}
        added = []
        for place in range(start, stop):
            token = self.tokens[place]
            known = token.text in self.names
            if place in taken or not (known or may_be_name(token, self.lexicon)):
                continue
            if known or place + 1 in verbs or place + 1 in third:
                self.names.add(token.text)
                if any(i.end == place and i.get("who") for i in items):
                    continue  # `my nephew gus` is one person
                added.append(Item(place, place + 1, (Sense("who", "helper"),)))
        return sorted([*items, *added], key=lambda i: i.start) if added else items
