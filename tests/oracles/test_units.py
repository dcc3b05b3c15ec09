"""Quantities against pint, a general unit library, and against texts as people write them."""

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.showing import both, show
from advisor.units import DIMENSIONS, UNITS, BadQuantity, from_base, read_quantity, to_base

REGISTRY = pint.UnitRegistry()

# Spellings that pint does not read, or reads as something else, with what is meant in pint's words.
_SAME = {
    "inch": '" \u201d \u2033',
    "foot": "' \u2019 \u2032",
    "mil_length": "mil mils",
    "m**2": "m2 sqm m²",
    "cm**2": "cm2 cm²",
    "mm**2": "mm2 mm²",
    "ft**2": "sqft ft2 ft² sf",
    "inch**2": "sqin in2 in²",
    "yard**2": "sqyd yd2 yd²",
    "yard**3": "cuyd yd3 yd³",
    "m**3": "m3 m³",
    "ft**3": "cuft ft3 ft³",
    "inch**3": "cuin in3 in³",
    "cm**3": "cm3 cm³ cc",
    "fluid_ounce": "floz oz_fl fl_oz",
    "cup": "cups",
    "lb": "lbs",
    "s": "sec",
    "hour": "hrs",
    "week": "wk",
    "30 * day": "month months",
    "m**3/s": "m3/s",
    "m**3/hour": "m3/h m³/h",
    "ft**3/min": "cfm ft3/min cuft/min",
    "A": "amp amps",
    "horsepower": "hp",
    "Btu_it/hour": "BTU/h btu/h btu Btu/h BTUH",
    "1000 * kg/m**3 * standard_gravity * inch": "inwg",
    "degree": "° deg",
    "inch/foot": "in/ft",
    "percent": "%",
    "ft/min": "fpm",
    "kg/m**3": "kg/m3",
    "lb/ft**3": "lb/cuft lb/ft3",
    "g/cm**3": "g/cm3",
    "lb/ft": "plf",
    "m**2/L": "m2/L m2/l m²/L m²/l",
    "ft**2/gal": "sqft/gal ft2/gal",
    "kg/m**2": "kg/m2 kg/m²",
    "lb/ft**2": "lb/sqft lb/ft2 lb/ft² psf",
    "ug/ft**2": "ug/sqft ug/ft2 ug/ft²",
    "ug/m**2": "ug/m2",
    "mg/cm**2": "mg/cm2 mg/cm²",
    "g/L": "g/L g/l",
    "ug/m**3": "ug/m3",
    "mg/m**3": "mg/m3",
    "1/hour": "ach ACH /h 1/h",
    "1/min": "/min per_minute",
    "ohm/(1000*ft)": "ohm/kft",
}
MEANT = {spelling: word for word, spellings in _SAME.items() for spelling in spellings.split()}
# The base unit of these is a percent or a millionth itself, or a step without a zero point.
SPECIAL = {
    ("moisture", "%"): "100 * percent",
    ("moisture", "percent"): "100 * percent",
    ("ppm", "ppm"): "1e6 * ppm",
    ("ppm", "ppb"): "1e3 * ppm",
    ("ppm", "%"): "1e6 * percent",
    ("ppm", "percent"): "1e6 * percent",
}
for _unit, _word in {"K": "kelvin", "C": "degC", "°C": "degC", "F": "degF", "°F": "degF"}.items():
    SPECIAL["temperature", _unit] = _word
for _unit in ("°C", "C", "degC", "°F", "F", "degF"):
    SPECIAL["temperature_step", _unit] = "delta_deg" + _unit[-1]
NOT_IN_PINT = {"money", "number", "sound_level", "loudness"}  # no unit to convert, or one of its own
NO_UNIT = {"moisture", "ppm"}
FACTORS = [(d, unit) for d, units in sorted(UNITS.items()) if d not in NOT_IN_PINT for unit in units]


def base_unit(dimension: str) -> str:
    """The base unit of a dimension in pint's words."""
    base = DIMENSIONS[dimension][0]
    return "" if dimension in NO_UNIT else MEANT.get(base, base)


