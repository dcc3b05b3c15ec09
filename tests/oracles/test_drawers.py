"""Drawers and shelves against the reference's shop rules (common practice) and beam theory worked apart."""

import pytest

from advisor.calculators._base import OutOfRange
from advisor.calculators.drawers import (
    drawer_box_width,
    drawer_play,
    drawer_verdict,
    load_along,
    load_on_each,
    screw_longest,
    screw_margin,
    shelf_sag,
    slide_length,
)
from advisor.tables import table

INCH, FOOT, POUND = 0.0254, 0.3048, 0.45359237
PSI = POUND * 9.80665 / INCH**2


def test_box_for_an_18_inch_opening():
    """Reference 13.3: 16-15/16 to 17 in. 13.2: 12.9 to 13.2 mm a side, 25.8 to 26.4 mm in all."""
    box = drawer_box_width(18 * INCH)

    assert (box.value / INCH, box.part("narrowest").value / INCH) == pytest.approx((17, 16.9375))
    assert 18 * INCH - box.part("maker_widest").value == pytest.approx(0.0258)
    assert 18 * INCH - box.part("maker_narrowest").value == pytest.approx(0.0264)


@pytest.mark.parametrize(
    ("clearance", "verdict"),
    [(1.0625, "runs"), (1.07, "loose"), (0.99, "binds"), (1.0, "runs"), (0.96875, "binds"), (1.125, "loose")],
)
def test_clearance_verdict(clearance, verdict):
    """Reference 13.4: 1 in +1/16, -0; 13.3: a 17-1/32 in box binds, a 16-7/8 in one is loose in 18 in."""
    assert drawer_verdict(drawer_play(18 * INCH, (18 - clearance) * INCH).value) == verdict


def test_paint_under_the_slides_eats_the_maker_minimum():
    """Reference 13: 3 coats x 1.4 mil = .0042 in a face, .0084 in a side; the 0.2 mm a side is used up."""
    play = drawer_play(18 * INCH, 18 * INCH - 0.0258, 0.5 * INCH, 4 * 0.0042 * INCH)

    assert drawer_verdict(play.value) == "binds"
    assert play.value == pytest.approx(0.0004 - 4 * 0.0042 * INCH)


@pytest.mark.parametrize(("depth", "front", "slide"), [(22.125, 0, 22), (22.1, 0, 20), (22.875, 0.75, 22)])
def test_slide_length_leaves_an_eighth(depth, front, slide):
    """Reference 13.6: 22-1/8 in inside takes a 22 in slide; an inset front adds its thickness."""
    assert slide_length(depth * INCH, front * INCH).value / INCH == pytest.approx(slide)


def test_cabinet_too_shallow_for_any_slide_is_refused():
    """Reference 13.6 with the shortest stock slide of 8 in."""
    with pytest.raises(OutOfRange, match="shortest"):
        slide_length(8.1 * INCH)


def test_pocket_screws_by_board():
    """Reference 12.6 to 12.8: 1 in in 1/2 in boards, 1-1/4 in 3/4, 2-1/2 in 1-1/2."""
    rows = table("pocket_screws").rows.values()
    found = {round(row.cells["board"] / INCH, 4): round(row.cells["screw"] / INCH, 4) for row in rows}

    assert found == {0.5: 1, 0.75: 1.25, 1.5: 2.5}


@pytest.mark.parametrize(("piece", "receiving", "longest"), [(0.75, 0.75, 1.375), (0.5, 0.75, 1.125)])
def test_longest_face_screw_keeps_an_eighth(piece, receiving, longest):
    """Reference 12.9: never within 1/8 in of the far face; good: through and 2/3."""
    result = screw_longest(piece * INCH, receiving * INCH)

    assert result.value / INCH == pytest.approx(longest)
    assert result.part("good").value / INCH == pytest.approx(min(longest, piece + receiving * 2 / 3))


