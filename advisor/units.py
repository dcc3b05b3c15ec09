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

Exact = tuple[str, F, F]  # dimension, factor to the base unit, offset added after scaling

_IN, _FT, _LB = F("0.0254"), F("0.3048"), F("0.45359237")
_GAL, _MIN, _H, _DAY = F("0.003785411784"), F(60), F(3600), F(86400)

# dimension -> base unit, US unit shown, metric unit shown, example of what to write
DIMENSIONS: dict[str, tuple[str, str, str, str]] = {
    "length": ("m", "in", "mm", "13 ft 6 in"),
    "area": ("m2", "sqft", "m2", "62 sqft"),
    "volume": ("m3", "cuft", "m3", "3 qt"),
    "liquid": ("m3", "gal", "L", "3 qt"),
    "box_volume": ("m3", "cuin", "cm3", "18 cuin"),
    "mass": ("kg", "lb", "kg", "24 lb"),
    "time": ("s", "h", "h", "24 h"),
    "temperature": ("K", "°F", "°C", "70 °F"),
    "temperature_step": ("K", "°F", "°C", "5 °F"),
    "airflow": ("m3/s", "cfm", "L/s", "400 cfm"),
    "current": ("A", "A", "A", "20 A"),
    "voltage": ("V", "V", "V", "120 V"),
    "power": ("W", "W", "W", "1500 W"),
    "pressure": ("Pa", "psi", "kPa", "90 psi"),
    "draft": ("Pa", "Pa", "Pa", "5 Pa"),
    "angle": ("deg", "deg", "deg", "45 deg"),
    "fraction": ("", "%", "%", "50 %"),
    "moisture": ("%", "%", "%", "8 %"),
    "slope": ("", "in/ft", "mm/m", "1/4 in/ft"),
    "air_speed": ("m/s", "ft/min", "m/s", "1000 ft/min"),
    "rotation": ("rpm", "rpm", "rpm", "11000 rpm"),
    "density": ("kg/m3", "lb/cuft", "kg/m3", "43 lb/cuft"),
    "line_load": ("kg/m", "lb/ft", "kg/m", "20 lb/ft"),
    "stiffness": ("Pa", "psi", "MPa", "1500000 psi"),
    "spreading_rate": ("1/m", "sqft/gal", "m2/L", "400 sqft/gal"),
    "surface_mass": ("kg/m2", "lb/sqft", "kg/m2", "2 lb/sqft"),
    "lead_loading": ("kg/m2", "ug/sqft", "ug/m2", "5 ug/sqft"),
    "ppm": ("ppm", "ppm", "ppm", "100 ppm"),
    "dust_concentration": ("kg/m3", "ug/m3", "ug/m3", "50 ug/m3"),
    "sound_level": ("dBA", "dBA", "dBA", "95 dBA"),
    "air_changes": ("1/s", "ach", "ach", "6 ach"),
    "per_minute": ("1/min", "/min", "/min", "2 /min"),
    "resistance": ("ohm/m", "ohm/kft", "ohm/km", "1.93 ohm/kft"),
    "molar_mass": ("g/mol", "g/mol", "g/mol", "46.1 g/mol"),
    "money": ("USD", "USD", "USD", "1800 USD"),
    "number": ("", "", "", "3"),
}

