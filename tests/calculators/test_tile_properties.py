"""Tile: what geometry says whatever the numbers."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.calculators import OutOfRange
from advisor.calculators.tile import (
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

TILE = st.floats(0.02, 0.6)
JOINT = st.floats(0, 0.01)
RUN = st.floats(1.3, 20)


@given(RUN, TILE, JOINT)
def test_the_better_layout_leaves_nearly_half_a_tile_or_more(run: float, tile: float, joint: float) -> None:
    """The starts differ by half a tile and joint: one of them ends in half a tile less a joint."""
    layout = tile_layout(run, tile, joint)

    assert tile / 2 - joint - 1e-6 <= layout.value <= tile + 1e-9


@given(RUN, TILE, JOINT)
def test_the_pieces_of_a_layout_fill_the_run(run: float, tile: float, joint: float) -> None:
    layout = tile_layout(run, tile, joint)
    whole, piece = layout.part("whole_tiles").value, layout.value
    middle = tile / 2 + joint if layout.part("shift").value else joint / 2

    filled = 2 * (middle + whole * (tile + joint) + piece)
    assert run - 2 * joint - 1e-6 <= filled <= run + 1e-6


@given(st.floats(0.2, 3), TILE, JOINT, st.floats(0, 0.01))
def test_courses_fill_the_height(height: float, tile: float, joint: float, gap: float) -> None:
    courses = tile_courses(height, tile, joint, gap)

    filled = gap + courses.part("full_courses").value * (tile + joint) + courses.value
    assert height - joint - 1e-6 <= filled <= height + 1e-6
    assert 0 < courses.value <= tile + 1e-9


@given(st.floats(0, 100), st.floats(0.2, 3), st.floats(0, 0.3), st.integers(0, 3))
def test_boxes_hold_the_area_with_its_waste(area: float, box: float, waste: float, spare: int) -> None:
    buy = tile_to_buy(area, box, waste, spare)

    boxes = buy.part("boxes").value - spare
    assert buy.value <= boxes * box + 1e-6
    assert boxes * box < buy.value + box + 1e-6


@given(st.lists(st.floats(0, 50), min_size=1, max_size=5), st.floats(0, 1))
def test_an_opening_takes_its_own_area_away(surfaces: list[float], share: float) -> None:
    opening = sum(surfaces) * share

    assert tile_area(tuple(surfaces), (opening,)).value == pytest.approx(sum(surfaces) - opening, abs=1e-6)


@given(TILE, TILE, st.floats(0.001, 0.01), st.floats(0.002, 0.012), st.floats(1, 3))
def test_wider_joints_take_more_grout_and_larger_tiles_less(
    length: float, width: float, joint: float, depth: float, times: float
) -> None:
    one = grout_mass(1, length, width, joint, depth).value

    assert grout_mass(1, length, width, joint * times, depth).value >= one
    assert grout_mass(1, length * times, width, joint, depth).value <= one * (1 + 1e-12)


@given(st.floats(0.01, 1), st.floats(0, 1))
def test_a_taper_never_passes_the_course(course: float, share: float) -> None:
    taper = course_taper(course, course * share)

    assert 0 <= taper.value <= course
    assert taper.part("lost").value == pytest.approx(share, abs=1e-9)


@given(st.floats(0.01, 2.9), st.floats(0, 0.09))
def test_a_larger_tile_never_gets_a_rougher_wall_or_a_wider_offset(side: float, more: float) -> None:
    assert flatness_allowed(side + more).value <= flatness_allowed(side).value
    assert offset_allowed(side + more).value <= offset_allowed(side).value


@given(st.floats(0, 0.025), st.floats(0, 0.004), st.floats(0, 0.001))
def test_warpage_adds_to_lippage(joint: float, warpage: float, more: float) -> None:
    assert lippage_allowed(joint, warpage + more).value == pytest.approx(
        lippage_allowed(joint, warpage).value + more, abs=1e-12
    )


@given(st.floats(0, 0.01), st.floats(0.05, 1), st.sampled_from(["yes", "no"]), st.sampled_from(["yes", "no"]))
def test_a_joint_is_never_below_a_sixteenth(variation: float, side: float, offset: str, ground: str) -> None:
    joint = joint_least(variation, side, offset, ground)

    assert joint.value >= max(0.0254 / 16, 3 * variation) - 1e-12


@given(st.floats(0, 150), st.floats(0, 40))
def test_a_longer_run_never_has_fewer_movement_joints(run: float, more: float) -> None:
    shorter, longer = movement_joints(run), movement_joints(run + more)

    assert longer.value >= shorter.value
    assert run / (shorter.value + 1) <= 25 * 0.3048 + 1e-6


@given(st.floats(0.0005, 0.03))
def test_one_grout_suits_each_joint(joint: float) -> None:
    assert sum(part.value for part in grout_type(joint).parts) == 1


@pytest.mark.parametrize(
    ("call", "name"),
    [
        (lambda: tile_area(()), "surfaces"),
        (lambda: tile_area((1.0,), (2.0,)), "openings"),
        (lambda: tile_area((-1.0,)), "surfaces"),
        (lambda: tile_to_buy(1, 0), "box"),
        (lambda: tile_layout(0.1, 0.1, 0.003), "run"),
        (lambda: tile_layout(3, 0, 0.003), "tile"),
        (lambda: tile_courses(0.002, 0.1, 0.003), "height"),
        (lambda: course_taper(0.05, 0.06), "out_of_level"),
        (lambda: grout_mass(1, 0.3, 0.3, -0.001, 0.009), "joint"),
        (lambda: flatness_allowed(0), "longest_side"),
        (lambda: lippage_allowed(0.003, 0.1), "warpage"),
        (lambda: joint_least(0.001, 0.3, "perhaps"), "offset_pattern"),
        (lambda: movement_joints(10, "sunny"), "sun_or_damp"),
        (lambda: grout_type(0), "joint"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_what_is_out_of_range_is_named(call, name) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(OutOfRange) as caught:
        call()

    assert caught.value.name == name