@pytest.mark.parametrize(("dimension", "unit"), FACTORS)
def test_every_factor_agrees_with_pint(dimension, unit) -> None:
    word = SPECIAL.get((dimension, unit), MEANT.get(unit, unit))
    if dimension == "temperature":
        expected = REGISTRY.Quantity(50.0, word).to("kelvin").magnitude / 50
    else:
        expected = (1.0 * REGISTRY.parse_expression(word)).to(base_unit(dimension)).magnitude
    number = 50 if dimension == "temperature" else 1  # a scale with its own zero

    assert to_base(number, unit, dimension) / number == pytest.approx(expected, rel=1e-12)


def test_lead_on_a_surface_is_as_nist_has_it() -> None:
    """House 1A: 1.0 mg/cm2 is 929.03 mg on a square foot."""
    assert from_base(to_base(1, "mg/cm2", "lead_loading"), "ug/sqft", "lead_loading") == pytest.approx(929_030.4)


def test_no_dimension_is_left_without_a_check() -> None:
    assert {dimension for dimension, _ in FACTORS} | NOT_IN_PINT == set(DIMENSIONS) == set(UNITS)


@pytest.mark.parametrize(
    ("text", "dimension", "amount", "unit"),
    [
        ("13 ft 6 in", "length", 162, "inch"),
        ("1-1/4 in", "length", 1.25, "inch"),
        ("1 1/4 in", "length", 1.25, "inch"),
        ('3/8"', "length", 0.375, "inch"),
        ("6'-4 1/2\"", "length", 76.5, "inch"),
        ("6' 4\"", "length", 76, "inch"),
        ("250 mm", "length", 250, "mm"),
        ("2.5 cm", "length", 2.5, "cm"),
        (".5 in", "length", 0.5, "inch"),
        ("-3/8 in", "length", -0.375, "inch"),
        ("4 mils", "length", 0.004, "inch"),
        ("70 °F", "temperature", 294.2611, "kelvin"),
        ("70°F", "temperature", 294.2611, "kelvin"),
        ("-10 °F", "temperature", 249.8167, "kelvin"),
        ("20 degC", "temperature", 293.15, "kelvin"),
        ("1,800 sqft", "area", 1800, "ft**2"),
        ("3 qt", "liquid", 3, "quart"),
        ("1 h 30 min", "time", 90, "minute"),
        ("2 days", "time", 48, "hour"),
        ("1/4 in/ft", "slope", 1 / 48, ""),
        ("400 cfm", "airflow", 400, "ft**3/min"),
        ("2 lb 8 oz", "mass", 2.5, "lb"),
        ("1.93 ohm/kft", "resistance", 1.93 / 304.8, "ohm/m"),
        ("50 %", "fraction", 0.5, ""),
        ("12 fl oz", "liquid", 12, "fluid_ounce"),
        ("8 fl. oz.", "liquid", 8, "fluid_ounce"),
        ("70 degrees F", "temperature", 294.2611, "kelvin"),
        ("5 sq yd", "area", 5, "yard**2"),
        ("2 cu yd", "volume", 2, "yard**3"),
        ("250 mm²", "area", 250, "mm**2"),
        ("250 g/l", "density", 250, "g/L"),
    ],
)
def test_texts_as_people_write_them(text, dimension, amount, unit) -> None:
    """pint turns the amount into the base unit; temperatures are kelvin to four places."""
    expected = REGISTRY.Quantity(amount, unit).to(base_unit(dimension)).magnitude

    assert read_quantity(text, dimension).si == pytest.approx(expected, rel=1e-6)


def test_six_feet_and_seventy_two_inches_are_the_same_float() -> None:
    assert (
        read_quantity("6 ft", "length").si == read_quantity("72 in", "length").si == read_quantity("2 yd", "length").si
    )


def test_bare_numbers_pass_where_trade_leaves_the_unit_out() -> None:
    assert (read_quantity("8", "moisture").si, read_quantity("3", "number").si) == (8, 3)


