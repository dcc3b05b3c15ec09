"""Wood: what holds for every input."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.calculators._base import OutOfRange
from advisor.calculators.wood import (
    shrinkage_coefficient,
    slab_weight,
    slot_play,
    wall_gap,
    wood_movement,
    wood_movement_wide,
)
from advisor.calculators.wood_moisture import equilibrium_moisture, seasonal_movement

widths = st.floats(0.01, 5)
coefficients = st.floats(0.0005, 0.006)
moistures = st.floats(6, 14)
humidities = st.floats(0, 0.95)
temperatures = st.floats(273, 327)


@given(widths, coefficients, moistures, moistures)
def test_drying_shrinks_as_much_as_wetting_swells(width, coefficient, a, b):
    assert wood_movement(width, coefficient, a, b).value == -wood_movement(width, coefficient, b, a).value


@given(widths, st.floats(1, 15), st.floats(0, 30))
def test_wood_that_stays_as_wet_does_not_move(width, shrinkage, moisture):
    assert wood_movement_wide(width, shrinkage, moisture, moisture).value == 0


@given(widths, st.floats(1, 15))
def test_wide_equation_gives_back_the_whole_shrinkage_from_green_to_dry(width, shrinkage):
    lost = -wood_movement_wide(width, shrinkage, 30, 0).value

    assert lost / width == pytest.approx(shrinkage / 100)


@given(st.floats(1, 14), st.floats(0.01, 1))
def test_coefficient_rises_with_shrinkage(shrinkage, more):
    assert shrinkage_coefficient(shrinkage + more).value > shrinkage_coefficient(shrinkage).value


@given(humidities, humidities, temperatures)
def test_damper_air_never_makes_drier_wood(a, b, temperature):
    dry, damp = sorted((a, b))

    assert equilibrium_moisture(dry, temperature).value <= equilibrium_moisture(damp, temperature).value


@given(temperatures)
def test_dry_air_leaves_no_moisture(temperature):
    assert equilibrium_moisture(0, temperature).value == 0


@given(widths, coefficients, humidities, humidities, temperatures)
def test_seasonal_movement_is_never_negative(width, coefficient, a, b, temperature):
    dry, damp = sorted((a, b))

    assert seasonal_movement(width, coefficient, dry, damp, temperature).value >= 0


@given(st.floats(0, 5), coefficients, st.lists(moistures, min_size=3, max_size=3))
def test_slot_play_is_the_larger_way(distance, coefficient, moistures_):
    dry, installed, damp = sorted(moistures_)
    result = slot_play(distance, coefficient, installed, dry, damp)

    assert result.value == max(result.part("shrinks").value, result.part("swells").value)


@given(widths, coefficients, moistures)
def test_wall_gap_is_at_least_a_sixteenth(width, coefficient, moisture):
    assert wall_gap(width, coefficient, moisture, moisture).value == pytest.approx(0.0254 / 16)


@given(st.floats(0.1, 3), st.floats(0.1, 1), st.floats(0.01, 0.1), st.floats(0.2, 1))
def test_slab_twice_as_thick_weighs_twice_as_much(length, width, thickness, gravity):
    one, two = (slab_weight(length, width, t, gravity).value for t in (thickness, 2 * thickness))

    assert two == pytest.approx(2 * one)


@pytest.mark.parametrize("value", [-1.0, 1e9])
def test_impossible_numbers_are_refused_by_name(value):
    for name, call in (
        ("width", lambda: wood_movement(value, 0.003, 8, 10)),
        ("from", lambda: wood_movement(1, 0.003, value, 10)),
        ("shrinkage", lambda: shrinkage_coefficient(value)),
        ("humidity", lambda: equilibrium_moisture(value)),
        ("distance", lambda: slot_play(value, 0.003, 8, 7, 9)),
        ("thickness", lambda: slab_weight(1, 1, value, 0.6)),
    ):
        with pytest.raises(OutOfRange) as refused:
            call()
        assert refused.value.name == name


def test_seasons_the_wrong_way_round_are_refused():
    with pytest.raises(OutOfRange, match="damp humidity"):
        seasonal_movement(1, 0.003, 0.6, 0.3)
    with pytest.raises(OutOfRange, match="dampest"):
        wall_gap(1, 0.003, 11, 6)
