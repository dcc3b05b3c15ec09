"""What stands in a text: amounts, verbs with their particles, names and values, sayings; each with its place."""

from __future__ import annotations

from advisor.draft.again import said_anew
from advisor.draft.items import Item, Match, fits
from advisor.draft.language import VALUE, Saying
from advisor.draft.lexicon import MAX_GAP, Lexicon, Sense
from advisor.draft.tokens import Token
from advisor.draft.unitless import give_units
from advisor.draft.verbs import Verbs

_GETS = frozenset({"get", "gets", "getting"})
_GOT = frozenset({"got", "gotten"})
_SLIP_LEAST, _SLIP_LONG = 5, 9
MOST_SLIPS = 60  # words of a text that are looked up as slips: each costs some time


class Finder(Verbs):
    """Finds the items of one text."""

    def __init__(self, lexicon: Lexicon, tokens: list[Token]) -> None:
        super().__init__(lexicon, tokens)
        self.slips = 0
        self.again: set[int] = set()  # words that take something back that was said anew
        self._words: list[str] | None = None

    def items(self, start: int, stop: int) -> list[Item]:
        """The items of a stretch of tokens, in order, none over another."""
        found: list[Item] = []
        place, taken = start, set[int]()  # particles that belong to a verb before them
        while place < stop:
            ahead = [p for p in found[-1].also if p > place] if found else []  # `take the drain | out`
            item = self._item(place, min([stop, *ahead])) if place not in taken else None
            if item is None or (found and self._put_there(found[-1], item)):
                place += 1
                continue
            taken.update(item.also)
            found.append(item)
            place = item.end
        give_units(found, self.tokens, self.language.measures, stop)
        for number, item in enumerate(found):
            self._take_for_verb(found, number, start, stop)
            if item.verb is None:
                item.senses = tuple(s for s in item.senses if s.role != "action")
                item.also = []
        found = [one for item in found for one in self._names_within(item)]
        found, places = said_anew(self.tokens, [i for i in found if i.senses or i.amount or i.name], self.language)
        self.again |= places
        return self._lower_rooms(found)

    def _lower_rooms(self, items: list[Item]) -> list[Item]:
        """`basement playroom` is a finished basement, `basement bathroom` is a bathroom."""
        found: list[Item] = []
        for item in items:
            outer = found[-1].get("room") if found and found[-1].end == item.start else None
            inner = item.get("room") if outer is not None else None
            is_lower = self.language.lower_rooms.get(outer.name) if outer is not None else None
            if is_lower and inner is not None and self._only_lived_in(inner.name):
                found[-1] = Item(found[-1].start, item.end, (Sense("room", is_lower),))
            else:
                found.append(item)
        return found

    def _only_lived_in(self, room: str) -> bool:
        kinds = self.lexicon.vocabulary.taxonomies["room_kind"]
        return room in kinds.below("living space") - kinds.below("wet room") - kinds.below("enclosed space")

    def _names_within(self, item: Item) -> list[Item]:
        """The names within words that were no verb here: `check the wires` in `a quick check the wires need`."""
        if item.senses or item.amount or item.name or item.verb is not None or item.end - item.start < 2:
            return [item]
        found, place = [], item.start
        while place < item.end:
            rows = self.lexicon.phrases.get(self.tokens[place].text, {})
            named = [
                (end, senses)
                for end in range(item.end, place, -1)
                if (senses := tuple(s for s in rows.get(self._text(place, end), ()) if s.role != "action"))
            ]
            if named:
                found.append(Item(place, *named[0]))
            place = named[0][0] if named else place + 1
        return found

    def _text(self, start: int, end: int) -> tuple[str, ...]:
        return tuple(token.text for token in self.tokens[start:end])

    @staticmethod
    def _put_there(before: Item, item: Item) -> bool:
        """`primer on the walls`: the walls it is put on, not how it is mounted."""
        mounts = item.roles() == {"term"} and all(s.of == "mount" for s in item.senses)
        return mounts and before.end == item.start and before.get("product") is not None and before.verb is None

    def _item(self, place: int, stop: int) -> Item | None:
        token = self.tokens[place]
        if token.sort == "name":
            return Item(place, place + 1, name=token.text)
        if token.sort in ("mark", "break") and token.text != "$" and "/" not in token.text[1:]:
            return None
        if (behind := self._somebodys_room(place, stop)) is not None:
            return Item(place, behind, (Sense("room", "bedroom"),))
        amount = self.language.measures.amount(self.tokens[:stop], place) if self._may_measure(place) else None
        phrase = self.lexicon.at(self.tokens, place, stop)
        if phrase and place + 1 < stop and self.language.has("articles", token.text):
            longer = self.lexicon.at(self.tokens, place + 1, stop)
            if longer and longer[0] > phrase[0]:
                return None  # `the supply lines`, where the list holds `the supply`
        if phrase and (amount is None or phrase[0] > amount.end):
            gap = self._gap(place, stop)
            if gap and phrase[0] == place + 1:  # `the drywall is up` may name it, too
                gap.senses = (*gap.senses, *(s for s in phrase[1] if s.role != "action"))
                return gap
            if phrase[0] > place + 1 and self._only_third(phrase[1]) and self._named_before(place):
                short = self.lexicon.at(self.tokens, place, place + 1)
                phrase = short or phrase  # `take the old switches out`
            if phrase[0] == place + 2 and self._named_before(place) and self._governs(place + 1, stop):
                phrase = self.lexicon.at(self.tokens, place, place + 1) or phrase  # `a plug in the garage`
            return Item(place, phrase[0], phrase[1])
        if amount is not None:
            return Item(place, amount.end, amount=amount)
        return self._gap(place, stop) or self._slip(place, stop)

    def _somebodys_room(self, place: int, stop: int) -> int | None:
        """`our room`, `Lily's room`, `the boys' room`: where somebody sleeps; the place behind it."""
        token, words = self.tokens[place], self._text(place + 1, min(stop, place + 3))
        owner = token.sort == "word" and token.text.endswith("s") and token.end - token.start > len(token.text)
        mine = token.text in self.language.places["whose room"]
        if (owner or mine) and words[:1] == ("room",):
            known = (token.text, "room") in self.lexicon.phrases.get(token.text, {})
            return None if known else place + 2
        plural = token.sort == "word" and token.text.endswith("s") and words in (("'", "room"), ("’", "room"))
        return place + 3 if plural else None

    @staticmethod
    def _only_third(senses: tuple[Sense, ...]) -> bool:
        return all(s.role == "action" and s.of == "third" for s in senses)

    def _named_before(self, place: int) -> bool:
        word = self.tokens[place - 1].text if place else ""
        return self.language.has("articles", word) or self.language.has("adjectives", word)

    def _may_measure(self, place: int) -> bool:
        token = self.tokens[place]
        return token.sort in ("number", "decade", "word") or token.text == "$"

    def _gap(self, place: int, stop: int) -> Item | None:
        """`take the doors off`: a verb whose particle stands further on, with nothing of a new clause between."""
        best: tuple[int, int, str, str] | None = None
        for rest, action, how in self.lexicon.gaps.get(self.tokens[place].text, ()):
            if how == "third" and not self._somebody_before(place):
                continue  # `he takes the doors off`, not `the lights over the table are on`
            if len(rest) > 3 or (
                len(rest) == 2 and rest[1] not in ("on", "in", "up", "off", "out", "down", "together", "water")
            ):
                continue
            for at in range(place + 2, min(place + 2 + MAX_GAP, stop - len(rest) + 1)):
                between = self.tokens[at - 1]
                if between.sort in ("mark", "break") or between.text in ("then", "but", "because", "with", "and"):
                    break
                if self.tokens[place].text in _GOT or (self.tokens[place].text in _GETS and not self._gets(place + 1)):
                    break
                if tuple(t.text for t in self.tokens[at : at + len(rest)]) == rest and not self._governs(
                    at + len(rest) - 1, stop
                ):
                    if best is None or len(rest) > best[1]:
                        best = (at, len(rest), action, how)
                    break
        if best is None:
            return None
        at, length, action, how = best
        return Item(place, place + 1, (Sense("action", action, how),), also=list(range(at, at + length)))

    def _gets(self, place: int) -> bool:
        """`get it up`, `get the mirror up`: a thing stands behind it."""
        word = self.tokens[place].text
        return any(self.language.has(g, word) for g in ("articles", "pronouns")) or word in ("old", "new")

    def _governs(self, place: int, stop: int) -> bool:
        """Whether a particle is a preposition here: `put the primer on the doors`, `cut a hole in drywall`."""
        if place + 1 < stop and self.tokens[place].text == "out" and self.tokens[place + 1].text == "of":
            named = self.lexicon.at(self.tokens, place + 2, stop) if place + 2 < stop else None
            return named is not None and any(s.of == "material" or s.name == "lumber" for s in named[1])
        if place + 1 < stop and self.tokens[place].text == "back":
            named = self.lexicon.at(self.tokens, place + 1, stop)
            return named is not None and any(s.role in ("part", "room") for s in named[1])  # `in the back door`
        if self.tokens[place].text not in ("on", "in", "over", "through") or place + 1 >= stop:
            return False
        following = self.tokens[place + 1].text
        named = self.lexicon.at(self.tokens, place + 1, stop)
        return self.language.has("articles", following) or (
            named is not None and any(s.role in ("part", "room", "product") for s in named[1])
        )

    def _slip(self, place: int, stop: int) -> Item | None:
        """A word that is a slip of one of the trade's; ordinary words and short ones never are."""
        token = self.tokens[place]
        word = token.text
        if token.sort != "word" or len(word) < _SLIP_LEAST or not word.isalpha() or self._known(word):
            return None
        self.slips += 1
        if self.slips > MOST_SLIPS:
            return None
        from rapidfuzz import process
        from rapidfuzz.distance import OSA

        allowed = 2 if len(word) >= _SLIP_LONG else 1
        if self._words is None:
            self._words = sorted(
                {w for rows in self.lexicon.phrases.values() for p in rows for w in p if len(w) >= _SLIP_LEAST}
            )
        near = process.extract(word, self._words, scorer=OSA.distance, score_cutoff=allowed, limit=3)
        near = [one for one in near if one[0][0] == word[0] or sorted(one[0]) == sorted(word)]
        # Fingers seldom slip at the end: `electrican` is no `electrical`.
        if len(near) > 1 and near[0][1] == near[1][1]:
            near = [one for one in near if one[1] == near[0][1] and one[0][-1] == word[-1]]
        if len(near) != 1 and (not near or near[0][1] == near[1][1]):
            return None
        meant = Token(near[0][0], token.start, token.end, "word", tight=token.tight, capital=token.capital)
        phrase = self.lexicon.at([*self.tokens[:place], meant, *self.tokens[place + 1 :]], place, stop)
        if phrase is None:
            return None
        self.tokens[place] = meant
        return Item(place, phrase[0], phrase[1], slip=True)

    def _known(self, word: str) -> bool:
        language = self.language
        stems = {word.removesuffix(end) for end in ("s", "es", "ed", "d", "ing")}
        return (
            bool(stems & language.ordinary)
            or language.has("little", word)
            or any((word,) in group for group in language.words.values())
        )

    def sayings(self, items: list[Item], start: int, stop: int) -> list[Match]:
        """The sayings of a stretch, the longest first where they overlap."""
        begins = {item.start: item for item in items}
        ends = {item.end: item for item in items}
        found: list[Match] = []
        for place in range(start, stop):
            for saying in self.lexicon.sayings.get(self.tokens[place].text, ()):
                anchor = next(n for n, word in enumerate(saying.words) if word != VALUE)
                first, value = place, None
                if anchor:
                    value = ends.get(place)
                    if value is None or not self._fits(saying, value):
                        continue
                    first = value.start
                match = self._rest(saying, anchor, place, value, begins, stop)
                if match is not None:
                    found.append(Match(saying, first, match[0], match[1]))
        return found

    def _rest(
        self, saying: Saying, anchor: int, place: int, value: Item | None, begins: dict[int, Item], stop: int
    ) -> tuple[int, Item | None] | None:
        for word in saying.words[anchor:]:
            while place < stop and place in self.again and place not in begins:
                place += 1  # `the house is 1924 no 1922`
            if word != VALUE:
                if place >= stop or self.tokens[place].text != word:
                    return None
                place += 1
                continue
            while place < stop and self.tokens[place].text in (
                "a",
                "an",
                "the",
                "about",
                "around",
                "some",
                "old",
                "maybe",
                "roughly",
                "my",
                "like",
            ):
                if place in begins:
                    break
                place += 1
            value = begins.get(place)
            if value is None or not self._fits(saying, value):
                return None
            place = value.end
        return place, value

    def _fits(self, saying: Saying, item: Item) -> bool:
        attribute = self.lexicon.vocabulary.attributes.get(saying.sort, {}).get(saying.attribute)
        return attribute is not None and fits(attribute.type, attribute.of, item)
