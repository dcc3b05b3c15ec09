"""Coatings against PsychroLib, the trade's film geometry and the Wood Handbook."""

import pint
import psychrolib
import pytest

from advisor.calculators.coatings import (
    coats_needed,
    coverage,
    dew_margin,
    dew_point,
    film_thickness,
    paint_to_buy,
    spray_air,
)
from advisor.tables import table

GALLON = 0.003785411784
SQUARE_FOOT = 0.3048**2
SQFT_A_GALLON = SQUARE_FOOT / GALLON
MIL = 25.4e-6
CFM = 0.3048**3 / 60


def kelvin(fahrenheit: float) -> float:
    return (fahrenheit + 459.67) / 1.8


def fahrenheit(kelvins: float) -> float:
    return kelvins * 1.8 - 459.67


@pytest.mark.parametrize(
    ("air", "humidity", "expected"), [(70, 0.50, 50.5), (70, 0.65, 57.7), (60, 0.80, 53.8), (75, 0.60, 60.2)]
)
def test_dew_point_agrees_with_the_reference_values(air: float, humidity: float, expected: float) -> None:
    """Reference 11.8, made with PsychroLib 2.5.0."""
    assert fahrenheit(dew_point(kelvin(air), humidity).value) == pytest.approx(expected, abs=0.2)


@pytest.mark.parametrize(
    ("air", "humidity"),
    [
        (35, 1.0),
        (50, 0.5),
        (50, 0.85),
        (70, 0.3),
        (70, 0.85),
        (70, 1.0),
        (90, 0.3),
        (90, 0.85),
        (110, 0.1),
        (110, 1.0),
    ],
)
def test_dew_point_agrees_with_psychrolib(air: float, humidity: float) -> None:
    """PsychroLib (ASHRAE Fundamentals 2017, ch. 1), dew points above freezing."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    expected = psychrolib.GetTDewPointFromRelHum(kelvin(air) - 273.15, humidity) + 273.15

    assert dew_point(kelvin(air), humidity).value == pytest.approx(expected, abs=0.1)  # K: Magnus form


def test_a_surface_at_the_dew_point_is_too_cold_for_paint() -> None:
    """Reference 11.8: a 60 °F surface in 75 °F air of 60 % has its dew point at 60.2 °F: fail."""
    margin = dew_margin(kelvin(60), kelvin(75), 0.6)

    assert margin.value < 0
    assert fahrenheit(margin.part("coldest_surface").value) == pytest.approx(65.2, abs=0.2)


@pytest.mark.parametrize(("solids", "mils", "transfer", "printed"), [(0.65, 5, 1, 208.5), (0.52, 1.5, 0.35, 194.6)])
def test_coverage_agrees_with_the_trade_formula(solids: float, mils: float, transfer: float, printed: float) -> None:
    """1604 x volume solids / dry mils (coating manuals); 231 cuin a gallon gives 1604.17."""
    rate = coverage(solids, mils * MIL, transfer)

    assert rate.value / SQFT_A_GALLON == pytest.approx(printed, abs=0.1)


def test_coverage_agrees_with_the_metric_formula_and_with_pint() -> None:
    """1000 x volume solids / dry micrometres: 65 %, 125 um give 5.2 m2/L."""
    unit = pint.UnitRegistry()
    expected = (0.65 / (125 * unit.micrometer)).to("m**2/liter").magnitude

    rate = coverage(0.65, 125e-6).value / 1000

    assert rate == pytest.approx(5.2, rel=1e-9)
    assert rate == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(("spread", "wet"), [(400, 4.01), (350, 4.58)])
def test_wet_film_from_the_spreading_rate(spread: float, wet: float) -> None:
    """Reference 11.3: 1604 / (sqft a gallon) in mils."""
    film = film_thickness(spread * SQFT_A_GALLON, 0.35)

    assert film.part("wet_film").value / MIL == pytest.approx(wet, abs=0.005)


def test_primer_and_two_coats_reach_the_film_of_the_wood_handbook() -> None:
    """Wood Handbook ch. 16: primer and two coats make 4 to 5 mil; at 35 % solids one coat is 1.40 mil."""
    film = film_thickness(400 * SQFT_A_GALLON, 0.35, 3)

    assert 4 <= film.value / MIL <= 5
    assert film.value / 3 / MIL == pytest.approx(1.40, abs=0.005)


def test_paint_for_the_doors() -> None:
    """Reference 11.4: 70 sqft x 2 coats / 400 = 0.35 gal."""
    paint = paint_to_buy(70 * SQUARE_FOOT, 2, 400 * SQFT_A_GALLON, can=GALLON / 4, spare=0)

    assert paint.value / GALLON == pytest.approx(0.35, rel=1e-9)
    assert paint.part("cans").value == 2  # quarts: 1.4
    assert paint.part("bought").value == pytest.approx(GALLON / 2, rel=1e-12)


def test_white_over_a_dark_finish_takes_a_primer_and_more_coats_than_white_over_white() -> None:
    """Common practice: two coats of the same tone; a primer and up to three from dark to white."""
    over_dark, over_white = coats_needed("dark", "light"), coats_needed("light", "light")

    assert (over_dark.part("primer").value, over_dark.value) == (1, 4)
    assert (over_white.part("primer").value, over_white.value) == (0, 2)


def test_a_tank_bridges_the_air_that_the_compressor_lacks() -> None:
    """Boyle's law by pint: 20 gal from 135 to 90 psi hold 20 gal x 45 / 14.696 of free air."""
    unit = pint.UnitRegistry()
    lack = 7 * unit.foot**3 / unit.minute
    expected = (20 * unit.gallon * (45 * unit.psi / unit.atm).to("") / lack).to("minute").magnitude

    air = spray_air(12 * CFM, 5 * CFM, 20 * GALLON, 135 * 6894.757, 90 * 6894.757)

    assert air.value == pytest.approx(5 / 12, rel=1e-12)
    assert air.part("minutes").value == pytest.approx(expected, rel=1e-6)


def test_a_receiver_bridges_the_published_five_seconds() -> None:
    """Receiver formula t = V (p1 - p2) / (C p), example (from memory): 1000 cfm, 110 to 100 psi, 122 cuft."""
    air = spray_air(10 * CFM, 1e-9 * CFM, 1.22 * 0.3048**3, 110 * 6894.757, 100 * 6894.757)  # a hundredth of it

    assert air.part("minutes").value * 60 == pytest.approx(5, rel=0.01)  # printed to the second


def test_a_shelf_of_times_matches_the_drying_of_the_class() -> None:
    """Reference 11.12 (common practice): shellac recoats within the hour, oil enamel not before 16 h."""
    times = table("coating_times")
    shellac, oil = times.row("shellac primer"), times.row("oil enamel")

    assert shellac is not None
    assert oil is not None
    assert shellac.cells["recoat_max"] == 3600
    assert oil.cells["recoat_min"] == 16 * 3600
    assert (shellac.cells["carrier"], oil.cells["carrier"]) == ("ethanol", "mineral spirits")


def test_knots_want_shellac() -> None:
    """Wood Handbook ch. 16: shellac or a special synthetic sealer on knots before priming."""
    row = table("bleed_sources").row("pine")

    assert row is not None
    assert row.cells["primer"] == "shellac"
    assert row.source.key == "wood-handbook-2010"
