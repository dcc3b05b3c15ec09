"""What must hold of drains and sinks for all sizes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.calculators.plumbing import (
    drain_fall,
    drop_to_trap,
    full_sink_weight,
    highest_wall_outlet,
    longest_trap_arm,
    trap_arm_fall,
)

INCH = 0.0254
pipes = st.sampled_from([size * INCH for size in (1.25, 1.5, 2, 3, 4)])
codes = st.sampled_from(["irc", "upc"])
side = st.floats(0.05, 1)


@given(pipes)
def test_the_upc_arm_is_always_the_shorter(diameter) -> None:
    assert longest_trap_arm(diameter, "upc").value < longest_trap_arm(diameter, "irc").value


@given(pipes, codes)
def test_the_longest_arm_at_its_least_slope_never_siphons(diameter, code) -> None:
    arm = longest_trap_arm(diameter, code)

    assert trap_arm_fall(arm.value, arm.part("slope").value, diameter).part("excess").value <= 1e-12


@given(st.floats(0, 20), pipes, codes)
def test_twice_the_drain_falls_twice_as_far(length, diameter, code) -> None:
    assert drain_fall(2 * length, diameter, code).value == pytest.approx(2 * drain_fall(length, diameter, code).value)


@given(st.floats(0, 0.3), st.floats(0, 0.5), st.floats(0, 0.3), st.floats(0.001, 0.1))
def test_whatever_hangs_lower_lowers_the_outlet(bowl, run, disposer, more) -> None:
    at = highest_wall_outlet(0.914, bowl, run, disposer=disposer).value

    assert at - highest_wall_outlet(0.914, bowl + more, run, disposer=disposer).value == pytest.approx(more)
    assert at - highest_wall_outlet(0.914, bowl, run, disposer=disposer + more).value == pytest.approx(more)
    assert highest_wall_outlet(0.914, bowl, run + more, disposer=disposer).value < at


@given(st.floats(0, 0.3), st.floats(0, 0.5), st.floats(0, 0.1))
def test_at_the_highest_outlet_the_margin_is_the_drop(bowl, run, margin) -> None:
    outlet = highest_wall_outlet(0.914, bowl, run, margin=margin).value

    assert drop_to_trap(0.914, bowl, outlet, run).value == pytest.approx(margin, abs=1e-12)


@given(side, side, side)
def test_a_sink_weighs_the_same_however_it_is_turned(length, width, depth) -> None:
    assert full_sink_weight(length, width, depth).value == pytest.approx(full_sink_weight(depth, length, width).value)
