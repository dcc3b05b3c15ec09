"""Lead: what holds for every room."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.calculators._base import OutOfRange
from advisor.calculators.lead import lead_air_limit, lead_area, lead_dust, lead_prevalence, lead_to_remove

DAY = 86_400.0
areas = st.floats(0.001, 100)
pieces = st.lists(st.tuples(areas, st.floats(0, 300 * DAY)), min_size=1, max_size=8)


@given(pieces)
def test_area_that_counts_lies_between_the_largest_piece_and_all(jobs):
    sizes, times = tuple(a for a, _ in jobs), tuple(t for _, t in jobs)
    value = lead_area(sizes, "inside", times).value

    assert max(sizes) <= value <= sum(sizes) * (1 + 1e-9)


@given(pieces)
def test_without_times_everything_counts_together(jobs):
    sizes = tuple(a for a, _ in jobs)

    assert lead_area(sizes).value == pytest.approx(sum(sizes))


@given(pieces, areas)
def test_another_piece_never_lowers_the_area(jobs, more):
    sizes, times = tuple(a for a, _ in jobs), tuple(t for _, t in jobs)

    assert lead_area((*sizes, more), "inside", (*times, 0.0)).value >= lead_area(sizes, "inside", times).value - 1e-9


@given(areas, areas)
def test_dust_on_a_floor_twice_the_size_is_half(disturbed, floor):
    assert lead_dust(disturbed, 2 * floor).value == pytest.approx(lead_dust(disturbed, floor).value / 2)


@given(st.floats(1e-9, 0.5))
def test_cleaning_the_share_leaves_the_action_level_or_less(loading):
    left = loading * (1 - lead_to_remove(loading).value)

    assert left <= 5e-9 / 0.3048**2 * (1 + 1e-6)


@given(st.floats(3600, DAY), st.floats(3600, DAY))
def test_longer_shift_never_allows_more_lead(a, b):
    short, long = sorted((a, b))

    assert lead_air_limit(long).value <= lead_air_limit(short).value


@given(st.integers(1600, 2100), st.integers(1600, 2100))
def test_newer_homes_never_have_more_lead_paint(a, b):
    old, new = sorted((a, b))

    assert lead_prevalence(new).value <= lead_prevalence(old).value


def test_nothing_disturbed_is_no_area_and_no_dust():
    assert lead_area(()).value == 0
    assert lead_dust(0, 10).value == 0


@pytest.mark.parametrize(
    ("name", "call"),
    [
        ("areas", lambda: lead_area((-1.0,))),
        ("where", lambda: lead_area((1.0,), "attic")),
        ("times", lambda: lead_area((1.0,), "inside", (0.0, 1.0))),
        ("floor", lambda: lead_dust(1, 0)),
        ("paint", lambda: lead_dust(1, 1, 2)),
        ("action_level", lambda: lead_to_remove(0.1, 0)),
        ("shift", lambda: lead_air_limit(0)),
        ("year", lambda: lead_prevalence(1500)),
    ],
)
def test_input_out_of_range_is_refused_by_name(name, call):
    with pytest.raises(OutOfRange) as refused:
        call()

    assert refused.value.name == name
