"""Vapour and fresh air: what physics says whatever the numbers."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.calculators import OutOfRange
from advisor.calculators.airflow import (
    airflow_for_exposure_limit,
    airflow_for_fire_limit,
    dilution_air,
    purge_time,
    share_left,
    vapour_build_up,
)
from advisor.calculators.vapour import (
    flammable_share,
    mixture_share,
    peak_vapour,
    ppm_to_weight,
    room_concentration,
    vapour_made,
    weight_to_ppm,
)

AMOUNT = st.floats(1e-5, 0.02)
SHARE = st.floats(0.01, 1)
GRAVITY = st.floats(0.6, 1.5)
MASS = st.floats(30, 200)
LEL = st.floats(0.005, 0.15)
ROOM = st.floats(5, 500)
TIME = st.floats(60, 86_400)
FLOW = st.floats(0.001, 1)
LEVEL = st.floats(0.01, 100_000)


@given(AMOUNT, SHARE, GRAVITY, MASS, st.floats(1, 3))
def test_more_product_makes_more_vapour(amount: float, share: float, sg: float, mw: float, times: float) -> None:
    one, more = vapour_made(amount, share, sg, mw), vapour_made(amount * times, share, sg, mw)

    assert more.value == pytest.approx(one.value * times, rel=1e-9)


@given(SHARE, GRAVITY, MASS, LEL, ROOM)
def test_no_product_makes_no_vapour(share: float, sg: float, mw: float, lel: float, room: float) -> None:
    assert peak_vapour(0, share, sg, mw, lel, room).value == 0


@given(AMOUNT, SHARE, GRAVITY, MASS, LEL, ROOM, TIME)
def test_without_air_flow_the_peak_is_the_closed_room(
    amount: float, share: float, sg: float, mw: float, lel: float, room: float, time: float
) -> None:
    closed = room_concentration(amount, share, sg, mw, lel, room)
    peak = peak_vapour(amount, share, sg, mw, lel, room, time)

    assert peak.part("concentration").value == pytest.approx(closed.value, rel=1e-12)
    assert peak.value == pytest.approx(closed.part("share_of_lel").value, rel=1e-12)


@given(AMOUNT, SHARE, GRAVITY, MASS, LEL, ROOM, TIME, FLOW, st.floats(1, 5))
def test_more_air_never_makes_the_peak_higher(
    amount: float,
    share: float,
    sg: float,
    mw: float,
    lel: float,
    room: float,
    time: float,
    flow: float,
    times: float,
) -> None:
    solvent = (amount, share, sg, mw, lel, room, time)
    closed, some, more = (peak_vapour(*solvent, airflow=q).value for q in (0.0, flow, flow * times))

    assert more <= some * (1 + 1e-9) <= closed * (1 + 1e-8)


@given(AMOUNT, SHARE, GRAVITY, MASS, LEL, ROOM, TIME, FLOW, st.floats(1, 10))
def test_poor_mixing_never_makes_the_peak_lower(
    amount: float,
    share: float,
    sg: float,
    mw: float,
    lel: float,
    room: float,
    time: float,
    flow: float,
    mixing: float,
) -> None:
    well = peak_vapour(amount, share, sg, mw, lel, room, time, flow, 1)
    badly = peak_vapour(amount, share, sg, mw, lel, room, time, flow, mixing)

    assert badly.value >= well.value * (1 - 1e-9)


@given(AMOUNT, SHARE, GRAVITY, MASS, LEL, ROOM, TIME, FLOW)
def test_the_peak_agrees_with_build_up_over_the_drying_time(
    amount: float, share: float, sg: float, mw: float, lel: float, room: float, time: float, flow: float
) -> None:
    peak = peak_vapour(amount, share, sg, mw, lel, room, time, flow)
    generation = peak.part("generation").value
    if generation > 1:
        return
    level = vapour_build_up(generation, flow, room, time)

    assert peak.part("concentration").value == pytest.approx(level.value, rel=1e-6)


@given(AMOUNT, SHARE, GRAVITY, MASS, LEL, ROOM, st.floats(0.001, 0.5))
def test_air_holds_no_more_than_its_saturation(
    amount: float, share: float, sg: float, mw: float, lel: float, room: float, saturation: float
) -> None:
    peak = peak_vapour(amount, share, sg, mw, lel, room, saturation=saturation)

    assert peak.value <= saturation / lel * (1 + 1e-12)


@given(AMOUNT, SHARE, GRAVITY, MASS, LEL, TIME, st.floats(0.01, 0.25))
def test_a_lower_share_of_the_fire_limit_needs_more_air(
    amount: float, share: float, sg: float, mw: float, lel: float, time: float, low: float
) -> None:
    usual = airflow_for_fire_limit(amount, share, sg, mw, lel, time)
    careful = airflow_for_fire_limit(amount, share, sg, mw, lel, time, low)

    assert careful.value >= usual.value * (1 - 1e-12)


@given(AMOUNT, SHARE, GRAVITY, MASS, LEL)
def test_diluted_vapour_is_at_the_share_asked_for(
    amount: float, share: float, sg: float, mw: float, lel: float
) -> None:
    """1910.94 counts the vapour itself at the limit, so that the mix is a little below the share."""
    made = vapour_made(amount, share, sg, mw).value
    air = dilution_air(amount, share, sg, mw, lel).value

    assert made / (made + air) <= 0.25 * lel / (1 - lel) * (1 + 1e-9)


@given(ROOM, FLOW, LEVEL, st.floats(0.001, 1), st.floats(1, 10))
def test_purging_for_the_time_given_leaves_the_level_asked_for(
    room: float, flow: float, start: float, share: float, mixing: float
) -> None:
    time = purge_time(room, flow, start, start * share, mixing)
    if time.value > 30 * 86_400:
        return

    assert share_left(room, flow, time.value, mixing).value == pytest.approx(share, rel=1e-6)


@given(st.floats(0, 100_000), MASS)
def test_weight_and_volume_convert_both_ways(ppm: float, mw: float) -> None:
    assert weight_to_ppm(ppm_to_weight(ppm, mw).value, mw).value == pytest.approx(ppm, rel=1e-9)


@given(st.lists(st.tuples(LEVEL, LEVEL), min_size=1, max_size=6))
def test_each_solvent_adds_to_the_mixture(pairs: list[tuple[float, float]]) -> None:
    levels, limits = zip(*pairs, strict=True)
    whole = mixture_share(levels, limits).value

    assert all(whole >= level / limit * (1 - 1e-12) for level, limit in pairs)


GOOD = {"amount": 0.001, "solvent_fraction": 0.6, "specific_gravity": 0.79, "molar_mass": 46.1}


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("amount", -0.001),
        ("amount", 1.0),
        ("solvent_fraction", 1.1),
        ("specific_gravity", 0.0),
        ("molar_mass", 1.0),
        ("lel", 0.0),
        ("lel", 0.6),
        ("room_volume", 0.0),
        ("evaporation_time", 0.0),
        ("airflow", -0.1),
        ("mixing", 0.5),
        ("saturation", 0.0),
    ],
)
def test_peak_refuses_what_is_out_of_range(name: str, value: float) -> None:
    with pytest.raises(OutOfRange, match=name.replace("_", " ")) as caught:
        peak_vapour(**(GOOD | {"lel": 0.033, "room_volume": 26.0} | {name: value}))

    assert caught.value.name == name


def test_limits_must_pair_with_concentrations() -> None:
    with pytest.raises(OutOfRange, match="limits must be as many"):
        mixture_share((100, 50), (200,))


def test_a_purge_must_go_down() -> None:
    with pytest.raises(OutOfRange, match="to must be no more"):
        purge_time(30, 0.1, 100, 200)


def test_a_limit_of_nothing_is_refused() -> None:
    with pytest.raises(OutOfRange, match="limit must be above"):
        airflow_for_exposure_limit(**GOOD, limit=0, evaporation_time=3600)
    with pytest.raises(OutOfRange, match="concentration must be from"):
        flammable_share(-1, 0.033)


def test_the_working_follows_on_a_pocket_calculator() -> None:
    """8.29 cuft in 936 cuft, six air changes while it dries."""
    cubic_foot = 0.3048**3
    room = 936 * cubic_foot
    peak = peak_vapour(0.003785411784 / 4, 0.6, 0.789, 46.07, 0.033, room, airflow=6 * room / 3600)

    assert peak.working() == "8.2924 cuft / 936 cuft x (1 - e^-6) / 6 / 3.3 % = 4.46 %"
