"""Lifting: what holds for every lift."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.calculators._base import OutOfRange
from advisor.calculators.lifting import lifting_index, mass_carried, people_needed, recommended_weight_limit
from advisor.calculators.lifting_pace import lifting_rate, lifting_rest, lifting_time

reaches = st.floats(0.25, 0.64)
heights = st.floats(0, 1.8)
rates = st.floats(0, 16)
durations = st.floats(60, 8 * 3600)
grips = st.sampled_from(["good", "fair", "poor"])


@given(reaches, reaches, heights, heights, rates, durations, grips)
def test_farther_reach_never_allows_more(a, b, origin, destination, rate, duration, grip):
    near, far = sorted((a, b))
    limits = [recommended_weight_limit(r, origin, destination, 0, rate, duration, grip).value for r in (near, far)]

    assert limits[1] <= limits[0]


@given(rates, rates, heights, heights, durations)
def test_faster_lifting_never_allows_more(a, b, origin, destination, duration):
    slow, fast = sorted((a, b))
    limits = [recommended_weight_limit(0.3, origin, destination, 0, r, duration).value for r in (slow, fast)]

    assert limits[1] <= limits[0] + 1e-12


@given(durations, durations, heights, heights, rates)
def test_longer_lifting_never_allows_more(a, b, origin, destination, rate):
    short, long = sorted((a, b))
    limits = [recommended_weight_limit(0.3, origin, destination, 0, rate, d).value for d in (short, long)]

    assert limits[1] <= limits[0] + 1e-12


@given(reaches, heights, heights, st.floats(0, 180), rates, durations, grips)
def test_limit_lies_between_nothing_and_the_load_constant(reach, origin, destination, twist, rate, duration, grip):
    limit = recommended_weight_limit(reach, origin, destination, twist, rate, duration, grip).value

    assert 0 <= limit <= 51 * 0.45359237 + 1e-9


@given(reaches, heights, heights)
def test_worse_grip_never_allows_more(reach, origin, destination):
    good, fair, poor = (
        recommended_weight_limit(reach, origin, destination, grip=g).value for g in ("good", "fair", "poor")
    )

    assert good >= fair >= poor


@given(st.floats(0, 400), st.floats(20, 23))
def test_share_is_within_the_limit_and_one_person_fewer_is_not_enough(mass, limit):
    result = people_needed(mass, limit)

    assert result.part("share").value <= limit * (1 + 1e-6)
    assert result.value == 1 or mass_carried(mass, result.value - 1).value > limit


@given(st.lists(st.floats(0, 7200), min_size=1, max_size=6))
def test_no_rest_adds_all_the_work(work):
    assert lifting_time(tuple(work), (0.0,) * (len(work) - 1)).value <= sum(work) + 1e-6
    assert lifting_time(tuple(work), (0.0,) * (len(work) - 1)).value >= max(work)


@given(st.floats(0, 20), st.floats(0, 900))
def test_waiting_never_raises_the_rate(rate, working):
    assert lifting_rate(rate, working).value <= rate * (1 + 1e-12)


def test_limit_of_zero_is_refused_with_the_way_out():
    for call in (lifting_index, people_needed):
        with pytest.raises(OutOfRange, match="no weight is right"):
            call(20, 0)


@pytest.mark.parametrize("value", [-1.0, 1e9])
def test_impossible_numbers_are_refused_by_name(value):
    for name, call in (
        ("reach", lambda: recommended_weight_limit(value, 1, 1)),
        ("twist", lambda: recommended_weight_limit(0.3, 1, 1, value)),
        ("duration", lambda: recommended_weight_limit(0.3, 1, 1, 0, 1, value)),
        ("mass", lambda: lifting_index(value, 20)),
        ("people", lambda: mass_carried(20, value)),
        ("work", lambda: lifting_rest(value)),
    ):
        with pytest.raises(OutOfRange) as refused:
            call()
        assert refused.value.name == name


def test_unknown_words_are_refused_with_those_that_are_known():
    with pytest.raises(OutOfRange, match="good, fair, poor"):
        recommended_weight_limit(0.3, 1, 1, grip="firm")
    with pytest.raises(OutOfRange, match="origin, destination"):
        recommended_weight_limit(0.3, 1, 1, end="top")


def test_more_than_eight_hours_is_refused():
    """NIOSH 94-110, p. 6: the equation does not cover it."""
    with pytest.raises(OutOfRange, match="up to 8 h"):
        recommended_weight_limit(0.3, 1, 1, 0, 1, 8.1 * 3600)
