"""What stands in a text: amounts, verbs with their particles, names of things and values, sayings; each with its place."""

from __future__ import annotations

from dataclasses import dataclass, field

from advisor.draft.language import VALUE, Saying
from advisor.draft.lexicon import MAX_GAP, Lexicon, Sense
from advisor.draft.numbers import Amount
from advisor.draft.tokens import Token

_SLIP_LEAST, _SLIP_LONG = 5, 8
MOST_SLIPS = 60  # words of a text that are looked up as slips: each costs some time


@dataclass(slots=True)
class Item:
    """A piece with its possible meanings. `verb` is set where it is taken for doing something."""

    start: int
    end: int
    senses: tuple[Sense, ...] = ()
    amount: Amount | None = None
    name: str = ""  # words in quotation marks: the name of a thing
    verb: Sense | None = None
    also: list[int] = field(default_factory=list)  # places of the verb's particle, further on
    slip: bool = False

    def roles(self) -> frozenset[str]:
        """The sorts of meaning that it has."""
        return frozenset(sense.role for sense in self.senses)

    def get(self, role: str, of: str = "") -> Sense | None:
        """Its first meaning of a sort."""
        return next((s for s in self.senses if s.role == role and (not of or s.of == of)), None)


@dataclass(frozen=True, slots=True)
class Match:
    """A saying that was found: tokens `start` to `end`, its value among the items where it has one."""

    saying: Saying
    start: int
    end: int
    value: Item | None


