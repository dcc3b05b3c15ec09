"""Worktops against common kitchen measures (house section 8) and numpy's interpolation."""

import numpy as np
import pytest

from advisor.calculators import OutOfRange
from advisor.calculators.tops import (
    cutout_strip,
    gap_left_open,
    overhang_excess,
    room_under_top,
    space_above_top,
    step_at_range,
    stone_top_weight,
    tapered_cut,
    toe_kick_gap,
    toe_space_left,
    top_height,
    top_rise,
)
from advisor.tables import table

INCH, POUND = 0.0254, 0.45359237


def test_a_standard_counter_is_36_in_high() -> None:
    """Common practice (house 8.1): base 34-1/2 in and top 1-1/2 in."""
    assert top_height(34.5 * INCH, 1.5 * INCH).value / INCH == pytest.approx(36)


def test_a_shim_lifts_and_a_new_floor_lowers_the_top() -> None:
    """Addition by hand: 34-1/2 + 3/4 + 1-1/2 - 1/2 = 36-1/4 in."""
    assert top_height(34.5 * INCH, 1.5 * INCH, 0.75 * INCH, 0.5 * INCH).value / INCH == pytest.approx(36.25)


def test_a_thicker_top_on_shims_rises() -> None:
    """Addition by hand: 1-1/2 - 1 + 3/4 = 1-1/4 in."""
    assert top_rise(1.5 * INCH, 1.0 * INCH, 0.75 * INCH).value / INCH == pytest.approx(1.25)


def test_wall_cabinets_stand_18_in_above_a_counter() -> None:
    """Common practice (house 8.6): 54 in less 36 in."""
    assert space_above_top(54 * INCH, 36 * INCH).value / INCH == pytest.approx(18)


def test_a_raised_top_stands_above_the_range() -> None:
    """Subtraction by hand: 36-3/4 in against a range of 36 in."""
    assert step_at_range(36.75 * INCH, 36 * INCH).value / INCH == pytest.approx(0.75)


def test_a_new_floor_traps_a_dishwasher() -> None:
    """House 8.7 (common practice): a floor raised 3/4 in under 34-1/2 in leaves 33-3/4 in for 34 in."""
    room = room_under_top(34.5 * INCH, 34 * INCH, new_floor=0.75 * INCH)

    assert room.part("opening").value / INCH == pytest.approx(33.75)
    assert room.value / INCH == pytest.approx(-0.25)


def test_a_shim_as_thick_as_the_new_floor_frees_it_again() -> None:
    """House 8.7 (common practice): with floor and shim alike, 34-1/2 in is left for 34 in."""
    assert room_under_top(34.5 * INCH, 34 * INCH, 0.75 * INCH, 0.75 * INCH).value / INCH == pytest.approx(0.5)


def test_a_shimmed_cabinet_leaves_a_gap_at_the_toe_kick() -> None:
    assert toe_kick_gap(0.75 * INCH, 0.25 * INCH).value / INCH == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("gap", "closing", "closes"), [(0.25, "caulk", True), (0.26, "caulk", False), (0.5, "trim", True)]
)
def test_caulk_closes_a_quarter_inch_and_trim_more(gap, closing, closes) -> None:
    """Common practice; a gap at the limit passes."""
    widest = table("gap_closings").row(closing).cells["widest"]

    assert (gap_left_open(gap * INCH, widest).value <= 1e-12) is closes


@pytest.mark.parametrize("place", [0.0, 0.5, 1.7, 2.4])
def test_a_taper_is_a_straight_line(place) -> None:
    """numpy.interp over the same two ends."""
    cut = tapered_cut(0.457, 0.470, 2.4, place)

    assert cut.value == pytest.approx(np.interp(place, [0, 2.4], [0.457, 0.470]), rel=1e-12)
    assert cut.part("taper").value == pytest.approx(0.013 / 2.4)


@pytest.mark.parametrize(("overhang", "over"), [(12.0, False), (12.1, True)])
def test_a_hardwood_top_overhangs_12_in_at_most(overhang, over) -> None:
    """Materials 12.5 (common practice): 10 to 12 in for 1-1/2 in hardwood."""
    row = table("overhangs").row("hardwood").cells

    assert (row["sure"] / INCH, row["most"] / INCH) == pytest.approx((10, 12))
    assert (overhang_excess(overhang * INCH, row["most"]).value > 1e-12) is over