_UNITS: dict[str, list[tuple[str, F]]] = {
    "length": [
        ("m meter meters metre metres", F(1)),
        ("cm", F("0.01")),
        ("mm millimeter millimeters millimetre millimetres", F("0.001")),
        ("um micron microns", F("0.000001")),
        ('in inch inches " ” ″', _IN),
        ("ft foot feet ' ’ ′", _FT),
        ("yd yard yards", F("0.9144")),
        ("mil mils", _IN / 1000),
    ],
    "area": [
        ("m2 sqm m²", F(1)),
        ("cm2 cm²", F("0.0001")),
        ("mm2 mm²", F("0.000001")),
        ("sqft ft2 ft² sf", _FT**2),
        ("sqin in2 in²", _IN**2),
    ],
    "volume": [
        ("m3 m³", F(1)),
        ("cuft ft3 ft³", _FT**3),
        ("cuin in3 in³", _IN**3),
        ("cm3 cm³", F("0.000001")),
        ("L l liter liters litre litres", F("0.001")),
        ("mL ml", F("0.000001")),
        ("gal gallon gallons", _GAL),
        ("qt quart quarts", _GAL / 4),
        ("pt pint pints", _GAL / 8),
        ("cup cups", _GAL / 16),
        ("floz oz_fl fl_oz", _GAL / 128),
    ],
    "mass": [
        ("kg", F(1)),
        ("g", F("0.001")),
        ("lb lbs pound pounds", _LB),
        ("oz", _LB / 16),
    ],
    "time": [
        ("s sec second seconds", F(1)),
        ("min minute minutes", _MIN),
        ("h hr hrs hour hours", _H),
        ("d day days", _DAY),
        ("week weeks wk", _DAY * 7),
        ("month months", _DAY * 30),
    ],
    "airflow": [
        ("m3/s", F(1)),
        ("m3/h", 1 / _H),
        ("L/s l/s", F("0.001")),
        ("cfm ft3/min cuft/min", _FT**3 / 60),
    ],
    "current": [("A amp amps ampere amperes", F(1)), ("mA", F("0.001"))],
    "voltage": [("V volt volts", F(1))],
    "power": [
        ("W watt watts", F(1)),
        ("kW", F(1000)),
        ("hp", F("745.69987158227022")),
        ("BTU/h btu/h", F("0.29307107017222")),
    ],
    "pressure": [("Pa", F(1)), ("kPa", F(1000)), ("bar", F(100000)), ("psi", _LB * F("9.80665") / _IN**2)],
    "draft": [("Pa", F(1)), ("inwg", F("249.08891"))],
    "angle": [("deg degree degrees °", F(1))],
    "fraction": [("% percent", F(1, 100)), ("ppm", F(1, 10**6))],
    "moisture": [("% percent", F(1))],
    "slope": [("in/ft", F(1, 12)), ("mm/m", F(1, 1000)), ("% percent", F(1, 100))],
    "air_speed": [("m/s", F(1)), ("ft/min fpm", _FT / 60)],
    "rotation": [("rpm", F(1))],
    "density": [("kg/m3", F(1)), ("lb/cuft lb/ft3", _LB / _FT**3), ("g/cm3 kg/L", F(1000))],
    "line_load": [("kg/m", F(1)), ("lb/ft plf", _LB / _FT)],
    "stiffness": [("Pa", F(1)), ("MPa", F(10**6)), ("GPa", F(10**9)), ("psi", _LB * F("9.80665") / _IN**2)],
    "spreading_rate": [("1/m", F(1)), ("m2/L", F(1000)), ("sqft/gal ft2/gal", _FT**2 / _GAL)],
    "surface_mass": [("kg/m2", F(1)), ("lb/sqft lb/ft2 psf", _LB / _FT**2)],
    "lead_loading": [
        ("kg/m2", F(1)),
        ("ug/sqft ug/ft2", F(1, 10**9) / _FT**2),
        ("ug/m2", F(1, 10**9)),
        ("mg/cm2", F(1, 100)),
    ],
    "ppm": [("ppm", F(1)), ("ppb", F(1, 1000)), ("% percent", F(10000))],
    "dust_concentration": [("kg/m3", F(1)), ("ug/m3", F(1, 10**9)), ("mg/m3", F(1, 10**6))],
    "sound_level": [("dBA dB", F(1))],
    "air_changes": [("1/s", F(1)), ("ach ACH 1/h /h", 1 / _H)],
    "per_minute": [("/min 1/min per_minute", F(1))],
    "resistance": [("ohm/m", F(1)), ("ohm/kft", 1 / (_FT * 1000)), ("ohm/km", F(1, 1000))],
    "molar_mass": [("g/mol", F(1))],
    "money": [("USD usd $ dollars", F(1))],
    "number": [("", F(1))],
}
_UNITS["liquid"] = _UNITS["volume"]
_UNITS["box_volume"] = _UNITS["volume"]

