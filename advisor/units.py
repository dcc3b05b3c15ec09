"""Quantities: a number with a unit, read from text and converted.

Inside the program every quantity is a plain float in one unit per dimension (SI, with a few trade
exceptions named in `DIMENSIONS`). Conversion is done in exact fractions and rounded once, so that
`6 ft` and `72 in` are the same float. The factors are checked against `pint` in the tests; pint itself
is not used at run time because importing it costs more than half of the time a review may take.
"""

from __future__ import annotations

import re
from fractions import Fraction as F
from functools import lru_cache

from msgspec import Struct

from advisor import later
from advisor.unit_table import BARE_ALLOWED, CURRENCIES, DIMENSIONS, UNITS

__all__ = [
    "BARE_ALLOWED",
    "DIMENSIONS",
    "UNITS",
    "BadQuantity",
    "Quantity",
    "currency",
    "from_base",
    "noun",
    "read_number",
    "read_quantity",
    "to_base",
]


class BadQuantity(ValueError):
    """Text that is not a quantity of the wanted dimension; the message says what was expected."""


class Quantity(Struct, frozen=True):
    """A float in the base unit of its dimension (see `DIMENSIONS`)."""

    si: float
    dimension: str

    def to(self, unit: str) -> float:
        """The number of `unit` that this quantity is; KeyError for a unit of another dimension."""
        return from_base(self.si, unit, self.dimension)

    def __repr__(self) -> str:
        return f"{self.si!r} {DIMENSIONS[self.dimension][0]}".strip()


def to_base(number: float | F, unit: str, dimension: str) -> float:
    """`number` of `unit` as a float in the base unit of `dimension`."""
    _, factor, offset = UNITS[dimension][unit]
    return float(F(number) * factor + offset)


def from_base(value: float, unit: str, dimension: str) -> float:
    """A base-unit float as a number of `unit`."""
    _, factor, offset = UNITS[dimension][unit]
    if offset:
        return float((F(value) - offset) / factor)
    return float(F(value) / factor)


_NUMBER = r"(?:\d[\d,]*\.\d+|\.\d+|\d[\d,]*)(?:[eE][+-]?\d{1,3})?"
_MIXED = rf"(?:\d+[- ]\d+/\d+|\d+/\d+|{_NUMBER})"
_TERM = re.compile(rf"\s*({_MIXED})\s*([^\d\s,.+-][^\s\d-]*(?:[23](?:/\w+)?)?|/min|%|\"|')?\s*(?:-(?=\d))?")
_MAX_LENGTH = 60
_SIGNS = tuple(word for words in CURRENCIES.values() for word in words.split() if len(word) == 1)
_THOUSANDS = later.pattern(r"^\d{1,3}(?:\.\d{3})+(?![\d.])")  # no money has thousandths
# `sq ft`, `square feet`, `cu. in`: squares and cubes in two words, as people write them.
_POWER = later.pattern(
    r"\b(sq|square|cu|cubic)\.?[ -]*(ft|feet|foot|in|inch|inches|yd|yards?|m|meters?|metres?)\b\.?", re.IGNORECASE
)
_IN_TWO_WORDS = (
    ("fl", later.pattern(r"\b(?:fl|fluid)\.?[ -]*(?:oz|ounces?)\b\.?", re.IGNORECASE), "floz"),
    ("deg", later.pattern(r"\bdeg(?:rees?)?\.? *([FC])(?:ahrenheit|elsius|entigrade)?\b", re.IGNORECASE), r"°\1"),
)


def read_number(text: str) -> F:
    """`1-1/4`, `3/8`, `1,800`, `.5`, `13` as an exact fraction; BadQuantity otherwise."""
    text = text.strip().replace(",", "")
    sign = 1
    if text[:1] in "+-−":
        sign = -1 if text[0] != "+" else 1
        text = text[1:].strip()
    if len(text) > _MAX_LENGTH or not re.fullmatch(_MIXED, text):
        raise BadQuantity(f"'{text[:40]}' is not a number")
    try:
        if "/" in text:
            whole, _, rest = text.replace(" ", "-").rpartition("-")
            value = F(rest) + (F(whole) if whole else 0)
        else:
            value = F(text)
    except (ValueError, ZeroDivisionError) as error:
        raise BadQuantity(f"'{text[:40]}' is not a number") from error
    return sign * value


