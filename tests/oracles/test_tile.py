"""Tile against the standards as quoted by the trade, the tile council's answers and plain geometry."""

import pytest

from advisor.calculators.tile import (
    area_of_pieces,
    course_taper,
    grout_mass,
    tile_area,
    tile_courses,
    tile_layout,
    tile_to_buy,
)
from advisor.calculators.tile_setting import (
    flatness_allowed,
    grout_type,
    joint_least,
    lippage_allowed,
    movement_joints,
    offset_allowed,
)
from advisor.tables import table

INCH = 0.0254
FOOT = 0.3048
SQUARE_FOOT = FOOT**2


def test_sixty_two_square_feet_and_their_waste() -> None:
    """Reference 10.16 (common practice): 62 ft2 and 10 % are 68.2 ft2."""
    buy = tile_to_buy(62 * SQUARE_FOOT, 10.7 * SQUARE_FOOT)

    assert buy.value / SQUARE_FOOT == pytest.approx(68.2, rel=1e-9)
    assert buy.part("boxes").value == 7 + 1  # 68.2 / 10.7 = 6.4, and one for repairs


def test_a_window_is_taken_off_the_splash() -> None:
    """Geometry: 9 ft x 18 in + 6 ft x 18 in less a sill of 3 ft x 6 in."""
    area = tile_area((9 * 1.5 * SQUARE_FOOT, 6 * 1.5 * SQUARE_FOOT), (3 * 0.5 * SQUARE_FOOT,))

    assert area.value / SQUARE_FOOT == pytest.approx(21.0, rel=1e-12)


def by_hand(run: float, tile: float, joint: float, middle_is_joint: bool) -> float:
    """The end piece found by laying tile after tile from the middle to the wall, in sixteenths of an inch."""
    place = run / 2 - (joint / 2 if middle_is_joint else tile / 2 + joint)
    while place >= tile + joint:
        place -= tile + joint
    return tile if place == 0 or place > tile else place


@pytest.mark.parametrize("run", range(400, 1700, 37))
@pytest.mark.parametrize(("tile", "joint"), [(96, 2), (48, 2), (128, 3), (192, 0)])
def test_layout_agrees_with_laying_the_tiles_one_by_one(run: int, tile: int, joint: int) -> None:
    """Whole sixteenths of an inch, so that laying by hand is exact."""
    sixteenth = INCH / 16

    layout = tile_layout(run * sixteenth, tile * sixteenth, joint * sixteenth)

    on_joint, on_tile = by_hand(run, tile, joint, True), by_hand(run, tile, joint, False)
    assert layout.part("from_a_joint").value / sixteenth == pytest.approx(on_joint, abs=1e-6)
    assert layout.part("from_a_tile").value / sixteenth == pytest.approx(on_tile, abs=1e-6)
    assert layout.value / sixteenth == pytest.approx(max(on_joint, on_tile), abs=1e-6)
    assert (layout.part("shift").value > 0) == (on_tile > on_joint)


def test_a_sliver_at_the_ends_goes_when_the_layout_shifts_by_half_a_tile() -> None:
    """Geometry: 49 in of 6 in tile: four and 1/2 in from the middle; shifted by 3 in, three and 3-1/2 in."""
    layout = tile_layout(49 * INCH, 6 * INCH, 0)

    assert layout.part("from_a_joint").value / INCH == pytest.approx(0.5, abs=1e-9)
    assert layout.value / INCH == pytest.approx(3.5, abs=1e-9)
    assert layout.part("shift").value / INCH == pytest.approx(3, abs=1e-9)


def test_a_layout_that_ends_in_wide_pieces_is_left_alone() -> None:
    """Geometry: 97 in of 6 in tile, 1/8 in joints: 48-7/16 in less seven of 6-1/8 in are 5-9/16 in."""
    layout = tile_layout(97 * INCH, 6 * INCH, INCH / 8)

    assert layout.value / INCH == pytest.approx(48.4375 - 7 * 6.125, abs=1e-9)
    assert layout.part("shift").value == 0


def test_six_courses_of_three_inch_tile_below_the_wall_cabinets() -> None:
    """Reference 8.6 (18 in) and geometry: 17-7/8 in hold five courses of 3-1/8 in; the last is 2-1/4 in."""
    courses = tile_courses(18 * INCH, 3 * INCH, INCH / 8)

    assert courses.part("full_courses").value == 5
    assert courses.value / INCH == pytest.approx(2.25, abs=1e-9)


def test_courses_that_come_out_even_end_in_a_whole_tile() -> None:
    """Geometry: four courses of 4 in and three joints of 1/8 in over a gap of 1/8 in are 16-1/2 in."""
    courses = tile_courses(16.5 * INCH, 4 * INCH, INCH / 8)

    assert courses.part("full_courses").value == 3
    assert courses.value / INCH == pytest.approx(4, abs=1e-9)


def test_an_edge_half_an_inch_off_takes_half_an_inch_from_the_last_course() -> None:
    """Geometry."""
    taper = course_taper(2 * INCH, INCH / 2)

    assert taper.value / INCH == pytest.approx(1.5, abs=1e-12)
    assert taper.part("lost").value == pytest.approx(0.25, abs=1e-12)


@pytest.mark.parametrize(
    ("sides", "joint", "depth", "expected"),
    [((0.300, 0.600), 0.003, 0.009, 0.216), ((0.075, 0.150), 0.003, 0.008, 0.768)],
)
def test_grout_by_the_usual_formula(sides: tuple[float, float], joint: float, depth: float, expected: float) -> None:
    """Reference 10.15: (L + W) / (L W) x joint x depth x 1.6 kg/L, kg a square metre."""
    assert grout_mass(1, *sides, joint, depth).value == pytest.approx(expected, abs=0.0005)


