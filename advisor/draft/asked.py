"""What is only asked: the things that are there whatever the answer is, and what is asked and not known."""

from __future__ import annotations

from advisor.draft.clauses import Clause, find
from advisor.draft.hearing import Hearing
from advisor.draft.items import Item
from advisor.draft.mentions import Mention
from advisor.draft.turns import turns


class AskedOf(Hearing):
    """Hears questions."""

    def _named_in_passing(self, clause: Clause, items: list[Item]) -> None:
        """`is the wall behind it rotten?`: what is asked of is there, and no more is said of it."""
        for item in items:
            item.verb = None
        mentions = self.namer.mentions(clause, items, set(), set(), {})
        there = [
            m for m in mentions if m.sense.role == "part" and (self.things.definite(m) or self._told_of(m, clause))
        ]
        self.things.resolve(clause, there, items, self.span, unknown=True)

    def _told_of(self, mention: Mention, clause: Clause) -> bool:
        """`is wall behind it rotten`, `drain pipe is lead?`: in short notes it is there without its article."""
        before = self.tokens[mention.start - 1].text if mention.start > clause.start else ""
        behind = self.tokens[mention.end].text if mention.end < clause.stop else ""
        return (mention.start == clause.start and behind in turns("copulas")) or (
            before in turns("copulas") and mention.start - 1 == clause.start
        )

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

    def _only_unknown(self, clause: Clause) -> bool:
        places = find(self.tokens, clause.start, clause.stop, self.language.words["unknown"])
        return bool(places) and clause.stop - clause.start <= 6 and places[0][0] - clause.start <= 1
