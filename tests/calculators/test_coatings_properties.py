"""Coatings: what physics says whatever the numbers."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.calculators import OutOfRange
from advisor.calculators.coatings import (
    coats_needed,
    coverage,
    dew_margin,
    dew_point,
    film_thickness,
    paint_to_buy,
    spray_air,
)

AIR = st.floats(274, 320)
HUMIDITY = st.floats(0.06, 0.99)
RATE = st.floats(2000, 20_000)
SOLIDS = st.floats(0.05, 1)
GALLON = 0.003785411784


@given(AIR, HUMIDITY)
def test_dew_point_is_never_above_the_air(air: float, humidity: float) -> None:
    assert dew_point(air, humidity).value < air


@given(AIR)
def test_saturated_air_is_at_its_dew_point(air: float) -> None:
    assert dew_point(air, 1).value == pytest.approx(air, abs=1e-9)


@given(AIR, HUMIDITY, st.floats(1.001, 1.5))
def test_damper_air_has_a_higher_dew_point(air: float, humidity: float, times: float) -> None:
    damper = min(humidity * times, 1.0)

    assert dew_point(air, damper).value > dew_point(air, humidity).value


@given(AIR, HUMIDITY, st.floats(0, 15))
def test_a_warmer_surface_has_more_margin(air: float, humidity: float, warmer: float) -> None:
    cold, warm = dew_margin(280, air, humidity), dew_margin(280 + warmer, air, humidity)

    assert warm.value - cold.value == pytest.approx(warmer, abs=1e-9)


@given(RATE, SOLIDS)
def test_film_and_coverage_undo_each_other(rate: float, solids: float) -> None:
    film = film_thickness(rate, solids).value
    if not 2.54e-6 <= film <= 2.54e-3:
        return

    assert coverage(solids, film).value == pytest.approx(rate, rel=1e-9)


@given(RATE, SOLIDS, st.integers(1, 9))
def test_every_coat_adds_the_same_film(rate: float, solids: float, coats: int) -> None:
    assert film_thickness(rate, solids, coats).value == pytest.approx(
        coats * film_thickness(rate, solids).value, rel=1e-9
    )


@given(st.floats(0, 500), st.integers(1, 5), RATE, st.sampled_from([GALLON, GALLON / 4]), st.floats(0, 0.5))
def test_the_cans_hold_the_need_and_less_than_one_can_is_left(
    area: float, coats: int, rate: float, can: float, spare: float
) -> None:
    paint = paint_to_buy(area, coats, rate, can, spare)

    wanted, bought = paint.part("with_spare").value, paint.part("bought").value
    assert wanted <= bought + can * 1e-8
    assert bought - wanted < can * (1 + 1e-8)


@given(st.floats(0.001, 0.05), st.floats(0.001, 0.05), st.floats(0, 0.3), st.floats(0, 1e6))
def test_a_tank_matters_only_where_air_is_short(gun: float, compressor: float, tank: float, high: float) -> None:
    air = spray_air(gun, compressor, tank, high)

    named = [part.name for part in air.parts]
    assert ("minutes" in named) == (compressor < gun)
    assert air.value == pytest.approx(compressor / gun, rel=1e-12)


@pytest.mark.parametrize("humidity", [0.0, 0.01, 1.01])
def test_humidity_out_of_range_is_refused(humidity: float) -> None:
    with pytest.raises(OutOfRange, match="humidity must be from"):
        dew_point(294, humidity)


@pytest.mark.parametrize(
    ("call", "name"),
    [
        (lambda: dew_point(260, 0.5), "air_temperature"),
        (lambda: dew_margin(200, 294, 0.5), "surface_temperature"),
        (lambda: film_thickness(1.0, 0.5), "spreading_rate"),
        (lambda: film_thickness(9000, 0), "volume_solids"),
        (lambda: coverage(0.5, 0), "dry_film"),
        (lambda: paint_to_buy(-1, 2, 9000), "area"),
        (lambda: paint_to_buy(1, 0, 9000), "coats"),
        (lambda: coats_needed("plaid", "light"), "from"),
        (lambda: coats_needed("dark", "bare"), "to"),
        (lambda: spray_air(0, 0.01), "gun_airflow"),
        (lambda: spray_air(0.01, 0.01, 0.1, 1e5, 2e5), "low_pressure"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_what_is_out_of_range_is_named(call, name) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(OutOfRange) as caught:
        call()

    assert caught.value.name == name