def test_grout_formula_counts_the_crossings_twice() -> None:
    """Geometry: the exact mass of 300 x 600 mm tile is 0.2135 kg/m2; the formula is 1.2 % above it."""
    length, width, joint, depth = 0.300, 0.600, 0.003, 0.009
    cell = (length + joint) * (width + joint)
    exact = (cell - length * width) / cell * depth * 1600

    assert exact == pytest.approx(0.2135, abs=0.0005)
    assert grout_mass(1, length, width, joint, depth).value / exact == pytest.approx(1.012, abs=0.001)


def test_grout_volume_of_a_square_foot() -> None:
    """Reference 10.14: 12 x 24 in tile, 1/8 x 3/8 in joints: 0.844 in3 a square foot."""
    grout = grout_mass(SQUARE_FOOT, 12 * INCH, 24 * INCH, INCH / 8, INCH * 3 / 8)

    assert grout.part("volume").value / INCH**3 == pytest.approx(0.844, abs=0.0005)


@pytest.mark.parametrize(("side", "allowed"), [(12, 1 / 4), (14.9, 1 / 4), (15, 1 / 8), (24, 1 / 8)], ids=str)
def test_flatness_below_and_from_fifteen_inches(side: float, allowed: float) -> None:
    """ANSI A108.02, 4.2.2 (as quoted in three articles): 12 in tile over 3/16 in passes, 12 x 24 in fails."""
    assert flatness_allowed(side * INCH).value / INCH == pytest.approx(allowed, abs=1e-9)


@pytest.mark.parametrize(
    ("joint", "warpage", "allowed"), [(1 / 8, 1 / 64, 3 / 64), (1 / 8, 0, 1 / 32), (1 / 4, 0, 1 / 16)]
)
def test_lippage_adds_the_measured_warpage(joint: float, warpage: float, allowed: float) -> None:
    """Trap 0.14; ANSI A108.02 (2013) 4.3.7 and the tile council: the actual warpage counts."""
    result = lippage_allowed(joint * INCH, warpage * INCH)

    assert result.value / INCH == pytest.approx(allowed, abs=1e-9)


@pytest.mark.parametrize(("variation", "joint"), [(1 / 16, 3 / 16), (1 / 64, 1 / 16), (0, 1 / 16)])
def test_joint_is_three_times_the_variation_and_a_sixteenth_at_least(variation: float, joint: float) -> None:
    """ANSI A108.02 (2017), 4.3.8."""
    assert joint_least(variation * INCH).value / INCH == pytest.approx(joint, abs=1e-9)


@pytest.mark.parametrize(("side", "rectified", "joint"), [(24, "yes", 1 / 8), (24, "no", 3 / 16), (15, "no", 1 / 16)])
def test_large_tile_in_running_bond_wants_a_wider_joint(side: float, rectified: str, joint: float) -> None:
    """ANSI A108.02: a 6 x 24 in calibrated tile at 1/8 in fails."""
    least = joint_least(0, side * INCH, "yes", rectified)

    assert least.value / INCH == pytest.approx(joint, abs=1e-9)


@pytest.mark.parametrize(("side", "offset"), [(12, 0.5), (15, 0.5), (16, 1 / 3), (18, 1 / 3), (24, 1 / 3)], ids=str)
def test_offset_is_a_third_above_fifteen_inches(side: float, offset: float) -> None:
    """Trap 0.13: older texts say 18 in, so a 16 in tile tells the two apart. ANSI A108.02: over 15 in."""
    assert offset_allowed(side * INCH).value == pytest.approx(offset, abs=1e-9)


@pytest.mark.parametrize(
    ("run", "sun", "joints"), [(30, "no", 1), (30, "yes", 2), (25, "no", 0), (12, "yes", 0), (0, "no", 0)]
)
def test_movement_joints_of_a_floor(run: float, sun: str, joints: int) -> None:
    """TCNA EJ171: 25 ft at most, 12 ft at most in sun or moisture. At the limit there is no joint yet."""
    assert movement_joints(run * FOOT, sun).value == joints


@pytest.mark.parametrize(
    ("joint", "kind"), [(1 / 16, "unsanded"), (1 / 8, "sanded"), (3 / 8, "sanded"), (1 / 2, "heavily_sanded")]
)
def test_grout_by_the_width_of_the_joint(joint: float, kind: str) -> None:
    """Tile council FAQ: below 1/8 in unsanded; from 1/8 in sanded; over 3/8 in heavily sanded."""
    result = grout_type(joint * INCH)

    assert [part.name for part in result.parts if part.value] == [kind]


def test_thin_set_waits_a_day_or_two_before_grout() -> None:
    """Reference 10.10 (common practice and trade articles): 24 to 48 h; grout at 12 h is too soon."""
    row = table("tile_adhesives").row("thinset")

    assert row is not None
    assert (row.cells["grout_min"], row.cells["grout_max"]) == (24 * 3600, 48 * 3600)


@pytest.mark.parametrize(
    ("count", "long", "wide", "feet"), [(8, 6, 3, 1), (9, 4, 4, 1), (1, 12, 12, 1), (60, 6, 3, 7.5)]
)
def test_pieces_that_cover_a_square_foot(count: int, long: float, wide: float, feet: float) -> None:
    """Plain geometry, as boxes print it: eight 3 x 6 in pieces, nine 4 x 4 in, one 12 x 12 in."""
    assert area_of_pieces(count, long * INCH, wide * INCH).value / FOOT**2 == pytest.approx(feet)
