"""The units that plans and rules may use: dimensions, spellings, exact factors.

Checked against `pint` in the tests, row by row.
"""

from __future__ import annotations

from fractions import Fraction as F

Exact = tuple[str, F, F]  # dimension, factor to the base unit, offset added after scaling

# Moneys and how they are written. The sign may stand before its amount.
CURRENCIES = {
    "USD": "USD usd $ dollars dollar", "EUR": "EUR eur € euros euro", "GBP": "GBP gbp £ pounds pound",
    "CAD": "CAD cad C$ CA$", "AUD": "AUD aud A$ AU$", "NZD": "NZD nzd NZ$",
    **{code: code for code in ("CHF", "SEK", "NOK", "DKK", "PLN", "CZK", "HUF", "JPY", "INR", "ZAR", "BRL", "MXN")},
}  # fmt: skip

# Countries whose money is written with the sign and word of another (ISO 3166 and ISO 4217).
DOLLARS = {"CA": "CAD", "AU": "AUD", "NZ": "NZD"}

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
    "loudness": ("sone", "sones", "sones", "3 sones"),
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
        ("km kilometer kilometers kilometre kilometres", F(1000)),
        ("cm centimeter centimeters centimetre centimetres", F("0.01")),
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
        ("sqyd yd2 yd²", (3 * _FT) ** 2),
    ],
    "volume": [
        ("m3 m³", F(1)),
        ("cuft ft3 ft³", _FT**3),
        ("cuin in3 in³", _IN**3),
        ("cuyd yd3 yd³", (3 * _FT) ** 3),
        ("cm3 cm³ cc", F("0.000001")),
        ("L l liter liters litre litres", F("0.001")),
        ("mL ml milliliter milliliters millilitre millilitres", F("0.000001")),
        ("gal gallon gallons", _GAL),
        ("qt quart quarts", _GAL / 4),
        ("pt pint pints", _GAL / 8),
        ("cup cups", _GAL / 16),
        ("floz oz_fl fl_oz", _GAL / 128),
    ],
    "mass": [
        ("kg kilogram kilograms", F(1)),
        ("g gram grams", F("0.001")),
        ("lb lbs pound pounds", _LB),
        ("oz ounce ounces", _LB / 16),
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
        ("m3/s m³/s", F(1)),
        ("m3/h m³/h", 1 / _H),
        ("L/s l/s", F("0.001")),
        ("cfm ft3/min cuft/min", _FT**3 / 60),
    ],
    "current": [("A amp amps ampere amperes", F(1)), ("mA", F("0.001"))],
    "voltage": [("V volt volts", F(1))],
    "power": [
        ("W watt watts", F(1)),
        ("kW kilowatt kilowatts", F(1000)),
        ("hp", F("745.69987158227022")),
        ("BTU/h btu/h btu Btu/h BTUH", F("0.29307107017222")),
    ],
    "pressure": [("Pa", F(1)), ("kPa", F(1000)), ("bar", F(100000)), ("psi", _LB * F("9.80665") / _IN**2)],
    "draft": [("Pa", F(1)), ("inwg", F("249.08891"))],
    "angle": [("deg degree degrees °", F(1))],
    "fraction": [("% percent", F(1, 100)), ("ppm", F(1, 10**6))],
    "moisture": [("% percent", F(1))],
    "slope": [("in/ft", F(1, 12)), ("mm/m", F(1, 1000)), ("% percent", F(1, 100))],
    "air_speed": [("m/s", F(1)), ("ft/min fpm", _FT / 60)],
    "rotation": [("rpm", F(1))],
    "density": [
        ("kg/m3 kg/m³", F(1)),
        ("lb/cuft lb/ft3 lb/ft³", _LB / _FT**3),
        ("g/cm3 kg/L", F(1000)),
        ("g/L g/l", F(1)),
    ],
    "line_load": [("kg/m", F(1)), ("lb/ft plf", _LB / _FT)],
    "stiffness": [("Pa", F(1)), ("MPa", F(10**6)), ("GPa", F(10**9)), ("psi", _LB * F("9.80665") / _IN**2)],
    "spreading_rate": [("1/m", F(1)), ("m2/L m2/l m²/L m²/l", F(1000)), ("sqft/gal ft2/gal ft²/gal", _FT**2 / _GAL)],
    "surface_mass": [("kg/m2 kg/m²", F(1)), ("lb/sqft lb/ft2 lb/ft² psf", _LB / _FT**2)],
    "lead_loading": [
        ("kg/m2", F(1)),
        ("ug/sqft ug/ft2 ug/ft²", F(1, 10**9) / _FT**2),
        ("ug/m2", F(1, 10**9)),
        ("mg/cm2 mg/cm²", F(1, 100)),
    ],
    "ppm": [("ppm", F(1)), ("ppb", F(1, 1000)), ("% percent", F(10000))],
    "dust_concentration": [("kg/m3", F(1)), ("ug/m3", F(1, 10**9)), ("mg/m3", F(1, 10**6))],
    "sound_level": [("dBA dB", F(1))],
    "loudness": [("sone sones", F(1))],
    "air_changes": [("1/s", F(1)), ("ach ACH 1/h /h", 1 / _H)],
    "per_minute": [("/min 1/min per_minute", F(1))],
    "resistance": [("ohm/m", F(1)), ("ohm/kft", 1 / (_FT * 1000)), ("ohm/km", F(1, 1000))],
    "molar_mass": [("g/mol", F(1))],
    # No amount is ever converted: `System.money` says which of these a plan counts in.
    "money": [(words, F(1)) for words in CURRENCIES.values()],
    "number": [("", F(1))],
}
_UNITS["liquid"] = _UNITS["volume"]
_UNITS["box_volume"] = _UNITS["volume"]

# Dimensions whose numbers are commonly written without a unit.
BARE_ALLOWED = frozenset({"number", "moisture", "per_minute"})


def _table() -> dict[str, dict[str, Exact]]:
    table: dict[str, dict[str, Exact]] = {}
    none = F(0)
    for dimension, units in _UNITS.items():
        rows = table.setdefault(dimension, {})
        for names, factor in units:
            for name in names.split() or [""]:
                rows[name] = (dimension, factor, none)
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
