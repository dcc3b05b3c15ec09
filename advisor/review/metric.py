"""Sentences of rules in the reader's units: what is written in feet and pounds, metric first for who wants that."""

from __future__ import annotations

import re

from advisor.rulebase.countries import HOME, country, in_words
from advisor.showing import System, show
from advisor.units import read_quantity

_DIMENSIONS = {
    "in": "length", "ft": "length", "lb": "mass", "gallon": "liquid", "gal": "liquid", "qt": "liquid",
    "sqft": "area", "cuft": "volume", "cfm": "airflow", "°F": "temperature", "psi": "pressure",
}  # fmt: skip
_NUMBER = r"\d[\d,]*(?:\.\d+)?(?:-\d+/\d+|/\d+)?"
# `36 in`, `6 ft 6 in`, `18 to 36 in`; not `2x4`, not the `1/2` of a name, not a slope such as `1/4 in per ft`.
_SAID = re.compile(
    rf"(?<![\w/.$-])(?:({_NUMBER}) to )?((?:{_NUMBER} ft )?{_NUMBER}) "
    r"(in|ft|lb|gallon|gal|qt|sqft|cuft|cfm|°F|psi)(s?)\b(?!/| per | for each foot)"
)
_STEP = re.compile(r"(?:within|by|off by|more than another) $")  # then degrees are a difference


def localized(text: str, units: str, pack: str = "") -> str:
    """A sentence of a pack with its quantities in the reader's system first, the written one in brackets.

    Where the house stands in another country it has the words of that country, and no foreign measures beside.
    """
    alone = isinstance(units, System) and units.alone
    if isinstance(units, System) and units.country != HOME:
        text = in_words(text, country(units.country), pack)
    return _SAID.sub(lambda found: _turned(found, alone), text) if units == "metric" else text


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
