"""Noise: what holds for every day."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.calculators._base import OutOfRange
from advisor.calculators.noise import (
    noise_average,
    noise_dose,
    noise_dose_osha,
    noise_time_niosh,
    noise_time_osha,
    protected_level,
)

levels = st.floats(60, 120)
tools = st.lists(st.tuples(levels, st.floats(1, 7200)), min_size=1, max_size=8)


@given(levels, st.floats(0.1, 20))
def test_louder_noise_is_allowed_for_less_time(level, more):
    assert noise_time_niosh(level + more).value < noise_time_niosh(level).value
    assert noise_time_osha(level + more).value < noise_time_osha(level).value


@given(levels)
def test_exchange_rates_halve_the_time(level):
    assert noise_time_niosh(level + 3).value == pytest.approx(noise_time_niosh(level).value / 2)
    assert noise_time_osha(level + 5).value == pytest.approx(noise_time_osha(level).value / 2)


@given(tools)
def test_dose_does_not_depend_on_the_order_of_tools(day):
    forth = noise_dose(tuple(x for x, _ in day), tuple(t for _, t in day)).value
    back = noise_dose(tuple(x for x, _ in day[::-1]), tuple(t for _, t in day[::-1])).value

    assert forth == pytest.approx(back)


@given(tools, levels, st.floats(1, 7200))
def test_another_tool_never_lowers_the_dose(day, level, time):
    sound, times = tuple(x for x, _ in day), tuple(t for _, t in day)

    assert noise_dose((*sound, level), (*times, time)).value > noise_dose(sound, times).value
    assert noise_dose_osha((*sound, level), (*times, time)).value > noise_dose_osha(sound, times).value


@given(st.floats(85, 120), st.floats(60, 86_400))
def test_recommended_limit_is_always_the_stricter(level, time):
    day = noise_dose((level,), (time,))

    assert day.value > day.part("osha_dose").value


@given(levels)
def test_eight_hours_at_one_level_average_that_level(level):
    for criterion, dose in (("niosh", noise_dose), ("osha", noise_dose_osha)):
        share = dose((level,), (8 * 3600.0,)).value

        # 16.61 stands for 5 / log10(2) = 16.6096
        assert noise_average(share, criterion).value == pytest.approx(level, abs=0.15)


@given(levels, st.floats(0, 40), st.sampled_from(["muffs", "foam plugs", "other plugs"]))
def test_protector_never_adds_noise(level, rating, protector):
    assert protected_level(level, rating, protector).value <= level


def test_silent_day_has_no_dose_and_no_average():
    result = noise_dose((100.0,), (0.0,))

    assert result.value == 0
    assert [part.name for part in result.parts] == ["allowed_1", "osha_dose"]


@pytest.mark.parametrize(
    ("name", "call"),
    [
        ("level", lambda: noise_time_niosh(141)),
        ("level", lambda: noise_time_osha(39)),
        ("times", lambda: noise_dose((90.0,), ())),
        ("times", lambda: noise_dose((), ())),
        ("times", lambda: noise_dose((90.0, 90.0), (50_000.0, 50_000.0))),
        ("times", lambda: noise_dose_osha((90.0,), (-1.0,))),
        ("dose", lambda: noise_average(0)),
        ("criterion", lambda: noise_average(1, "other")),
        ("rating", lambda: protected_level(100, 41)),
        ("protector", lambda: protected_level(100, 29, "cotton")),
    ],
)
def test_input_out_of_range_is_refused_by_name(name, call):
    with pytest.raises(OutOfRange) as refused:
        call()

    assert refused.value.name == name
