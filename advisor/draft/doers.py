"""Who stands before a verb: one, or two who do it together."""

from __future__ import annotations

from advisor.draft.clauses import Clause
from advisor.draft.hearing import Hearing
from advisor.draft.items import Item
from advisor.draft.mentions import Mention


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
