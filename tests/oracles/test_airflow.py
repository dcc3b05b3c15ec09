"""Fresh air against the worked examples of Industrial Ventilation and of 29 CFR 1910.94."""

import pytest

from advisor.calculators.airflow import (
    air_changes,
    airflow_for_exposure_limit,
    airflow_for_fire_limit,
    airflow_from_air_changes,
    dilution_air,
    purge_time,
    share_left,
    vapour_build_up,
)
from advisor.calculators.vapour import peak_vapour

GALLON = 0.003785411784
PINT = GALLON / 8
CUBIC_FOOT = 0.3048**3
CFM = CUBIC_FOOT / 60
KITCHEN = 1344 * CUBIC_FOOT  # 12 x 14 x 8 ft


@pytest.mark.parametrize(("mixing", "printed"), [(1, 285), (5, 1424)])
def test_air_for_health_agrees_with_the_methyl_chloroform_example(mixing: float, printed: float) -> None:
    """Industrial Ventilation (from memory): SG 1.32, 1.5 pt/h, MW 133.4, TLV 350 ppm, 403 in the formula."""
    needed = airflow_for_exposure_limit(1.5 * PINT, 1, 1.32, 133.4, 350, 3600, mixing)

    assert needed.value / CFM == pytest.approx(printed, rel=0.002)  # 403 against 403.5


def test_air_against_fire_agrees_with_the_xylene_oven_example() -> None:
    """Industrial Ventilation (from memory): SG 0.88, 2 pt/h, S 10, MW 106, LEL 1.0 %, B 0.7: 159 cfm."""
    needed = airflow_for_fire_limit(2 * PINT, 1, 0.88, 106, 0.01, 3600, share=0.1, heat_factor=0.7)

    assert needed.value / CFM == pytest.approx(159, rel=0.004)  # 403 against 403.5, and printed whole


def test_a_gallon_of_toluene_needs_the_printed_dilution_air() -> None:
    """29 CFR 1910.94(c)(6)(ii) (from memory): 4 x (100 - 1.4) x 30.4 / 1.4 = 8564 ft3."""
    made = 30.4 * CUBIC_FOOT  # the table's vapour, so that only the dilution is judged
    gravity = made * 92.14 / (GALLON * 24_147)

    air = dilution_air(GALLON, 1, gravity, 92.14, 0.014)

    assert air.value / CUBIC_FOOT == pytest.approx(8564, abs=1)  # printed whole


@pytest.mark.parametrize(("minutes", "printed"), [(19.18, 200), (60, 475)])
def test_build_up_agrees_with_the_printed_workroom(minutes: float, printed: float) -> None:
    """Industrial Ventilation (from memory): G 1.2 cfm, Q' 1500 cfm (4500 at K 3), 100 000 ft3."""
    level = vapour_build_up(1.2 * CFM, 4500 * CFM, 100_000 * CUBIC_FOOT, minutes * 60, mixing=3)

    assert level.value == pytest.approx(printed, abs=0.6)  # printed whole
    assert level.part("steady").value == pytest.approx(800, rel=1e-9)


def test_purging_six_air_changes_an_hour() -> None:
    """Reference 8.9 (Industrial Ventilation, rate of purging): 2000 to 100 ppm in 29.96 min."""
    time = purge_time(KITCHEN, 6 * KITCHEN / 3600, 2000, 100)

    assert time.value / 60 == pytest.approx(29.96, abs=0.01)


@pytest.mark.parametrize(("cfm", "expected"), [(100, 0.32756), (200, 0.10730), (400, 0.01151)])
def test_gas_left_after_a_quarter_of_an_hour(cfm: float, expected: float) -> None:
    """House reference 5: exp(-Q t / V) in 1344 ft3 after 15 min."""
    assert share_left(KITCHEN, cfm * CFM, 900).value == pytest.approx(expected, abs=1e-5)


@pytest.mark.parametrize(("to", "minutes"), [(10, 30.95), (1, 61.89)])
def test_time_to_a_tenth_and_to_a_hundredth(to: float, minutes: float) -> None:
    """House reference 5: 100 cfm in 1344 ft3."""
    assert purge_time(KITCHEN, 100 * CFM, 100, to).value / 60 == pytest.approx(minutes, abs=0.01)


def test_a_steady_source_of_gas_nears_its_final_level() -> None:
    """House reference 5: 0.05 cfm of gas into 100 cfm: 336.2 ppm after 15 min, 500 ppm in the end."""
    level = vapour_build_up(0.05 * CFM, 100 * CFM, KITCHEN, 900)

    assert level.value == pytest.approx(336.2, abs=0.1)
    assert level.part("steady").value == pytest.approx(500, rel=1e-9)


def test_air_changes_of_a_hood_and_back() -> None:
    """House reference 5: 100 cfm in 1344 ft3 is 4.464 an hour; ASHRAE 62.2 at 5 an hour is 112.0 cfm."""
    assert air_changes(KITCHEN, 100 * CFM).value * 3600 == pytest.approx(4.464, abs=0.001)
    assert airflow_from_air_changes(KITCHEN, 5 / 3600).value / CFM == pytest.approx(112.0, abs=0.05)


def test_the_flow_for_the_fire_limit_keeps_the_room_below_it() -> None:
    """By hand from reference 8.4 and 8.8, and 25 % of the LEL (IMC 502.7.3.3).

    55.2 ft3 of ethanol vapour a gallon x .6 / 60 min = .552 cfm; / .00825 = 66.9 cfm. In 936 ft3 after 60 min:
    25 % x (1 - exp(-66.9 x 60 / 936)) = 24.66 % of the LEL.
    """
    solvent = (GALLON, 0.6, 0.789, 46.07)
    flow = airflow_for_fire_limit(*solvent, 0.033, 3600)

    peak = peak_vapour(*solvent, 0.033, 936 * CUBIC_FOOT, airflow=flow.value)

    assert flow.value / CUBIC_FOOT * 60 == pytest.approx(66.9, rel=0.003)  # 8.33 or 8.345 lb/gal
    assert peak.value == pytest.approx(0.2466, abs=0.0005)
