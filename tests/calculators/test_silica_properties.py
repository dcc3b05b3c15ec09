"""Silica: what holds for every dust and tool."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

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

dusts = st.floats(1e-9, 1e-3)
covered = st.sampled_from(sorted(key for key in table("silica_controls").rows if key != "dry cutting"))


@given(dusts)
def test_time_to_the_limit_gives_back_the_limit(dust):
    time = silica_time(dust).value
    if time <= 86_400:
        assert silica_average(dust, time).value == pytest.approx(50e-9)


@given(dusts)
def test_action_level_comes_at_half_the_time(dust):
    result = silica_time(dust)

    assert result.part("to_action_level").value == pytest.approx(result.value / 2)


@given(covered, st.floats(60, 86_400), st.floats(60, 86_400))
def test_more_hours_never_ask_for_less(task, a, b):
    short, long = (silica_protection(task, "outdoors", t).value for t in sorted((a, b)))

    assert 1 <= short <= long


@given(
    st.sampled_from(["wet tile saw", "wet handheld saw", "shrouded drill", "mortar grinder", "shrouded grinder"]),
    st.floats(60, 86_400),
)
def test_indoors_never_asks_for_less_than_outdoors(task, time):
    assert silica_protection(task, "indoors", time).value >= silica_protection(task, "outdoors", time).value


@given(dusts, st.floats(1, 1000))
def test_strongest_dust_for_a_respirator_leaves_the_limit_inside(limit, factor):
    most = dust_most_for_respirator(factor, min(limit, 1e-3)).value

    assert dust_behind_respirator(most, factor).value == pytest.approx(limit)


@given(st.floats(0.01, 0.25))
def test_twice_the_wheel_takes_twice_the_air(wheel):
    assert collector_airflow(2 * wheel).value == pytest.approx(2 * collector_airflow(wheel).value)


def test_clean_air_or_no_time_is_no_exposure():
    assert silica_average(0, 3600).value == 0
    assert silica_average(1e-6, 0).value == 0


@pytest.mark.parametrize(
    ("name", "call"),
    [
        ("concentration", lambda: silica_average(-1e-9, 60)),
        ("concentration", lambda: silica_time(0)),
        ("time", lambda: silica_average(1e-9, 90_000)),
        ("time", lambda: silica_protection("wet tile saw", "indoors", 0)),
        ("task", lambda: silica_protection("hammer", "indoors", 60)),
        ("place", lambda: silica_protection("wet tile saw", "porch", 60)),
        ("wheel", lambda: collector_airflow(0)),
        ("factor", lambda: dust_behind_respirator(1e-6, 0.5)),
        ("limit", lambda: dust_most_for_respirator(10, 0)),
    ],
)
def test_input_out_of_range_is_refused_by_name(name, call):
    with pytest.raises(OutOfRange) as refused:
        call()

    assert refused.value.name == name
