"""Where somebody who types without stops begins anew: `… is old we take it out the house is from 1962 no kids`."""

from __future__ import annotations

from advisor.draft.items import Item
from advisor.draft.language import Language
from advisor.draft.tokens import Token
from advisor.draft.turns import turns

_LEAST = 3  # words before a place at which somebody may begin anew


class Anew:
    """Judges the places of one stretch of a text."""

    def __init__(self, tokens: list[Token], items: list[Item], language: Language, stop: int, again: set[int]) -> None:
        self.tokens, self.language, self.stop = tokens, language, stop
        self.again = again
        self.begin = {item.start: item for item in items}
        self.verbs = {item.start for item in items if item.verb is not None}
        self.after_verb = {item.end for item in items if item.verb is not None}

    def begins(self, first: int, place: int) -> bool:
        """Whether a new clause begins at a place; the one before began at `first`."""
        if place - first >= 1 and self._order_words(place):
            return True
        if place - first < _LEAST or place in self.again or place - 1 in self.again:
            return False
        before, word = self.tokens[place - 1], self.tokens[place].text
        if (
            before.sort in ("mark", "break")
            or before.text in turns("binding")
            or (place in self.after_verb and word not in turns("persons"))
        ):
            return False
        if self.language.has("prepositions", before.text) and not self._ends_a_verb(place):
            return False
        follows = self.tokens[place + 1].text if place + 1 < self.stop else ""
        if word in ("it", "its", "they", "first", "next", "after", "also", "anyway"):
            return self._tells(first, place) and (word not in ("it", "they") or follows in turns("telling"))
        if word in ("only", "just") and place + 1 in self.verbs:
            return True  # `i dont touch the wiring only paint the ceiling`
        if word in ("i", "we") and any(p in self.verbs for p in range(first, place)):
            return True
        if word in turns("persons") or (word in ("my", "our") and self.language.has("people", follows)):
            return self._tells(first, place)
        return self._cue(place) or self._of_house(word, follows) or self._coats(place) or self._subject(first, place)

    def does(self, first: int, place: int) -> bool:
        """`dont know how old it is | we just pull it out`, `… are copper | the plumber moves it`."""
        if place - first < _LEAST or place in self.again:
            return False
        before = self.tokens[place - 1]
        bound = before.text in turns("binding") and before.text not in turns("ends a question")
        if before.sort in ("mark", "break") or bound or (place in self.begin and self.begin[place].verb is not None):
            return False
        if self.language.has("people", before.text) or self.language.has("articles", before.text):
            return False
        at = place
        if self.tokens[at].text not in turns("persons who do"):
            at += self.language.has("articles", self.tokens[at].text)
            who = self.begin.get(at)
            if who is None or not who.get("who") or (at == place and not self.tokens[at].capital):
                return False
            at = who.end - 1
        at += 1
        while at < self.stop and (
            self.language.has("adverbs", self.tokens[at].text) or self.tokens[at].text in turns("goes to")
        ):
            at += 1
        verb = self.begin.get(at)
        return verb is not None and verb.verb is not None and verb.verb.of in ("base", "third", "gerund")

    def _ends_a_verb(self, place: int) -> bool:
        """`… take the doors off we sand them`: a particle that belongs to its verb ends a clause."""
        return any(place - 1 in item.also or item.end == place for item in self.begin.values() if item.verb is not None)

    def _tells(self, first: int, place: int) -> bool:
        if any(
            tuple(t.text for t in self.tokens[place - n : place]) in self.language.words["unknown"] for n in (2, 3, 4)
        ):
            return True  # `i can't say | my daughter`
        return place - first >= 4 and any(
            p in self.verbs or self.tokens[p].text in turns("telling") or p in self.begin for p in range(first, place)
        )

    def _order_words(self, place: int) -> bool:
        return any(
            tuple(t.text for t in self.tokens[place : place + length]) in self.language.words[group]
            for group in ("before it", "after it")
            for length in (2, 3, 4)
        )

    def _cue(self, place: int) -> bool:
        """`dont know if it holds`, `no kids here`, `not tested`: how a clause is meant stands at its head."""
        word, item = self.tokens[place].text, self.begin.get(place)
        if item is not None and item.amount is not None and not item.amount.unit and item.end < self.stop:
            follows, pet = self.tokens[item.end].text, self.begin.get(item.end)
            if self.language.has("kids", follows) or (pet is not None and pet.get("term", "animal")):
                return True  # `… is old two kids 3 and 5`
        return word in turns("denials") or any(
            tuple(t.text for t in self.tokens[place : place + length]) in self.language.words["unknown"]
            for length in (2, 3, 4)
        )

    def _of_house(self, word: str, follows: str) -> bool:
        year = len(follows) in (4, 5) and follows[:2] in ("18", "19", "20") and follows[:4].isdigit()
        return self.language.has("house words", word) and (follows in turns("of a house") or year)

    def _coats(self, place: int) -> bool:
        item = self.begin.get(place)
        if item is None or item.amount is None or item.amount.unit or item.end >= self.stop:
            return False
        near = [t.text for t in self.tokens[item.end : item.end + 2]]
        return "coats" in near or near[:1] == ["coat"]

    def _subject(self, first: int, place: int) -> bool:
        """`the wall is drywall`, `walls are painted`: the name of a thing and a word that tells of it."""
        at, word = place, self.tokens[place].text
        if not self.language.has("articles", word) and self.language.has("adjectives", self.tokens[place - 1].text):
            return False
        while (
            at < self.stop
            and at - place < 4
            and at not in self.verbs
            and (
                self.language.has("articles", self.tokens[at].text)
                or self.language.has("adjectives", self.tokens[at].text)
                or ((item := self.begin.get(at)) is not None and item.amount is not None)
            )
        ):
            at = self.begin[at].end if at in self.begin else at + 1
        item = self.begin.get(at)
        while item is not None and item.verb is None and item.end in self.begin and self._named(self.begin[item.end]):
            item = self.begin[item.end]
        if item is None or item.verb is not None or not self._named(item):
            return False
        behind = self.tokens[item.end].text if item.end < self.stop else ""
        return behind in turns("telling") and self._tells(first, place)

    @staticmethod
    def _named(item: Item) -> bool:
        return bool(item.name) or bool(item.roles() & {"part", "product", "room", "who", "tool"})
