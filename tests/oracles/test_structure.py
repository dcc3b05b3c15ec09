"""Notches and holes against the IRC as printed by a county, a state and a course; debris against ASCE 7."""

import pytest

from advisor.calculators import OutOfRange
from advisor.calculators.structure import (
    debris_weight,
    deepest_joist_notch,
    deepest_stud_notch,
    widest_cable_hole,
    widest_joist_hole,
    widest_stud_hole,
)
from advisor.tables import table

INCH, FOOT, POUND = 0.0254, 0.3048, 0.45359237


@pytest.mark.parametrize(
    ("depth", "wall", "printed"),
    [
        (3.5, "bearing", 7 / 8),
        (5.5, "bearing", 1 + 3 / 8),
        (3.5, "non-bearing", 1 + 3 / 8),
        (5.5, "non-bearing", 2 + 3 / 16),
    ],
)
def test_stud_notches_agree_with_a_countys_sheet(depth, wall, printed) -> None:
    """Mecklenburg County, common code defects, R602.6; printed to the next sixteenth."""
    assert deepest_stud_notch(depth * INCH, wall).value / INCH == pytest.approx(printed, abs=1 / 32)


@pytest.mark.parametrize(
    ("depth", "wall", "printed"),
    [
        (3.5, "bearing", 1.40),
        (3.5, "doubled", 2.10),
        (3.5, "non-bearing", 2.10),
        (5.5, "bearing", 2.20),
        (5.5, "non-bearing", 3.30),
    ],
)
def test_stud_holes_agree_with_the_code(depth, wall, printed) -> None:
    """WAC 296-150C-1000 and IRC R602.6 (2018): 40 and 60 % of the width; house 7.7."""
    assert widest_stud_hole(depth * INCH, wall).value / INCH == pytest.approx(printed, abs=0.005)


def test_a_narrow_stud_keeps_five_eighths_each_side() -> None:
    """WAC 296-150C-1000(2): in no case nearer than 5/8 in; 2-1/2 in leaves 1-1/4, less than 60 %."""
    assert widest_stud_hole(2.5 * INCH, "non-bearing").value / INCH == pytest.approx(1.25)


@pytest.mark.parametrize(("place", "printed"), [("middle third", 0), ("outer third", 1.54), ("end", 2.31)])
def test_joist_notches_agree_with_a_course_example(place, printed) -> None:
    """Examination course on R502.8.1: a 2x10 is 9-1/4 in deep; printed to two places."""
    assert deepest_joist_notch(9.25 * INCH, place).value / INCH == pytest.approx(printed, abs=0.005)


@pytest.mark.parametrize(("depth", "printed"), [(9.25, 3.08), (11.25, 3.75), (5.5, 1.5)])
def test_joist_holes_leave_two_inches(depth, printed) -> None:
    """R502.8.1: depth / 3 (3.08 in, 3-3/4 in in print); a 2x6 has 5.5 - 2 x 2 = 1.5 in, less than a third."""
    assert widest_joist_hole(depth * INCH).value / INCH == pytest.approx(printed, abs=0.005)


@pytest.mark.parametrize(("depth", "hole"), [(3.5, 1.0), (5.5, 3.0)])
def test_a_cable_keeps_an_inch_and_a_quarter(depth, hole) -> None:
    """NFPA 70, 300.4(A)(1), as quoted by the trade (house 3.2.28)."""
    assert widest_cable_hole(depth * INCH).value / INCH == pytest.approx(hole)


@pytest.mark.parametrize(("material", "kilonewtons"), [("plaster", 0.38), ("tile", 0.77), ("hardwood floor", 0.19)])
def test_weights_agree_with_the_metric_column_of_the_standard(material, kilonewtons) -> None:
    """ASCE 7-16, Table C3.1-1b (kN/m2), against the rows read from ASCE 7-05 (psf); rounded to two places."""
    weight = debris_weight(1, table("debris").row(material).cells["weight"]).value

    assert weight * 9.80665 / 1000 == pytest.approx(kilonewtons, abs=0.006)


def test_a_hundred_square_feet_of_plaster() -> None:
    """ASCE 7-05, Table C3-1: 8 psf, so 800 lb, 1600 for two layers."""
    plaster = 8 * POUND / FOOT**2

    assert debris_weight(100 * FOOT**2, plaster).value / POUND == pytest.approx(800)
    assert debris_weight(100 * FOOT**2, plaster, 2).value / POUND == pytest.approx(1600)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: deepest_stud_notch(-1), "depth must be"),
        (lambda: deepest_stud_notch(0.09, "brick"), "wall must be one of bearing"),
        (lambda: widest_stud_hole(0), "depth must be"),
        (lambda: deepest_joist_notch(0.2, "top"), "place must be one of middle third"),
        (lambda: widest_joist_hole(5), "depth must be"),
        (lambda: widest_cable_hole(0), "depth must be"),
        (lambda: debris_weight(-1, 10), "area must be"),
    ],
)
def test_what_cannot_be_is_refused(call, message) -> None:
    with pytest.raises(OutOfRange, match=message):
        call()
