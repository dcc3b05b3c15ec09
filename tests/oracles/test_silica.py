"""Silica against 29 CFR 1926.1153 (Table 1; state twin 8 CCR 1532.3), 1910.134 Table 1 and measurements."""

import pytest

from advisor.calculators._base import OutOfRange
from advisor.calculators.silica import (
    collector_airflow,
    dust_behind_respirator,
    dust_most_for_respirator,
    silica_average,
    silica_protection,
    silica_time,
)
from advisor.tables import table

HOUR, MICROGRAM, CFM = 3600.0, 1e-9, 0.3048**3 / 60


@pytest.mark.parametrize(("dust", "limit", "action"), [(964, 24.9, 12.45), (440, 54.5, 27.3)])
def test_minutes_to_the_limits(dust, limit, action):
    """29 CFR 1926.1153: 50 and 25 ug/m3 over 480 min. 440: roof-tile cutter, NIOSH HETA 2005-0032."""
    result = silica_time(dust * MICROGRAM)

    assert result.value / 60 == pytest.approx(limit, abs=0.05)
    assert result.part("to_action_level").value / 60 == pytest.approx(action, abs=0.05)


def test_average_of_a_full_shift_is_the_concentration():
    """29 CFR 1926.1153(b): an 8 h average; NIOSH HETA 2005-0032: 440 ug/m3 is 8.8 times the limit."""
    shift = silica_average(440 * MICROGRAM, 8 * HOUR)

    assert shift.value / MICROGRAM == pytest.approx(440)
    assert shift.part("of_limit").value == pytest.approx(8.8)


def test_tile_cutting_measured_at_nearly_five_times_the_limit():
    """Borghi et al. 2025: 240.9 ug/m3 as an 8 h average is 4.8 times 50."""
    assert silica_average(240.9 * MICROGRAM, 8 * HOUR).part("of_limit").value == pytest.approx(4.8, abs=0.05)


@pytest.mark.parametrize(
    ("task", "place", "hours", "factor"),
    [
        ("wet tile saw", "indoors", 8, 1),  # (i): none
        ("wet handheld saw", "outdoors", 4, 1),  # (ii)
        ("wet handheld saw", "outdoors", 4.1, 10),
        ("wet handheld saw", "indoors", 1, 10),
        ("wet handheld saw", "indoors", 8, 10),
        ("fiber-cement saw", "outdoors", 8, 1),  # (iii)
        ("shrouded drill", "indoors", 6, 1),  # (vii)
        ("powered chipping tool", "outdoors", 4, 1),  # (x)
        ("powered chipping tool", "outdoors", 4.1, 10),
        ("powered chipping tool", "indoors", 0.5, 10),
        ("powered chipping tool", "indoors", 8, 10),
        ("mortar grinder", "outdoors", 4, 10),  # (xi)
        ("mortar grinder", "indoors", 4.1, 25),
        ("wet grinder", "outdoors", 8, 1),  # (xii)
        ("shrouded grinder", "indoors", 4, 1),
        ("shrouded grinder", "indoors", 4.1, 10),
        ("shrouded grinder", "outdoors", 8, 1),
    ],
)
def test_respirator_is_that_of_table_1(task, place, hours, factor):
    """29 CFR 1926.1153 Table 1; 1 stands for none."""
    assert silica_protection(task, place, hours * HOUR).value == factor


@pytest.mark.parametrize(
    ("task", "place"),
    [
        ("dry cutting", "indoors"),
        ("dry cutting", "outdoors"),
        ("fiber-cement saw", "indoors"),
        ("wet grinder", "indoors"),
    ],
)
def test_work_that_table_1_does_not_cover_has_no_answer(task, place):
    """29 CFR 1926.1153(c), (d): then exposure is assessed; rows (iii), (xii) water: outdoors only."""
    with pytest.raises(OutOfRange, match="not covered"):
        silica_protection(task, place, HOUR)


@pytest.mark.parametrize(("inches", "cfm"), [(5, 125), (4.5, 112.5)])
def test_collector_moves_25_cfm_an_inch_of_wheel(inches, cfm):
    """29 CFR 1926.1153 Table 1 (xi), (xii): 5 in asks 125 cfm."""
    assert collector_airflow(inches * 0.0254).value / CFM == pytest.approx(cfm)


def test_half_mask_lets_a_tenth_through():
    """29 CFR 1910.134 Table 1: half mask 10; 440 ug/m3 becomes 44."""
    half_mask = table("apf").row("n95").cells["factor"]

    assert dust_behind_respirator(440 * MICROGRAM, half_mask).value / MICROGRAM == pytest.approx(44)


@pytest.mark.parametrize(("respirator", "most"), [("half mask", 500), ("full face mask", 2500)])
def test_strongest_lead_dust_by_respirator(respirator, most):
    """29 CFR 1910.134(d)(3)(i)(B) on the lead limit of 50 ug/m3: 500 and 2500."""
    factor = table("apf").row(respirator).cells["factor"]

    assert dust_most_for_respirator(factor, 50 * MICROGRAM).value / MICROGRAM == pytest.approx(most)


@pytest.mark.parametrize(
    ("respirator", "factor"),
    [
        ("quarter mask", 5),
        ("half mask", 10),
        ("full face mask", 50),
        ("powered half mask", 50),
        ("powered full face mask", 1000),
        ("powered hood", 25),
        ("papr", 25),
    ],
)
def test_protection_factors_are_those_of_the_regulation(respirator, factor):
    """29 CFR 1910.134(d)(3)(i)(A) Table 1; not the 100 for a full face mask of nuclear lists."""
    assert table("apf").row(respirator).cells["factor"] == factor


def test_only_100_class_filters_are_fit_for_lead_dust_and_no_particle_filter_for_vapor():
    """OSHA respirator eTool; 42 CFR 84."""
    rows = table("respirator_filters").rows
    lead = {key for key, row in rows.items() if row.cells["lead_dust"] == "yes"}
    vapor = {key for key, row in rows.items() if row.cells["vapor"] == "yes"}

    assert lead == {"n100", "p100", "organic vapor with p100"}
    assert vapor == {"organic vapor cartridge", "organic vapor with p100"}