@pytest.mark.parametrize(
    ("text", "dimension", "message"),
    [
        ("12", "length", "a number needs its unit"),
        ("12 lb", "length", "'lb' is a unit of a weight"),
        ("12 parsec", "length", "is not a known unit"),
        ("", "length", "Expected a length"),
        ("in", "length", "Expected a length"),
        ("1/0 in", "length", "is not a number"),
        ("70 °F 5 °F", "temperature", "Expected a temperature"),
        ("1e300 ft", "length", "too large"),
        ("12 in" + "2" * 90, "length", "Expected a length"),
    ],
)
def test_what_is_no_quantity_is_refused_with_an_example(text, dimension, message) -> None:
    with pytest.raises(BadQuantity, match=message):
        read_quantity(text, dimension)


@pytest.mark.parametrize(
    ("text", "dimension", "meant"),
    [
        ("60 sq ft", "area", "60 ft**2"),
        ("60 Square Feet", "area", "60 ft**2"),
        ("12 sq. in.", "area", "12 inch**2"),
        ("3 sq m", "area", "3 m**2"),
        ("2 cu ft", "volume", "2 ft**3"),
        ("18 cubic inches", "box_volume", "18 inch**3"),
        ("1 Quart", "liquid", "1 quart"),
        ("24 LBS", "mass", "24 lb"),
        ("5 Hrs.", "time", "5 hour"),
        ("6 ft. 3 in.", "length", "75 inch"),
    ],
)
def test_units_in_two_words_in_capitals_or_with_a_stop_are_understood(text, dimension, meant) -> None:
    """Against pint, in its base unit of the dimension."""
    assert read_quantity(text, dimension).si == pytest.approx(REGISTRY(meant).to_base_units().magnitude, rel=1e-12)


@pytest.mark.parametrize(("text", "dimension"), [("1 M", "length"), ("20 a", "current"), ("3 sq", "area")])
def test_the_case_of_a_single_letter_counts(text, dimension) -> None:
    with pytest.raises(BadQuantity):
        read_quantity(text, dimension)


@pytest.mark.parametrize(("dimension", "unit"), [(d, u) for d, units in sorted(UNITS.items()) for u in units])
@given(number=st.floats(min_value=-1e9, max_value=1e9, allow_nan=False))
@settings(max_examples=15, deadline=None)
def test_a_number_comes_back_from_the_base_unit(dimension, unit, number) -> None:
    back = from_base(to_base(number, unit, dimension), unit, dimension)

    assert back == pytest.approx(number, rel=1e-12, abs=1e-9)


@given(sixteenths=st.integers(min_value=0, max_value=1599))
def test_what_is_shown_in_inches_reads_back(sixteenths) -> None:
    length = to_base(sixteenths / 16, "in", "length")

    assert read_quantity(show(length, "length").text, "length").si == pytest.approx(length, abs=1e-12)


@given(feet=st.integers(0, 200), inches=st.integers(0, 11), sixteenths=st.integers(0, 15))
def test_feet_inches_and_fractions_add_up(feet, inches, sixteenths) -> None:
    text = f"{feet} ft {inches}-{sixteenths}/16 in"

    assert read_quantity(text, "length").to("in") == pytest.approx(12 * feet + inches + sixteenths / 16, rel=1e-12)


@pytest.mark.parametrize(
    ("value", "dimension", "text"),
    [
        (30.238, "fraction", "3,000 %"),
        (12.7, "fraction", "1,300 %"),
        (1.26, "fraction", "126 %"),
        (364_976e-9 / 0.09290304, "lead_loading", "360,000 ug/sqft (3,900,000 ug/m2)"),
        (5e-9 / 0.09290304, "lead_loading", "5 ug/sqft (53.8 ug/m2)"),
        (1.2345, "length", "48.6 in (1,234 mm)"),
    ],
)
def test_a_share_or_a_lead_load_beyond_a_thousand_has_two_figures(value, dimension, text) -> None:
    """Worked from usual tool levels and from just enough lead to count, they bear no more; measures keep theirs."""
    assert both(value, dimension) == text
