"""Lead against 40 CFR 745, 89 FR 89416, 29 CFR 1926.62 and, for units, pint."""

import pint
import pytest

from advisor.calculators.lead import lead_air_limit, lead_area, lead_dust, lead_prevalence, lead_to_remove
from advisor.tables import table

UNITS = pint.UnitRegistry()
FOOT2 = UNITS.Quantity(1, "ft**2").to("m**2").magnitude
DAY = 86_400.0


def _loading(ug_per_square_foot: float) -> float:
    return UNITS.Quantity(ug_per_square_foot, "ug/ft**2").to("kg/m**2").magnitude


@pytest.mark.parametrize(
    ("areas", "days", "where", "minor"),
    [
        ((6.0,), (), "inside", True),  # 745.83: 6 sq ft passes
        ((6.01,), (), "inside", False),
        ((4, 3), (0, 20), "inside", False),  # EPA FAQ 23002-14294
        ((4, 3), (0, 31), "inside", True),
        ((12, 12), (), "outside", False),  # house trap 9: 20 sq ft in all, not a side; FAQ 23002-18379
        ((10, 10), (), "outside", True),
    ],
)
def test_minor_work_is_counted_over_30_days_and_all_sides(areas, days, where, minor):
    """40 CFR 745.83 with the FAQ of the agency: house reference 1.3 to 1.5."""
    result = lead_area(tuple(a * FOOT2 for a in areas), where, tuple(d * DAY for d in days))

    assert (result.part("over").value == 0) is minor


def test_whole_surface_of_a_removed_strip_counts():
    """House reference 1.7 (EPA FAQ 23002-14294): 1 in off a 36 in door is 36 sq in, 0.25 sq ft."""
    strip = UNITS.Quantity(36, "inch**2").to("m**2").magnitude

    assert lead_area((strip,)).value / FOOT2 == pytest.approx(0.25)


@pytest.mark.parametrize(
    ("disturbed", "floor", "expected"),
    [(1, 100, 9290), (6, 120, 46_452)],  # HUD Guidelines print about 9,300; second: the "minor" limit
)
def test_paint_spread_as_dust(disturbed, floor, expected):
    """House reference 1A: 1.0 mg/cm2 over the floor, ug/sq ft; 0.5 % for its rounding."""
    result = lead_dust(disturbed * FOOT2, floor * FOOT2)

    assert result.value / _loading(1) == pytest.approx(expected, rel=0.005)


def test_one_square_foot_dirties_a_floor_1858_times_over():
    """89 FR 89416: action level of floors 5 ug/sq ft; 9290 / 5."""
    spread = lead_dust(FOOT2, 100 * FOOT2)

    assert spread.part("times_action_level").value == pytest.approx(1858, rel=0.005)
    assert spread.part("to_remove").value == pytest.approx(0.99946, abs=0.00001)


def test_default_paint_is_the_federal_definition():
    """40 CFR 745.103: 1.0 mg/cm2; converted by pint."""
    paint = UNITS.Quantity(1.0, "mg/cm**2").to("kg/m**2").magnitude

    assert lead_dust(FOOT2, FOOT2).value == pytest.approx(paint)


def test_cleaning_share_down_to_the_action_level():
    """House reference 1A, with the level of 89 FR 89416: 1 - 5 / 9290 = 0.99946; below it nothing is left to remove."""
    assert lead_to_remove(_loading(9290.3)).value == pytest.approx(0.99946, abs=0.00001)
    assert lead_to_remove(_loading(4.9)).value == 0


@pytest.mark.parametrize(("hours", "limit"), [(4, 50), (8, 50), (10, 40.0), (12, 33.3)])
def test_air_limit_falls_with_the_shift(hours, limit):
    """29 CFR 1926.62(c)(2): 400 / hours; 1910.1025 Appendix B prints 40 for 10 h."""
    assert lead_air_limit(hours * 3600).value * 1e9 == pytest.approx(limit, abs=0.05)


@pytest.mark.parametrize(
    ("year", "share"), [(1935, 0.87), (1940, 0.69), (1950, 0.69), (1970, 0.24), (1977, 0.24), (1978, 0.07)]
)
def test_prevalence_by_year_built(year, share):
    """National survey 1998-2000 (Jacobs et al. 2002), as county and agency pages quote it."""
    assert lead_prevalence(year).value == share


@pytest.mark.parametrize(
    ("edition", "levels"), [("current", (5, 40, 100)), ("2019", (10, 100, 400)), ("2001", (40, 250, 400))]
)
def test_dust_levels_by_edition(edition, levels):
    """House trap 10: 40/250/400 (66 FR 1206) was superseded in 2019-2021 and by 89 FR 89416."""
    cells = table("dust_lead_levels").row(edition).cells

    found = [cells[place] / _loading(1) for place in ("floor", "sill", "trough")]

    assert found == pytest.approx(list(levels))
