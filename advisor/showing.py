"""Quantities as people read them: in US customary or metric units, rounded for reading."""

from __future__ import annotations

from fractions import Fraction as F
from typing import NamedTuple

from advisor.unit_table import DIMENSIONS
from advisor.units import from_base, to_base


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
    if abs(number) < 1e-9:  # 0 °C out of 32 °F, which floats miss by a hair
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