class Finder:
    """Finds the items of one text."""

    def __init__(self, lexicon: Lexicon, tokens: list[Token]) -> None:
        self.lexicon = lexicon
        self.language = lexicon.language
        self.tokens = tokens
        self.slips = 0
        self._words: list[str] | None = None

    def items(self, start: int, stop: int) -> list[Item]:
        """The items of a stretch of tokens, in order, none over another."""
        found: list[Item] = []
        place, taken = start, set[int]()
        while place < stop:
            item = self._item(place, stop) if place not in taken else None
            if item is None:
                place += 1
                continue
            taken.update(item.also)
            found.append(item)
            place = item.end
        for number, item in enumerate(found):
            self._take_for_verb(found, number, start, stop)
            if item.verb is None:
                item.senses = tuple(s for s in item.senses if s.role != "action")
        return [item for item in found if item.senses or item.amount or item.name]

    def _item(self, place: int, stop: int) -> Item | None:
        token = self.tokens[place]
        if token.sort == "name":
            return Item(place, place + 1, name=token.text)
        if token.sort in ("mark", "break") and token.text != "$":
            return None
        amount = self.language.measures.amount(self.tokens[:stop], place) if self._may_measure(place) else None
        phrase = self.lexicon.at(self.tokens, place, stop)
        if phrase and (amount is None or phrase[0] > amount.end):
            gap = self._gap(place, stop)
            if gap and phrase[0] == place + 1:
                return gap
            return Item(place, phrase[0], phrase[1])
        if amount is not None:
            return Item(place, amount.end, amount=amount)
        return self._gap(place, stop) or self._slip(place, stop)

    def _may_measure(self, place: int) -> bool:
        token = self.tokens[place]
        return token.sort in ("number", "decade", "word") or token.text == "$"

    def _gap(self, place: int, stop: int) -> Item | None:
        """`take the doors off`: a verb whose particle stands further on, with nothing of a new clause between."""
        best: tuple[int, int, str, str] | None = None
        for rest, action, how in self.lexicon.gaps.get(self.tokens[place].text, ()):
            if len(rest) > 2 or (
                len(rest) == 2 and rest[1] not in ("on", "in", "up", "off", "out", "down", "together")
            ):
                continue
            for at in range(place + 2, min(place + 2 + MAX_GAP, stop - len(rest) + 1)):
                between = self.tokens[at - 1]
                if between.sort in ("mark", "break") or between.text in ("then", "but", "because", "with", "and"):
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

    def _governs(self, place: int, stop: int) -> bool:
        """Whether a particle is a preposition here: `put the primer on the doors`."""
        following = self.tokens[place + 1].text if place + 1 < stop else ""
        return self.tokens[place].text in ("on", "in", "over", "through") and self.language.has("articles", following)

    # --- verbs --------------------------------------------------------------------------------------------

    def _take_for_verb(self, found: list[Item], number: int, start: int, stop: int) -> None:
        item = found[number]
        senses = [s for s in item.senses if s.role == "action"]
        if not senses:
            return
        words = tuple(t.text for t in self.tokens[item.start : item.end])
        sense = senses[0]
        if self._is_in(words, "never"):
            return
        score = 0.0 if len(senses) < len(item.senses) or self._is_in(words, "weak") else 1.5
        before = self._before(item, start, sense.of)
        pure = len(senses) == len(item.senses) and not self._is_in(words, "weak")
        score += (max(before, -1.0) if pure else before) + self._after(item, found, number, stop, sense.of)
        if item.also or item.end - item.start > 1:
            score += 1.0 if len(senses) == len(item.senses) or item.also else 0.4
        if score >= 1.0:
            item.verb = sense

    def _is_in(self, words: tuple[str, ...], group: str) -> bool:
        listed = getattr(self.language, group)
        if words in listed:
            return True
        first = self.lexicon.phrases.get(words[0], {}).get(words, ())
        names = {s.name for s in first if s.role == "action"}
        return len(words) == 1 and any((name,) in listed for name in names if words[0].startswith(name[:3]))

    def _before(self, item: Item, start: int, how: str) -> float:
        language, at = self.language, item.start - 1
        while at >= start and language.has("adverbs", self.tokens[at].text):
            at -= 1
        if (
            at > start
            and self.tokens[at].text in ("that", "this")
            and self.tokens[at - 1].text in ("before", "after", "to")
        ):
            at = start - 1  # `before that`: what follows begins anew
        if at >= start and (self.tokens[at].sort == "number" or (self.tokens[at].tight and self.tokens[at].text in "\"”″'’′")):
            return -2.0 if how in ("base", "third") else 0.0
        if at < start or self.tokens[at].sort in ("mark", "break"):
            return {"base": 1.5, "gerund": 1.0, "past": 0.5, "third": -1.0}[how]
        word = self.tokens[at].text
        if (
            how == "gerund"
            and word in ("the", "all", "any")
            and at > start
            and self.tokens[at - 1].text in ("do", "does", "doing", "did", "done")
        ):
            return 2.5
        if word in ("and", "or", ",") and how == "base" and self._after_a_noun(at, start) and self._ends(item.end):
            return -1.0
        if how == "past" and word in ("need", "needs", "needing"):
            return 2.5
        if language.has("before nouns", word):
            return {"base": -3.0, "gerund": -0.5, "past": -0.5, "third": -3.0}[how] + (
                2.0 if word in ("by", "for", "is", "are") and how in ("gerund", "past") else 0
            )
        if language.has("before verbs", word):
            return {"base": 2.0, "gerund": 1.0, "past": 1.0, "third": -0.5}[how]
        if word in (
            "be",
            "get",
            "gets",
            "getting",
            "been",
            "got",
            "was",
            "were",
            "start",
            "before",
            "after",
            "when",
            "once",
            "keep",
            "finish",
            "done",
        ):
            return {"base": 0.0, "gerund": 1.5, "past": 1.5, "third": -1.0}[how]
        return {"base": -0.4, "gerund": 0.5, "past": 0.2, "third": -1.5}[how]

    def _after_a_noun(self, at: int, start: int) -> bool:
        """Whether the word before a joint is the name of a thing: `the faucet and drain`."""
        if at - 1 < start:
            return False
        rows = self.lexicon.phrases.get(self.tokens[at - 1].text, {}).get((self.tokens[at - 1].text,), ())
        return bool(rows) and all(s.role != "action" for s in rows) and any(s.role in ("part", "product", "tool") for s in rows)

    def _ends(self, place: int) -> bool:
        return place >= len(self.tokens) or self.tokens[place].sort in ("mark", "break") or self.tokens[place].text in ("and", "then")

    def _after(self, item: Item, found: list[Item], number: int, stop: int, how: str) -> float:
        if item.end >= stop:
            return 0.0
        token = self.tokens[item.end]
        if self.language.has("articles", token.text) or self.language.has("pronouns", token.text):
            return 1.5
        if how == "past" and token.text == "with":
            return 0.6
        if token.text in ("type", "kind", "style", "model", "version"):
            return -3.0
        if token.text in ("is", "are", "was", "were", "has", "that", "on", "of"):
            return -1.5 if how != "gerund" else -0.5
        following = found[number + 1] if number + 1 < len(found) else None
        if (
            following
            and following.start == item.end
            and following.roles() & {"part"}
            and "action" not in following.roles()
        ):
            return 0.8
        return 0.0

    # --- slips --------------------------------------------------------------------------------------------

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
        if not near or (len(near) > 1 and near[0][1] == near[1][1]):
            return None
        meant = Token(near[0][0], token.start, token.end, "word", tight=token.tight)
        phrase = self.lexicon.at([*self.tokens[:place], meant, *self.tokens[place + 1 :]], place, stop)
        if phrase is None:
            return None
        self.tokens[place] = meant
        return Item(place, phrase[0], phrase[1], slip=True)

    def _known(self, word: str) -> bool:
        language = self.language
        return (
            word in language.ordinary
            or language.has("little", word)
            or any((word,) in group for group in language.words.values())
        )

    # --- sayings ------------------------------------------------------------------------------------------

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


def fits(kind: str, of: str, item: Item) -> bool:
    """Whether an item may be a value of an attribute of that type."""
    amount = item.amount
    if amount is not None:
        if kind == "year":
            return amount.sort in ("year", "decade") or (amount.sort == "range" and amount.parts[0].sort == "year")
        if kind == "count":
            return amount.sort in ("number", "year", "range") and not amount.unit and amount.number.denominator == 1
        if kind == "yes_no":
            return False
        if amount.sort == "pair":
            return False
        return kind in amount.dimensions
    return (
        kind == "term"
        and item.get("term" if of not in ("tool", "who") else of, of if of not in ("tool", "who") else "") is not None
    )
