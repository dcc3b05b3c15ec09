"""What must hold of levelling and tops for every run."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.calculators.levelling import scribe_cut, shim_heights, total_drop
from advisor.calculators.tops import (
    gap_left_open,
    overhang_excess,
    room_under_top,
    space_above_top,
    step_at_range,
    tapered_cut,
    toe_kick_gap,
    top_height,
    top_rise,
)

measures = st.lists(st.floats(min_value=0, max_value=0.3), min_size=2, max_size=12)
thickness = st.floats(min_value=0, max_value=0.15)
height = st.floats(min_value=0.1, max_value=3)


def run_of(values: list[float]) -> tuple[tuple[float, float], ...]:
    """One measure a foot along the run."""
    return tuple((0.3048 * place, value) for place, value in enumerate(values))


@given(measures)
def test_no_shim_is_negative_and_the_high_point_has_none(drops) -> None:
    shims = [part.value for part in shim_heights(run_of(drops)).parts]

    assert min(shims) == 0
    assert max(shims) == shim_heights(run_of(drops)).value == total_drop(run_of(drops)).value


@given(measures, st.floats(min_value=0, max_value=2))
def test_shims_do_not_depend_on_where_the_level_line_hangs(drops, lower) -> None:
    here = [part.value for part in shim_heights(run_of(drops)).parts]
    there = [part.value for part in shim_heights(run_of([drop + lower for drop in drops])).parts]

    assert there == pytest.approx(here, abs=1e-12)


@given(measures)
def test_shims_read_from_either_end_are_the_same(drops) -> None:
    forward = [part.value for part in shim_heights(run_of(drops)).parts]
    backward = [part.value for part in shim_heights(run_of(drops[::-1])).parts]

    assert backward == forward[::-1]


@given(measures)
def test_a_scribe_never_cuts_deeper_than_the_widest_gap(gaps) -> None:
    assert 0 <= scribe_cut(run_of(gaps)).value <= max(gaps)


@given(height, thickness, thickness, thickness)
def test_a_shim_lifts_top_and_room_alike(cabinet, top, shim, floor) -> None:
    lifted = top_height(cabinet, top, shim, floor).value - top_height(cabinet, top, 0, floor).value
    freed = room_under_top(cabinet, 0.8, shim, floor).value - room_under_top(cabinet, 0.8, 0, floor).value

    assert (lifted, freed) == pytest.approx((shim, shim), abs=1e-12)


@given(height, height)
def test_space_and_step_are_mirror_images(one, other) -> None:
    assert space_above_top(one, other).value == -step_at_range(other, one).value


@given(thickness, thickness, thickness)
def test_rise_turns_its_sign_when_the_tops_change_places(new, old, shim) -> None:
    assert top_rise(new, old).value == -top_rise(old, new).value
    assert toe_kick_gap(shim, shim).value == 0


@given(st.floats(0, 1), st.floats(0, 1), st.floats(0.5, 10), st.floats(0, 1))
def test_a_taper_stays_between_its_ends(start, end, run, share) -> None:
    cut = tapered_cut(start, end, run, min(run, run * share)).value

    assert min(start, end) - 1e-12 <= cut <= max(start, end) + 1e-12
    assert tapered_cut(start, end, run, 0).value == start


@given(st.floats(0, 0.3), st.floats(0.001, 0.3))
def test_a_wider_way_of_closing_leaves_less_open(gap, closes) -> None:
    assert gap_left_open(gap, closes).value <= gap_left_open(gap, closes / 2).value
    assert overhang_excess(gap, closes).value < overhang_excess(gap + 0.1, closes).value
