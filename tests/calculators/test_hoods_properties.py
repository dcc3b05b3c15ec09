"""Hoods: what physics and the code say whatever the numbers."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.calculators import OutOfRange
from advisor.calculators.hoods import (
    duct_friction,
    duct_velocity,
    hood_clearance,
    house_pull,
    kitchen_exhaust,
    makeup_air,
)

CFM = 0.3048**3 / 60
FLOW = st.floats(0.05, 0.6)


@given(st.floats(0, 1), st.sampled_from(["yes", "no", "unknown"]), st.sampled_from(["2018", "2012"]))
def test_an_unknown_appliance_is_taken_as_one_of_natural_draft(flow: float, draft: str, edition: str) -> None:
    known, unknown = makeup_air(flow, "yes", edition), makeup_air(flow, "unknown", edition)

    assert unknown.value == known.value
    assert makeup_air(flow, draft, edition).value <= known.value


@given(st.floats(0, 400))
def test_four_hundred_and_less_never_calls_for_make_up_air(cfm: float) -> None:
    assert makeup_air(cfm * CFM, "yes", "2012").value == 0


@given(st.floats(10, 500))
def test_a_continuous_fan_never_falls_below_the_code(volume: float) -> None:
    fan = kitchen_exhaust("continuous", volume)

    assert fan.value >= 25 * CFM


@given(FLOW, st.floats(0.1, 0.4), st.floats(1.01, 2))
def test_a_wider_duct_is_slower_and_loses_less(flow: float, diameter: float, times: float) -> None:
    narrow, wide = diameter, diameter * times

    assert duct_velocity(flow, wide).value < duct_velocity(flow, narrow).value
    assert duct_friction(flow, wide, 5).value < duct_friction(flow, narrow, 5).value


@given(FLOW, st.floats(0.1, 0.4), st.floats(0.1, 10))
def test_loss_grows_with_length(flow: float, diameter: float, length: float) -> None:
    assert duct_friction(flow, diameter, 2 * length).value == pytest.approx(
        2 * duct_friction(flow, diameter, length).value, rel=1e-9
    )


@given(FLOW, st.floats(0.2, 2), st.floats(0.5, 1), st.floats(0, 0.6))
def test_make_up_air_never_raises_the_pull(flow: float, leakage: float, exponent: float, makeup: float) -> None:
    assert house_pull(flow, leakage, exponent, makeup).value <= house_pull(flow, leakage, exponent).value


@given(st.floats(0.05, 2), st.floats(0.5, 1))
def test_exhaust_equal_to_the_leakage_pulls_fifty_pascals(leakage: float, exponent: float) -> None:
    assert house_pull(leakage, leakage, exponent).value == pytest.approx(50, rel=1e-9)


@pytest.mark.parametrize(
    ("call", "name"),
    [
        (lambda: kitchen_exhaust("continuous"), "kitchen_volume"),
        (lambda: kitchen_exhaust("window"), "kind"),
        (lambda: makeup_air(-0.1), "hood_airflow"),
        (lambda: makeup_air(0.2, "maybe"), "natural_draft"),
        (lambda: makeup_air(0.2, "yes", "1995"), "edition"),
        (lambda: hood_clearance("half"), "protected"),
        (lambda: duct_velocity(0.1), "diameter"),
        (lambda: duct_velocity(0.1, 0.15, 0.1, 0.1), "diameter"),
        (lambda: duct_friction(1e-5, 0.15, 5), "airflow"),
        (lambda: house_pull(0.1, 0), "leakage_at_50"),
        (lambda: house_pull(0.1, 1, 0.2), "exponent"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_what_is_out_of_range_is_named(call, name) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(OutOfRange) as caught:
        call()

    assert caught.value.name == name
