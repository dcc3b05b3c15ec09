"""Who stands before a verb: one, or two who do it together."""

from __future__ import annotations

from advisor.draft.clauses import Clause
from advisor.draft.hearing import Hearing
from advisor.draft.items import Item
from advisor.draft.mentions import Mention

_NEAR = 4  # words between who helps and the verb


class Doers(Hearing):
    """Finds those who do a step."""

    def _stands_before(self, who: Mention, item: Item) -> bool:
        """`my brother in law ray is gonna hold it`: little words and names may stand between."""
        between = [t.text for t in self.tokens[who.end : item.start]]
        heard = [w for w in between if w not in self.finder.names and not self.language.has("will do", w)]
        return who.end <= item.start and len(heard) < 3 and len(between) < 7

    def _both_do(self, item: Item, clause: Clause) -> int | None:
        """Where `me and my buddy carl from the depot` stands, who are both hanging it; None where one alone does it."""
        for place in range(item.start - 4, clause.start - 1, -1):
            if self.language.has("alone before verbs", self.tokens[place + 3].text):
                return None
            words = [t.text for t in self.tokens[place : place + 2]]
            if words in (["me", "and"], ["myself", "and"]):
                return place
        return None

    def _doers(self, item: Item, mentions: list[Mention], clause: Clause) -> list[int]:
        """The places of those who do it together: `my brother and I carry it`."""
        found: list[int] = []
        place = item.start - 1
        while place >= clause.start:
            who = next((m for m in mentions if m.sense.role == "who" and m.start <= place < m.end), None)
            if who is not None:
                if not (found and who.end == found[0]):  # `my neighbor Greg` is one
                    found.insert(0, who.start)
                place = who.start - 1
            elif self.tokens[place].text in ("i", "me"):
                found.insert(0, place)
                place -= 1
            elif self.tokens[place].text in ("and", "with", "will", "my", "his", "her", "our", "the"):
                place -= 1
            else:
                break
        return found

    def _together(self, item: Item, clause: Clause, mentions: list[Mention], stop: int) -> tuple[int, int, int] | None:
        """`pull it out with two friends`, `my dad helps me lift it`, `two of us hang it`: how many, and where.

        `stop` is where the next step of the clause begins.
        """
        helpers = [m for m in mentions if m.sense.role == "who" and m.sense.name == "helper"]
        for who in helpers:
            many = next((i.amount for i in who.before if i.amount is not None), None)
            several = who.words.endswith("s") and many is None
            if who.prep == "with" and item.end <= who.start < stop and not several:
                return 1 + (int(many.number) if many is not None else 1), who.start - 1, who.end
            helps = [p for p in range(who.end, item.start) if self.language.has("helps", self.tokens[p].text)]
            if helps and item.start - who.end <= _NEAR and many is None and not several:
                return 2, who.start, item.start
        for place in range(max(clause.start, item.start - _NEAR), item.start):
            words = tuple(t.text for t in self.tokens[place : item.start])
            number = self.tokens[place].value or self.language.measures.number(self.tokens[:stop], place)
            if words[1:] in (("of", "us"), ("people",), ("guys",)) and number is not None:
                many_of_us = number if not isinstance(number, tuple) else number[0]
                return int(many_of_us), place, item.start
        return None

    def _told_in_brackets(self, clause: Clause) -> None:
        """`lift it off (me and my son)`: who does the step before."""
        last = self.frames.last
        if clause.lead != "(" or last is None or last not in self.frames.sentence or "people" in last.facts:
            return
        words = [t.text for t in self.tokens[clause.start : clause.start + 3]]
        if words[:2] in (["me", "and"], ["myself", "and"]) and self.language.has("articles", words[-1]):
            self.board.put(last, "people", "2", self.span(clause.start, clause.start + 3))
