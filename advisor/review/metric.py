"""Sentences of rules in the reader's units: what is written in feet and pounds, metric first for who wants that."""

from __future__ import annotations

import re

from advisor import later
from advisor.rulebase.countries import HOME, country, in_words
from advisor.showing import System, show
from advisor.units import read_quantity

_DIMENSIONS = {
    "in": "length", "ft": "length", "lb": "mass", "gallon": "liquid", "gal": "liquid", "qt": "liquid",
    "sqft": "area", "cuft": "volume", "cfm": "airflow", "°F": "temperature", "psi": "pressure",
}  # fmt: skip
_NUMBER = r"\d[\d,]*(?:\.\d+)?(?:-\d+/\d+|/\d+)?"
# `36 in`, `6 ft 6 in`, `18 to 36 in`; not `2x4`, not the `1/2` of a name, not a slope such as `1/4 in per ft`.
_SAID = later.pattern(
    rf"(?<![\w/.$-])(?:({_NUMBER}) to )?((?:{_NUMBER} ft )?{_NUMBER}) "
    r"(in|ft|lb|gallon|gal|qt|sqft|cuft|cfm|°F|psi)(s?)\b(?!/| per | for each foot)"
)
# What only a sentence in feet says; it is turned where nothing else stands beside.
_FALL = later.pattern(rf"(?<![\w/.$-])({_NUMBER}) in per (?:ft|foot)\b")
_SPREAD = later.pattern(rf"(?<![\w/.$-])({_NUMBER}) lb( and more)? ((?:on|for) each|for every|a|per) (square )?foot\b")
_SPACE = later.pattern(rf"(?<![\w/.$-])(?:({_NUMBER}) (to|or) )?({_NUMBER}) (sq|square|cubic) (?:ft|foot|feet)\b")
_STEP = later.pattern(r"(?:within|by|off by|more than another) $")  # then degrees are a difference


def localized(text: str, units: str, pack: str = "") -> str:
    """A sentence of a pack with its quantities in the reader's system first, the written one in brackets.

    Where the house stands in another country it has the words of that country, and no foreign measures beside.
    """
    alone = isinstance(units, System) and units.alone
    if isinstance(units, System) and units.country != HOME:
        text = in_words(text, country(units.country), pack)
    if units != "metric":
        return text
    if alone:
        text = _FALL.sub(_fall, text)
        text = _SPREAD.sub(_spread, text)
        text = _SPACE.sub(_space, text)
    return _SAID.sub(lambda found: _turned(found, alone), text)


def _fall(found: re.Match[str]) -> str:
    """`1/4 in per ft` as `2 cm per m`."""
    share = read_quantity(f"{found[1]} in", "length").si / read_quantity("1 ft", "length").si
    return f"{share * 100:.1g} cm per m"


def _spread(found: re.Match[str]) -> str:
    """`90 lb and more on each square foot` as `440 kg and more on each square meter`."""
    over = read_quantity("1 ft", "length").si ** (2 if found[4] else 1)
    kilos = read_quantity(f"{found[1]} lb", "mass").si / over
    return f"{float(f'{kilos:.2g}'):,.10g} kg{found[2] or ''} {found[3]} {found[4] or ''}meter"


def _space(found: re.Match[str]) -> str:
    """`120 or 200 sq ft` as `11 or 19 m2`."""
    least, word, most, sort = found.groups()
    unit, dimension = ("cuft", "volume") if sort == "cubic" else ("sqft", "area")
    said = [_rough(read_quantity(f"{n} {unit}", dimension).si, dimension) for n in (least, most) if n]
    return f" {word} ".join(said) if least else said[0]


def _turned(found: re.Match[str], alone: bool = False) -> str:
    least, most, unit, _ = found.groups()
    dimension = _DIMENSIONS[unit]
    if unit == "°F" and _STEP.search(found.string[: found.start()]):
        dimension = "temperature_step"
    wanted = "gal" if unit == "gallon" else unit
    value = read_quantity(f"{most} {wanted}", dimension).si
    beside = "" if alone else f" ({found.group(0)})"
    said = _rough if alone else _exact
    if least is None:
        return f"{said(value, dimension)}{beside}"
    low = read_quantity(f"{least} {wanted}", dimension).si
    return f"{said(low, dimension)} to {said(value, dimension)}{beside}"


def _exact(value: float, dimension: str) -> str:
    return show(value, dimension, "metric").text


def _rough(value: float, dimension: str) -> str:
    """As a sentence says it that has no other measure beside: two figures of what was a round number elsewhere."""
    if dimension in ("temperature", "temperature_step"):
        return _exact(value, dimension)
    number, unit, _ = show(value, dimension, "metric")
    return f"{float(f'{number:.2g}'):,.10g} {unit}"