# Dimensions whose numbers are commonly written without a unit.
BARE_ALLOWED = frozenset({"number", "moisture", "per_minute"})


def _table() -> dict[str, dict[str, Exact]]:
    table: dict[str, dict[str, Exact]] = {}
    for dimension, units in _UNITS.items():
        rows = table.setdefault(dimension, {})
        for names, factor in units:
            for name in names.split() or [""]:
                rows[name] = (dimension, factor, F(0))
    zero = F("273.15")
    f_scale = F(5, 9)
    f_zero = F("459.67") * f_scale
    table["temperature"] = {
        name: ("temperature", scale, offset)
        for names, scale, offset in (
            ("K", F(1), F(0)),
            ("°C C degC", F(1), zero),
            ("°F F degF", f_scale, f_zero),
        )
        for name in names.split()
    }
    table["temperature_step"] = {
        name: ("temperature_step", scale, F(0)) for name, (_, scale, _) in table["temperature"].items()
    }
    return table


UNITS = _table()


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
    if dimension == "money" and body[:1] == "$":
        body = f"{body[1:].strip()} $"
    total, position, terms = F(0), 0, 0
    units = UNITS[dimension]
    while position < len(body):
        match = _TERM.match(body, position)
        if not match or match.end() == position:
            raise BadQuantity(f"{wanted}.")
        number, unit = match.group(1), match.group(2) or ""
        if unit not in units:
            if unit == "" and dimension in BARE_ALLOWED:
                unit = DIMENSIONS[dimension][1]
            elif unit == "":
                raise BadQuantity(f"{wanted}: a number needs its unit.")
            else:
                other = [d for d, rows in UNITS.items() if unit in rows]
                kind = f" '{unit}' is a unit of {noun(other[0])}." if other else f" '{unit}' is not a known unit."
                raise BadQuantity(f"{wanted}.{kind}")
        _, factor, offset = units[unit]
        total += read_number(number) * factor + offset
        terms += 1
        position = match.end()
    if terms > 1 and dimension in ("temperature", "fraction", "moisture", "sound_level"):
        raise BadQuantity(f"{wanted}.")
    try:
        value = float(sign * total if dimension != "temperature" or sign == 1 else _below_zero(body))
    except OverflowError as error:
        raise BadQuantity(f"{wanted}; that number is too large.") from error
    if abs(value) > 1e15:
        raise BadQuantity(f"{wanted}; that number is too large.")
    return Quantity(value, dimension)


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
        unit = _length_unit(value, system)
    elif dimension == "time":
        unit = _time_unit(value)
    elif dimension == "liquid" and system == "us" and abs(value) < to_base(1, "gal", "liquid"):
        unit = "qt"
    number = from_base(value, unit, dimension)
    if dimension == "length" and unit == "in":
        return Shown(number, unit, _inches(number))
    if dimension == "money":
        return Shown(number, unit, f"{number:,.0f} {unit}" if abs(number) >= 100 else f"{number:,.2f} {unit}")
    text = _digits(number)
    gap = "" if unit in ("", "%", "/min") or unit.startswith("°") else " "
    if unit.startswith("°") or unit == "%":
        gap = " "
    plural = "s" if unit == "day" and text != "1" else ""
    return Shown(number, unit, f"{text}{gap}{unit}{plural}")


def both(value: float, dimension: str, system: str = "us") -> str:
    """The quantity in the chosen system, with the other one in brackets where they differ."""
    first = show(value, dimension, system)
    second = show(value, dimension, "metric" if system == "us" else "us")
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
