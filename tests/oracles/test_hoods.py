"""Kitchen exhaust against the codes as quoted and the library `fluids`."""

from math import pi

import fluids
import pytest

from advisor.calculators.hoods import (
    burner_exhaust,
    duct_friction,
    duct_velocity,
    hood_clearance,
    house_pull,
    kitchen_exhaust,
    makeup_air,
)

INCH = 0.0254
FOOT = 0.3048
CFM = FOOT**3 / 60


def test_a_hood_moves_a_hundred_cfm() -> None:
    """IRC 2018 Table M1505.4.4: 100 cfm intermittent; ASHRAE 62.2: 100 cfm vented hood."""
    assert kitchen_exhaust("vented hood").value / CFM == pytest.approx(100, abs=1e-6)


def test_a_wall_fan_moves_three_hundred_by_the_ventilation_standard() -> None:
    """ASHRAE 62.2-2016 Table 5.1: other on-demand fan 300 cfm; the IRC asks 100."""
    fan = kitchen_exhaust("other fan")

    assert fan.value / CFM == pytest.approx(300, abs=1e-6)
    assert fan.part("code").value / CFM == pytest.approx(100, abs=1e-6)


def test_a_fan_that_always_runs_changes_the_air_five_times_an_hour() -> None:
    """ASHRAE 62.2: 1344 ft3 at 5 air changes is 112.0 cfm; the IRC asks 25 cfm."""
    fan = kitchen_exhaust("continuous", 1344 * FOOT**3)

    assert fan.value / CFM == pytest.approx(112.0, abs=0.05)
    assert fan.part("code").value / CFM == pytest.approx(25, abs=1e-6)


@pytest.mark.parametrize(
    ("cfm", "natural_draft", "edition", "called_for"),
    [
        (600, "no", "2018", 0),
        (401, "yes", "2018", 401),
        (400, "yes", "2018", 0),
        (600, "unknown", "2018", 600),
        (600, "no", "2012", 600),
        (400, "no", "2012", 0),
    ],
    ids=["all electric", "just over", "at the limit", "not known", "older edition", "older, at the limit"],
)
def test_make_up_air_follows_the_edition(cfm: float, natural_draft: str, edition: str, called_for: float) -> None:
    """Trap 12.7: "any hood over 400 cfm" is M1503.4 of 2012; M1503.6 needs natural draft too."""
    air = makeup_air(cfm * CFM, natural_draft, edition)

    assert air.value / CFM == pytest.approx(called_for, abs=1e-6)


def test_a_local_amendment_lets_the_house_supply_four_hundred() -> None:
    """Texas city amendment to M1503.6 (as read): 900 cfm needs 500 instead of 900."""
    base = makeup_air(900 * CFM, "yes")
    local = makeup_air(900 * CFM, "yes", allowance=400 * CFM)

    assert (round(base.value / CFM), round(local.value / CFM)) == (900, 500)


def test_clearance_bare_and_protected() -> None:
    """IRC M1901.1 and G2447.5: 30 in, or 24 in protected. 29 in bare fails."""
    assert hood_clearance("no").value / INCH == pytest.approx(30, abs=1e-9)
    assert hood_clearance("yes").value / INCH == pytest.approx(24, abs=1e-9)


@pytest.mark.parametrize(
    ("duct", "printed"),
    [
        ({"diameter": 6 * INCH}, 2037),
        ({"width": 3.25 * INCH, "height": 10 * INCH}, 1772),
        ({"diameter": 8 * INCH}, 1146),
    ],
    ids=["6 in round", "3-1/4 x 10", "8 in round"],
)
def test_speed_of_four_hundred_cfm(duct: dict[str, float], printed: float) -> None:
    """House reference 5: 400 cfm."""
    assert duct_velocity(400 * CFM, **duct).value / (FOOT / 60) == pytest.approx(printed, rel=0.005)


@pytest.mark.parametrize(("inches", "printed"), [(6, 1.06), (8, 0.255)])
def test_friction_of_a_smooth_duct_agrees_with_fluids(inches: float, printed: float) -> None:
    """`fluids.friction_factor` (Colebrook), 0.09 mm, 100 ft: 1.06 and 0.255 in of water."""
    diameter = inches * INCH
    speed = 400 * CFM / (pi * diameter**2 / 4)
    factor = fluids.friction_factor(Re=1.2 * speed * diameter / 1.81e-5, eD=9e-5 / diameter)
    expected = factor * 100 * FOOT / diameter * 1.2 * speed**2 / 2

    loss = duct_friction(400 * CFM, diameter, 100 * FOOT)

    assert loss.value == pytest.approx(expected, rel=0.02)  # Haaland against Colebrook
    assert loss.value / 249.08891 == pytest.approx(printed, rel=0.03)


@pytest.mark.parametrize(("exhaust", "leakage", "printed"), [(400, 1500, 6.54), (200, 1500, 2.25), (400, 800, 17.2)])
def test_pull_of_a_hood_on_the_house(exhaust: float, leakage: float, printed: float) -> None:
    """Power law of ASTM E779 with n 0.65 (house reference 5)."""
    assert house_pull(exhaust * CFM, leakage * CFM).value == pytest.approx(printed, rel=0.005)


def test_make_up_air_takes_the_pull_away() -> None:
    """ASTM E779 power law: no net exhaust, no pull."""
    assert house_pull(400 * CFM, 1500 * CFM, makeup=400 * CFM).value == 0


@pytest.mark.parametrize(("heat", "flow"), [(40_000, 400), (85_000, 850)])
def test_a_hood_moves_a_cfm_for_each_hundred_btu_of_burner(heat: float, flow: float) -> None:
    """Common practice of hood makers, as trade articles print it: 40,000 BTU/h 400 cfm, 85,000 BTU/h 850 cfm."""
    btu_per_hour = 1055.05585262 / 3600  # W, International Table
    assert burner_exhaust(heat * btu_per_hour).value / CFM == pytest.approx(flow, rel=1e-9)