@pytest.mark.parametrize(("screw", "margin"), [(1.25, 0.25), (1.375, 0.125), (1.625, -0.125)])
def test_screw_margin_in_two_boards(screw, margin):
    """Reference 12.9; two 3/4 in boards."""
    assert screw_margin(screw * INCH, 0.75 * INCH, 0.75 * INCH).value / INCH == pytest.approx(margin)


def _sag_of_point_loads(span: float, load: float, thickness: float, depth: float, stiffness: float) -> float:
    """Mid-span deflection by superposing point loads: P b x (L2 - b2 - x2) / (6 L E I) for x <= a.

    The textbook formula for one load on a simple beam (any strength of materials), not the uniform one.
    """
    inertia, count, total = depth * thickness**3 / 12, 2000, 0.0
    for n in range(count):
        b = span - (n + 0.5) * span / count
        near = min(b, span - b)  # by symmetry take the side that holds no load before mid-span
        total += near * (span / 2) * (span**2 - near**2 - span**2 / 4) / (6 * span * stiffness * inertia)
    return total * load * 9.80665 * span / count


def test_shelf_sag_agrees_with_superposed_point_loads():
    """36 x 11 x 3/4 in, 30 lb/ft, plywood: independent derivation; 1e-5 for 2000 slices."""
    stiffness = table("panel_stiffness").row("plywood").cells["moe"]
    shelf = (36 * INCH, 30 * POUND / FOOT, 0.75 * INCH, 11 * INCH, stiffness)

    assert shelf_sag(*shelf).value == pytest.approx(_sag_of_point_loads(*shelf), rel=1e-5)


def test_shelf_sag_by_hand_in_pounds_and_inches():
    """5 w L4 / (384 E I) in pounds and inches: 5 x 2.5 x 36^4 / (384 x 1,000,000 x .38672) = .1414 in."""
    sag = shelf_sag(36 * INCH, 30 * POUND / FOOT, 0.75 * INCH, 11 * INCH, 1_000_000 * PSI)

    assert sag.value / INCH == pytest.approx(0.1414, abs=0.0001)


def test_sag_limit_is_two_hundredths_an_inch_a_foot():
    """Rule of thumb of shelf builders: 0.02 in a foot; half as much sag again over the years."""
    sag = shelf_sag(3 * FOOT, 30, 0.02, 0.28, 7e9)

    assert sag.part("limit").value / INCH == pytest.approx(0.06)
    assert sag.part("in_time").value == pytest.approx(1.5 * sag.value)


@pytest.mark.parametrize(("material", "psi"), [("yellow birch", 2.01e6), ("cherry", 1.49e6), ("white ash", 1.74e6)])
def test_stiffness_is_that_of_the_handbook(material, psi):
    """Wood Handbook Table 5-3 at 12 %, modulus of elasticity."""
    assert table("panel_stiffness").row(material).cells["moe"] / PSI == pytest.approx(psi, rel=1e-6)


def test_panels_are_less_stiff_than_wood_and_particleboard_least():
    """Wood Handbook ch. 12 against Table 5-3: order of stiffness of shelf materials."""
    found = [
        table("panel_stiffness").row(name).cells["moe"] for name in ("particleboard", "mdf", "osb", "plywood", "pine")
    ]

    assert found == sorted(found)


def test_load_along_a_shelf_by_hand():
    """Ninety pounds over three feet is thirty on each; nobody spreads a load over no length."""
    assert load_along(90 * POUND, 3 * FOOT).value * FOOT / POUND == pytest.approx(30)
    with pytest.raises(OutOfRange):
        load_along(90 * POUND, 0)


def test_fixings_share_a_load_alike():
    """Common practice: 200 lb on four is 50 lb each, and no fixing means no share."""
    assert load_on_each(200 * POUND, 4).value / POUND == pytest.approx(50)
    with pytest.raises(OutOfRange):
        load_on_each(200 * POUND, 0)
