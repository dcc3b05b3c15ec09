"""Quantities: a number with a unit, read from text and shown in US customary or metric units.

Inside the program every quantity is a plain float in one unit per dimension (SI, with a few trade
exceptions named in `DIMENSIONS`). Conversion is done in exact fractions and rounded once, so that
`6 ft` and `72 in` are the same float. The factors are checked against `pint` in the tests; pint itself
is not used at run time because importing it costs more than half of the time a review may take.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction as F
from functools import lru_cache
from typing import NamedTuple

from advisor.unit_table import BARE_ALLOWED, CURRENCIES, DIMENSIONS, UNITS

__all__ = [
    "BARE_ALLOWED",
    "DIMENSIONS",
    "UNITS",
    "BadQuantity",
    "Quantity",
    "Shown",
    "System",
    "both",
    "currency",
    "from_base",
    "noun",
    "other_system",
    "read_number",
    "read_quantity",
    "show",
    "show_place",
    "to_base",
]


class BadQuantity(ValueError):
    """Text that is not a quantity of the wanted dimension; the message says what was expected."""


@dataclass(frozen=True, slots=True, order=False)
class Quantity:
    """A float in the base unit of its dimension (see `DIMENSIONS`)."""

    si: float
    dimension: str

    def to(self, unit: str) -> float:
        """The number of `unit` that this quantity is; KeyError for a unit of another dimension."""
        return from_base(self.si, unit, self.dimension)

    def __repr__(self) -> str:
        return f"{self.si!r} {DIMENSIONS[self.dimension][0]}".strip()


class System(str):
    """`us` or `metric`, for showing quantities, and the money of the amounts, which are shown in it alone.

    `alone`: nothing is told in the other system beside. `country` has the words that are put in place of others; they
    are looked up by it, so that this stays a word that costs nothing to hand on (`review/metric.py`).
    """

    money: str
    alone: bool
    country: str

    def __new__(cls, word: str, money: str = "USD", alone: bool = False, country: str = "US") -> System:
        """The system with its money."""
        made = super().__new__(cls, word)
        made.money, made.alone, made.country = money, alone, country
        return made

    def __getnewargs__(self) -> tuple[str, str, bool, str]:  # type: ignore[override]
        return str(self), self.money, self.alone, self.country


def other_system(system: str) -> System:
    """Metric beside US customary and the other way round, with the same money."""
    return System("metric" if system == "us" else "us", _money(system))


def _money(system: str) -> str:
    return system.money if isinstance(system, System) else DIMENSIONS["money"][0]


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
_THOUSANDS = re.compile(r"^\d{1,3}(?:\.\d{3})+(?![\d.])")  # no money has thousandths
# `sq ft`, `square feet`, `cu. in`: squares and cubes in two words, as people write them.
_POWER = re.compile(
    r"\b(sq|square|cu|cubic)\.?[ -]*(ft|feet|foot|in|inch|inches|yd|yards?|m|meters?|metres?)\b\.?", re.IGNORECASE
)
_IN_TWO_WORDS = (
    (re.compile(r"\b(?:fl|fluid)\.?[ -]*(?:oz|ounces?)\b\.?", re.IGNORECASE), "floz"),
    (re.compile(r"\bdeg(?:rees?)?\.? *([FC])(?:ahrenheit|elsius|entigrade)?\b", re.IGNORECASE), r"°\1"),
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
    body = _POWER.sub(_power, body)
    for words, unit in _IN_TWO_WORDS:
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


class Shown(NamedTuple):
    """A quantity as shown: number, unit and both as one text."""

    number: float
    unit: str
    text: str


def show(value: float, dimension: str, system: str = "us") -> Shown:
    """A base-unit float for display in the `us` or `metric` system, rounded for reading."""
    unit = DIMENSIONS[dimension][1 if system == "us" else 2]
    if dimension == "length":
        value = value if abs(value) > 1e-12 else 0.0  # what is left of a difference of equal lengths
        unit = _length_unit(value, system)
    elif dimension == "time":
        unit = _time_unit(value)
    elif dimension == "liquid" and system == "us" and abs(value) < to_base(1, "gal", "liquid"):
        unit = "qt"
    number = from_base(value, unit, dimension)
    if dimension == "length" and unit == "in":
        return Shown(number, unit, _inches(number))
    if dimension == "money":
        unit = _money(system)
        return Shown(number, unit, f"{number:,.0f} {unit}" if abs(number) >= 100 else f"{number:,.2f} {unit}")
    text = _digits(_bearable(number) if dimension in _ROUGH else number)
    gap = "" if unit in ("", "/min") else " "
    plural = "s" if unit == "day" and text != "1" else ""
    return Shown(number, unit, f"{text}{gap}{unit}{plural}")


def show_input(value: float, dimension: str, system: str = "us") -> str:
    """A quantity as it stands in a working: to five figures, so that the printed sum comes out as printed."""
    number, unit, rounded = show(value, dimension, system)
    if dimension == "money" or ("/" in rounded and unit == "in" and abs(number * 16 - round(number * 16)) < 1e-6):
        return rounded
    figure = f"{number:,.0f}" if abs(number) >= 10_000 else f"{number:.5g}"
    return f"{figure} {unit}" if " " in rounded else figure + unit


def both(value: float, dimension: str, system: str = "us") -> str:
    """The quantity in the chosen system, with the other one in brackets where they differ."""
    first = show(value, dimension, system)
    if isinstance(system, System) and system.alone:
        return first.text
    second = show(value, dimension, other_system(system))
    return first.text if first.unit == second.unit else f"{first.text} ({second.text})"


def show_place(value: float, system: str = "us") -> str:
    """A place along a run: whole feet as `3 ft`, otherwise as any length."""
    feet = from_base(value, "ft", "length")
    if system == "us" and abs(feet - round(feet)) < 1e-6:
        return f"{round(feet)} ft"
    return show(value, "length", system).text


def _length_unit(value: float, system: str) -> str:
    size = abs(value)
    if system == "us":
        if 0 < size < to_base(1, "in", "length") * 0.015:
            return "mil"
        return "in" if size < to_base(100, "in", "length") else "ft"
    if 0 < size < 0.0004:
        return "um"
    return "mm" if size < 2 else "m"


def _time_unit(value: float) -> str:
    size = abs(value)
    if size >= 96 * 3600:
        return "day" if not size % 86400 or size > 10 * 86400 else "h"
    if size >= 3600 or size == 0:
        return "h"
    return "min" if size >= 60 else "s"


def _digits(number: float) -> str:
    if number == 0:
        return "0"
    size = abs(number)
    if size >= 1000:
        return f"{number:,.0f}"
    if size < 1:
        return f"{number:.3g}"
    places = 0 if size >= 100 else 1 if size >= 10 else 2
    text = f"{number:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


# Shares and lead are worked out from usual levels and rates: beyond a thousand only two figures mean anything.
_ROUGH = frozenset({"fraction", "lead_loading"})


def _bearable(number: float) -> float:
    return float(f"{number:.2g}") if abs(number) >= 1000 else number


def _inches(number: float) -> str:
    sixteenths = round(abs(number) * 16)
    if sixteenths and abs(abs(number) * 16 - sixteenths) < 0.02:
        whole, part = divmod(sixteenths, 16)
        sign = "-" if number < 0 else ""
        fraction = F(part, 16)
        if not part:
            return f"{sign}{whole} in"
        lead = f"{whole}-" if whole else ""
        return f"{sign}{lead}{fraction.numerator}/{fraction.denominator} in"
    return f"{_digits(number)} in"