@lru_cache(maxsize=8192)
def read_quantity(text: str, dimension: str) -> Quantity:
    """Text such as `13 ft 6 in` as a Quantity of `dimension`; BadQuantity says what was expected."""
    example = DIMENSIONS[dimension][3]
    wanted = f"Expected {noun(dimension)}, such as '{example}'"
    body = text.strip()
    sign = 1
    if body[:1] in ("-", "−"):
        sign, body = -1, body[1:]
    if not body or len(body) > _MAX_LENGTH:
        raise BadQuantity(f"{wanted}.")
    if dimension == "money" and body[:1] in _SIGNS:
        body = f"{body[1:].strip()} {body[0]}"
    if dimension == "money":
        body = _THOUSANDS.sub(lambda found: found[0].replace(".", ""), body)  # `2.300 EUR`, as many countries write it
    folded = body.casefold()
    if "sq" in folded or "cu" in folded:
        body = _POWER.sub(_power, body)
    for start, words, unit in _IN_TWO_WORDS:
        if start in folded:
            body = words.sub(unit, body)
    total, position, terms = F(0), 0, 0
    units = UNITS[dimension]
    while position < len(body):
        match = _TERM.match(body, position)
        if not match or match.end() == position:
            raise BadQuantity(f"{wanted}.")
        number, unit = match.group(1), match.group(2) or ""
        if unit not in units and len(unit) > 1:
            plain = unit.rstrip(".")  # `ft.`, `Quart`, `LBS`; single letters keep their case
            unit = plain if plain in units else plain.lower() if plain.lower() in units else unit
        if unit not in units:
            if unit == "" and dimension in BARE_ALLOWED:
                unit = DIMENSIONS[dimension][1]
            elif unit == "":
                raise BadQuantity(f"{wanted}: a number needs its unit.")
            else:
                other = [d for d, rows in UNITS.items() if unit in rows]
                kind = f" '{unit}' is a unit of {noun(other[0])}." if other else f" '{unit}' is not a known unit."
                kind = f" {', '.join(CURRENCIES)} are taken; nothing is converted." if dimension == "money" else kind
                raise BadQuantity(f"{wanted}.{kind}")
        _, factor, offset = units[unit]
        total += read_number(number) * factor + offset
        terms += 1
        position = match.end()
    if terms > 1 and dimension in ("temperature", "fraction", "moisture", "sound_level", "money"):
        raise BadQuantity(f"{wanted}.")
    try:
        value = float(sign * total if dimension != "temperature" or sign == 1 else _below_zero(body))
    except OverflowError as error:
        raise BadQuantity(f"{wanted}; that number is too large.") from error
    if abs(value) > 1e15:
        raise BadQuantity(f"{wanted}; that number is too large.")
    return Quantity(value, dimension)


def currency(text: str) -> str:
    """The money of an amount that `read_quantity` takes, by ISO 4217, such as EUR."""
    unit = re.sub(r"[^A-Za-z$€£]", "", text)
    return _MONEY_OF.get(unit) or _MONEY_OF.get(unit.lower(), DIMENSIONS["money"][0])


_MONEY_OF = {word: money for money, words in CURRENCIES.items() for word in words.split()}


def _power(match: re.Match[str]) -> str:
    """`sq ft` as `ft2`."""
    root = {"f": "ft", "i": "in", "y": "yd", "m": "m"}[match[2][0].lower()]
    return root + ("2" if match[1][0].lower() == "s" else "3")


def _below_zero(body: str) -> F:
    match = _TERM.match(body)
    assert match
    _, factor, offset = UNITS["temperature"][match.group(2) or "K"]
    return -read_number(match.group(1)) * factor + offset


_NOUNS = {
    "length": "a length",
    "area": "an area",
    "volume": "a volume",
    "liquid": "an amount of liquid",
    "box_volume": "a box volume",
    "mass": "a weight",
    "time": "a time with a unit",
    "temperature": "a temperature",
    "temperature_step": "a difference of temperature",
    "airflow": "an air flow",
    "fraction": "a percentage",
    "moisture": "a moisture content in percent",
    "sound_level": "a sound level",
    "loudness": "a loudness",
    "money": "an amount of money",
    "angle": "an angle",
    "number": "a number",
    "draft": "a pressure",
    "air_changes": "air changes an hour",
}


def noun(dimension: str) -> str:
    """The dimension in words, with its article."""
    return _NOUNS.get(dimension, "a " + dimension.replace("_", " "))