@pytest.mark.parametrize(
    ("stone", "pounds"),
    [
        ("granite", 172.3),  # CRC Handbook: 2640 to 2760 kg/m3
        ("marble", 174.8),  # 2600 to 2800
        ("slate", 184.2),  # 2700 to 2950
        ("engineered stone", 161.1),  # EN 14617-1, quartz slabs: 2.20 to 2.58 g/cm3
        ("concrete", 150),  # HUD Residential Structural Design Guide: 145 to 150 pcf
    ],
)
def test_a_cubic_foot_of_stone_weighs_the_heavier_end_of_its_range(stone, pounds) -> None:
    """1 kg/m3 is 0.062428 lb/cuft: a foot cubed, a quarter of it thick, four times."""
    foot = 0.3048
    density = table("stone_densities").row(stone).cells["most"]

    assert 4 * stone_top_weight(foot, foot, foot / 4, density).value / POUND == pytest.approx(pounds, abs=0.05)


@pytest.mark.parametrize(
    ("centimeters", "low", "high"),
    [(2, 12, 14), (3, 18, 20)],
)
def test_a_square_foot_of_granite_weighs_about_what_the_trade_says(centimeters, low, high) -> None:
    """Common practice: 2 cm 12 to 14 lb, 3 cm 18 to 20 lb, rounded up; within a tenth of that span."""
    foot = stone_top_weight(0.3048, 0.3048, centimeters / 100, table("stone_densities").row("granite").cells["most"])

    assert 0.9 * low <= foot.value / POUND <= 1.1 * high


@pytest.mark.parametrize(
    ("stone", "least"), [("granite", 160), ("marble", 162), ("sandstone", 125), ("quartzite", 160), ("limestone", 135)]
)
def test_least_density_is_that_of_the_standard_for_dimension_stone(stone, least) -> None:
    """ASTM C615, C503, C616 classes I and III, C568 class II, by C97, in lb/ft3."""
    cells = table("stone_densities").row(stone).cells

    assert cells["least"] * 0.3048**3 / POUND == pytest.approx(least)
    assert cells["least"] < cells["most"]


@pytest.mark.parametrize(
    "call",
    [
        lambda: top_height(-34.5 * INCH, 0.03),
        lambda: top_height(0.9, 0.2),
        lambda: top_rise(0.03, -0.03),
        lambda: space_above_top(0, 0.9),
        lambda: step_at_range(0.9, 4),
        lambda: room_under_top(0.9, 0),
        lambda: toe_kick_gap(-0.01),
        lambda: gap_left_open(0.4, 0.01),
        lambda: tapered_cut(0.1, 0.2, 1.0, 1.1),
        lambda: overhang_excess(-0.1, 0.3),
        lambda: stone_top_weight(6, 0.6, 0.03, 2700),
        lambda: stone_top_weight(2, 0.6, 0.3, 2700),
        lambda: stone_top_weight(2, 0.6, 0.03, 27),
    ],
)
def test_a_measure_that_cannot_be_is_refused(call) -> None:
    with pytest.raises(OutOfRange, match="must be"):
        call()


@pytest.mark.parametrize(("kick", "floor", "left"), [(4, 0.75, 3.25), (4, 1.25, 2.75), (3.5, 0, 3.5)])
def test_toe_space_that_a_new_floor_leaves(kick: float, floor: float, left: float) -> None:
    """Usual kitchen measures, common practice: toe spaces of 3-1/2 to 4 in, floors of 3/4 in and more."""
    assert toe_space_left(kick * INCH, floor * INCH).value / INCH == pytest.approx(left)


@pytest.mark.parametrize(("width", "cutout", "strip"), [(25, 22, 1.5), (25, 21, 2), (25, 16, 4.5), (20, 22, -1)])
def test_strips_beside_a_cutout_in_the_middle(width: float, cutout: float, strip: float) -> None:
    """Plain geometry: what the cutout leaves of the top, half in front and half behind."""
    assert cutout_strip(width * INCH, cutout * INCH).value / INCH == pytest.approx(strip)
