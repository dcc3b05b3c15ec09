"""Sentences of rules in the reader's units: what is written in feet and pounds, metric first for who wants that."""

from __future__ import annotations

import re

from advisor.units import read_quantity, show

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


def localized(text: str, units: str) -> str:
    """A sentence with its quantities in the reader's system first, the written one in brackets."""
    return _SAID.sub(_turned, text) if units == "metric" else text


def _turned(found: re.Match[str]) -> str:
    least, most, unit, _ = found.groups()
    dimension = _DIMENSIONS[unit]
    if unit == "°F" and _STEP.search(found.string[: found.start()]):
        dimension = "temperature_step"
    wanted = "gal" if unit == "gallon" else unit
    value = read_quantity(f"{most} {wanted}", dimension).si
    if least is None:
        return f"{show(value, dimension, 'metric').text} ({found.group(0)})"
    low = read_quantity(f"{least} {wanted}", dimension).si
    return f"{show(low, dimension, 'metric').text} to {show(value, dimension, 'metric').text} ({found.group(0)})"
