"""Words that may be verbs and tell of no work: what falls by itself, what is only named."""

from __future__ import annotations

from advisor.draft.items import Item
from advisor.draft.lexicon import Lexicon
from advisor.draft.tokens import Token


class Happens:
    """Looks at the words around one that may be a verb."""

    def __init__(self, lexicon: Lexicon, tokens: list[Token]) -> None:
        self.lexicon = lexicon
        self.language = lexicon.language
        self.tokens = tokens

    def _only_named(self, item: Item, start: int, stop: int) -> bool:
        """`Drywall. There is one stud`: what something is made of, in a sentence of its own among longer ones."""
        if item.start != start or item.end != stop or not item.get("term", "material"):
            return False
        ends = [
            p for p in range(stop + 1, min(stop + 5, len(self.tokens))) if self.tokens[p].text in (".", "!", "?", "\n")
        ]
        return stop + 1 < len(self.tokens) and not ends and self.tokens[stop].text == "."

    def _happened(self, item: Item, start: int, stop: int) -> bool:
        """`the rod come down`, `the panels come down in the wind`: by itself, and nobody's work."""
        if not self.language.has("by itself", self.tokens[item.start].text) or item.start == start:
            return False
        behind = self.tokens[item.end : min(stop, item.end + 6)]
        words = [t.text for t in behind]
        for begin in range(len(words)):
            if any(tuple(words[begin : begin + n]) in self.language.words["happened by"] for n in (1, 2, 3)):
                return True
        before = self.tokens[item.start - 1]
        plain = before.sort == "word" and not before.text.endswith("s") and not self.language.has("little", before.text)
        of_several = item.start - 3 >= start and "of" in [t.text for t in self.tokens[item.start - 4 : item.start - 1]]
        heard = any(self.language.has(g, before.text) for g in ("before verbs", "adverbs", "pronouns"))
        return self.tokens[item.start].text == "come" and plain and not heard and not of_several

    def _one_of_two(self, item: Item, before: list[Item], start: int) -> bool:
        """`is it water or oil`: a name beside another one, where nothing is done so far."""
        beside = item.start - 1 > start and self.tokens[item.start - 1].text == "or"
        named = len(item.senses) > sum(s.role == "action" for s in item.senses)
        return beside and named and not any(i.verb is not None for i in before)

    def _doing_behind(self, place: int, stop: int) -> bool:
        """Whether the doing of something is named there: `do the painting`."""
        at = place + (place < stop and self.language.has("articles", self.tokens[place].text))
        rows = self.lexicon.at(self.tokens, at, stop) if at < stop else None
        return rows is not None and any(s.role == "action" and s.of == "gerund" for s in rows[1])
