"""Typed quantities: number words, fractions, feet and inches, ranges, decades, measures by measures, hedges."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from msgspec import Struct, field

from advisor.draft.tokens import Token, folded
from advisor.draft.turns import turns
from advisor.units import UNITS

_ONE = Fraction(1)
_TIGHT = frozenset({"a", "v", "w", "f", "c", "m", "l", "h", "g", "'", "’", "′", '"', "”", "″", "“"})
_BEHIND_INCHES = frozenset(
    ["wide", "long", "tall", "high", "thick", "deep", "by", "x", "diameter", "gap", "above", "of", "and"]
)
_FEET = frozenset(["ft", "foot", "feet"])
_NEVER = frozenset(["s", "d", "k", "c"])  # `2x4s` is no time
_TIMES = frozenset(["min", "h", "day", "week", "month"])
_SIGNS = {"'": "ft", "’": "ft", "′": "ft", '"': "in", "”": "in", "″": "in", "“": "in", "%": "%"}


class Amount(Struct, frozen=True):
    """A quantity of a text: tokens `start` to `end`, its value as a plan writes it, and what it may measure."""

    start: int
    end: int
    text: str  # as a plan writes it; '' where the words do not give it
    number: Fraction
    unit: str = ""
    dimensions: frozenset[str] = frozenset()
    sort: str = "number"  # number | measure | year | decade | range | pair | vague
    parts: tuple[Amount, ...] = ()  # of a range or a pair


class Measures(Struct):
    """Reads amounts; made once of `numbers.yaml` and the table of units."""

    words: dict[str, Fraction]
    scales: dict[str, Fraction]
    shares: dict[str, Fraction]
    decades: dict[str, int]
    vague: frozenset[str]
    pairs: frozenset[str]
    tokens_before: list[Token] = field(default_factory=list)  # of the text that is read
    units: dict[tuple[str, ...], str] = field(default_factory=dict)
    dimensions: dict[str, frozenset[str]] = field(default_factory=dict)

    @classmethod
    def made(cls, data: dict[str, Any]) -> Measures:
        """The reader for the words of `numbers.yaml`."""

        def figures(name: str) -> dict[str, Fraction]:
            return {word: Fraction(value) for word, value in data[name].items()}

        own = cls(
            figures("words"), figures("scales"), figures("shares"),
            {word: int(value) for word, value in data["decades"].items()},
            frozenset(data["vague"]), frozenset(data["pairs"]),
        )  # fmt: skip
        for dimension, rows in UNITS.items():
            for spelling in rows:
                if spelling and dimension not in ("number", "stiffness", "ppm", "surface_mass"):
                    own.dimensions[spelling] = own.dimensions.get(spelling, frozenset()) | {dimension}
                    own.units.setdefault(folded(spelling), spelling)
        for unit, spellings in data["units"].items():
            for spelling in spellings:
                own.units[folded(spelling)] = unit
        return own

    # --- numbers ------------------------------------------------------------------------------------------

    def number(self, tokens: list[Token], at: int) -> tuple[Fraction, int] | None:
        """The number that begins at a place, in figures or words, and where it ends."""
        if at >= len(tokens):
            return None
        token = tokens[at]
        if token.value is not None:
            value, end = token.value, at + 1
            if end < len(tokens) and tokens[end].text in self.scales:
                return value * self.scales[tokens[end].text], end + 1
            if end < len(tokens) and tokens[end].text == "k" and tokens[end].tight:
                return value * 1000, end + 1
            return self._and_share(tokens, value, end)
        return self._words(tokens, at)

    def _words(self, tokens: list[Token], at: int) -> tuple[Fraction, int] | None:
        total, group, end, seen = Fraction(0), Fraction(0), at, False
        following = tokens[at + 1].text if at + 1 < len(tokens) else ""
        if tokens[at].text == "a" and (following in self.scales or following == "dozen"):
            return self.scales.get(following, Fraction(12)), at + 2
        while end < len(tokens) and tokens[end].sort == "word":
            word = tokens[end].text
            if word in self.words:
                if seen and not (group % 100 >= 20 and group % 10 == 0 and self.words[word] < 10) and group % 100:
                    break
                group += self.words[word]
            elif word in self.scales and seen:
                scale = self.scales[word]
                total, group = (total + group * scale, Fraction(0)) if scale > 100 else (total, group * scale)
            else:
                break
            seen, end = True, end + 1
        if not seen:
            return self._share(tokens, at)
        if end < len(tokens) and tokens[end].text in self.shares and tokens[end].text != "half":
            return (total + group) * self.shares[tokens[end].text], end + 1  # three quarters
        return self._and_share(tokens, total + group, end)

    def _share(self, tokens: list[Token], at: int) -> tuple[Fraction, int] | None:
        """Half a quart, a quarter inch, a third: with the little word that stands there."""
        words = [t.text for t in tokens[at : at + 3]]
        if words and words[0] == "half":
            return self.shares["half"], at + (2 if words[1:2] in (["a"], ["an"]) else 1)
        if len(words) > 1 and words[0] == "a" and words[1] in self.shares:
            return self.shares[words[1]], at + 2 + (words[2:] == ["of"])
        if words and words[0] in self.shares and words[0] in ("quarter", "eighth", "sixteenth"):
            return self.shares[words[0]], at + 1
        return None

    def _and_share(self, tokens: list[Token], value: Fraction, end: int) -> tuple[Fraction, int]:
        """`three and a half`, `2 and 1/2`."""
        words = [t.text for t in tokens[end : end + 3]]
        if len(words) > 2 and words[0] == "and" and words[1] in ("a", "one") and words[2] in self.shares:
            return value + self.shares[words[2]], end + 3
        if len(words) > 1 and words[0] == "and" and words[1] in self.shares:
            return value + self.shares[words[1]], end + 2
        if words[:1] == ["and"] and end + 1 < len(tokens) and (other := tokens[end + 1].value) and other < 1:
            return value + other, end + 2
        return value, end

    # --- amounts ------------------------------------------------------------------------------------------

    def unit(self, tokens: list[Token], at: int) -> tuple[str, int] | None:
        """The unit that begins at a place, and where it ends."""
        if at >= len(tokens):
            return None
        token = tokens[at]
        if token.text in _SIGNS:
            return (_SIGNS[token.text], at + 1) if token.tight or token.text == "%" else None
        for length in (4, 3, 2, 1):
            words = tuple(t.text for t in tokens[at : at + length])
            unit = self.units.get(words) if len(words) == length else None
            if unit is None or words[0] in _NEVER or (words[0] in _TIGHT and not token.tight):
                continue
            if (
                words == ("in",)
                and not token.tight
                and not (self._is_inch(tokens, at) and tokens[at - 1].text != "one")
            ):
                continue
            return unit, at + length
        return None

    def _is_inch(self, tokens: list[Token], at: int) -> bool:
        following = tokens[at + 1] if at + 1 < len(tokens) else None
        if following is None or following.sort in ("mark", "break", "number") or following.text in _BEHIND_INCHES:
            return True
        digits = tokens[at - 1].sort == "number" and tokens[at - 1].text != "1"  # `18 in cabinet`
        return digits and following.sort == "word" and following.text not in turns("not behind inches")

    def amount(self, tokens: list[Token], at: int) -> Amount | None:
        """The longest amount that begins at a place."""
        self.tokens_before = tokens
        first = self._single(tokens, at)
        if first is None:
            return None
        end = first.end
        joint = tokens[end].text if end < len(tokens) else ""
        between = at > 0 and tokens[at - 1].text == "between" and joint == "and"
        if joint in ("to", "or", "–", "x", "by", "×") or between or self._dash(tokens, end):
            start = end + (0 if self._dash(tokens, end) else 1)
            other = self._single(tokens, start)
            if other is not None and other.sort in ("number", "measure") and first.sort in ("number", "measure"):
                pair = joint in ("x", "by", "×")
                if other.unit and not first.unit:
                    first = self.with_unit(first, other.unit)
                elif pair and first.unit and not other.unit:
                    feet = any(_SIGNS.get(t.text, t.text) in _FEET for t in tokens[first.start : first.end])
                    other = self.with_unit(other, "ft" if feet else first.unit)  # `10'6 x 9`
                if first.dimensions == other.dimensions and (pair or first.number < other.number):
                    return Amount(
                        first.start, other.end, "", first.number, first.unit, first.dimensions,
                        "pair" if pair else "range", (first, other),
                    )  # fmt: skip
        return first

    @staticmethod
    def _dash(tokens: list[Token], end: int) -> bool:
        """`2-3 hours`: the hyphen itself is no token."""
        if not 0 < end < len(tokens):
            return False
        before, here = tokens[end - 1], tokens[end]
        return before.sort == here.sort == "number" and here.start - before.end == 1

    def with_unit(self, amount: Amount, unit: str) -> Amount:
        """The same number in a unit."""
        return self._measure(amount.start, amount.end, amount.number, unit)

    def _single(self, tokens: list[Token], at: int) -> Amount | None:
        if at >= len(tokens):
            return None
        token = tokens[at]
        if token.sort == "decade":
            digits = "".join(filter(str.isdigit, token.text))
            year = int(digits) if len(digits) == 4 else 1900 + int(digits)
            return Amount(at, at + 1, f"{year}s", Fraction(year), sort="decade")
        if token.text in self.decades:
            year = 1900 + self.decades[token.text]
            return Amount(at, at + 1, f"{year}s", Fraction(year), sort="decade")
        if token.text == "$":
            found = self.number(tokens, at + 1)
            if found:
                return self._measure(at, found[1], found[0], "USD")
        if token.text in ("a", "an", "one") and (unit := self._named(tokens, at + 1)):
            if token.text != "one" and unit[0] in _TIMES and at and not self._lasts(tokens, at):
                return None  # `a cup a day`
            value, end = self._and_share(tokens, _ONE, unit[1])
            return self._measure(at, end, value, unit[0])
        near = [t.text for t in tokens[at + 1 : at + 3]]
        if token.text in ("a", "an", "another") and "coat" in near and at + 2 < len(tokens):
            return self._count(at, at + 1, _ONE)  # `a coat of stain`
        skip = 1 if token.text in ("a", "the") and at + 1 < len(tokens) else 0
        word = tokens[at + skip].text if at + skip < len(tokens) else ""
        if word in self.pairs or (word in self.vague and (word != "some")):
            end = at + skip + 1 + (at + skip + 1 < len(tokens) and tokens[at + skip + 1].text == "of")
            unit = self._named(tokens, end)
            if word in self.pairs:
                return self._measure(at, unit[1], Fraction(2), unit[0]) if unit else self._count(at, end, Fraction(2))
            if unit:
                return Amount(at, unit[1], "", Fraction(0), unit[0], self.dimensions.get(unit[0], frozenset()), "vague")
            return None
        found = self.number(tokens, at)
        if found is None:
            return None
        value, end = found
        if value < 1 and [t.text for t in tokens[end : end + 2]] in (["of", "an"], ["of", "a"], ["a"], ["an"]):
            named = self._named(tokens, end + 2)  # three quarters of an inch
            if named:
                return self._measure(at, named[1], value, named[0])
        unit = self.unit(tokens, end)
        if unit is None:
            return self._count(at, end, value, tokens[end].text if end < len(tokens) else "")
        value, end = self._feet_and_inches(tokens, value, *unit)
        return self._measure(at, end, value, "in" if value != found[0] and unit[0] in ("ft", "'") else unit[0])

    @staticmethod
    def _lasts(tokens: list[Token], at: int) -> bool:
        """Whether `a day` is how long something takes, not how often something is."""
        before = tokens[at - 1]
        return before.sort in ("mark", "break") or before.text in turns("lasting")

    def _named(self, tokens: list[Token], at: int) -> tuple[str, int] | None:
        unit = self.unit(tokens, at)
        return unit if unit and len(tokens[at].text) > 2 and tokens[at].sort == "word" else None

    def _feet_and_inches(self, tokens: list[Token], value: Fraction, unit: str, end: int) -> tuple[Fraction, int]:
        """`5 ft 6 in`, `5'6`, `8 foot 2`: in inches where there are any."""
        if unit in ("ft", "'"):
            start = end + (end < len(tokens) and tokens[end].text == "and")
            other = self.number(tokens, start)
            if other and other[0] < 12:
                small = self.unit(tokens, other[1])
                if (small and small[0] == "in") or (not small and start == end and tokens[start].sort == "number"):
                    return value * 12 + other[0], small[1] if small else other[1]
        share = self._and_share(tokens, value, end)
        return share if share[1] != end and unit in ("gal", "qt", "h", "day", "week", "in", "ft") else (value, end)

    def _measure(self, start: int, end: int, value: Fraction, unit: str) -> Amount:
        return Amount(start, end, written(value, unit), value, unit, self.dimensions.get(unit, frozenset()), "measure")

    def _two_digits(self, start: int, end: int, value: Fraction, following: str) -> bool:
        """`built in 61`: the year is told without its century."""
        if not 20 <= value <= 99 or value.denominator != 1 or start < 2 or end - start > 1 or not self.tokens_before:
            return False
        near = [t.text for t in self.tokens_before[start - 2 : start]]
        told = (["built"], ["installed"], ["back"], ["painted"], ["laid"])
        return (near[-1:] == ["in"] and near[:1] in told) or near[-1:] == ["built"]

    def _count(self, start: int, end: int, value: Fraction, following: str = "") -> Amount:
        if following in ("year", "years", "yr", "yrs"):
            return Amount(start, end + 1, "", value, sort="age")
        year = value.denominator == 1 and 1700 <= value <= 2035
        if self._two_digits(start, end, value, following):
            return Amount(start, end, f"19{int(value)}", 1900 + value, sort="year")
        return Amount(start, end, written(value, ""), value, sort="year" if year else "number")


def written(value: Fraction, unit: str) -> str:
    """A number with its unit as a plan writes it."""
    whole, rest = divmod(value, 1)
    if not rest:
        text = str(int(whole))
    elif rest.denominator in (2, 3, 4, 8, 16, 32, 64):
        text = f"{int(whole)}-{rest}" if whole else str(rest)
    else:
        text = f"{float(value):.4f}".rstrip("0")
    return f"{text} {unit}".strip()
