"""Plumbing against the model codes as copied by towns and trade journals, and a water property library."""

import pytest
from chemicals.iapws import iapws95_rho

from advisor.calculators import OutOfRange
from advisor.calculators.plumbing import (
    drain_fall,
    drop_to_trap,
    full_sink_weight,
    highest_wall_outlet,
    longest_trap_arm,
    trap_arm_fall,
)

INCH, FOOT, POUND = 0.0254, 0.3048, 0.45359237
QUARTER = 1 / 48


@pytest.mark.parametrize(
    ("code", "size", "feet"),
    [
        ("irc", 1.25, 5),
        ("irc", 1.5, 6),
        ("irc", 2, 8),
        ("irc", 3, 12),
        ("irc", 4, 16),
        ("upc", 1.25, 2.5),
        ("upc", 1.5, 3.5),
        ("upc", 2, 5),
        ("upc", 3, 6),
        ("upc", 4, 10),
    ],
)
def test_each_code_has_its_own_trap_arm(code, size, feet) -> None:
    """Trap 12.2. IRC Table P3105.1 (trade journal), UPC Table 1002.2 (city ordinance)."""
    assert longest_trap_arm(size * INCH, code).value / FOOT == pytest.approx(feet)


def test_four_feet_of_inch_and_a_half_pass_one_code_and_fail_the_other() -> None:
    """House 4.7."""
    assert [longest_trap_arm(1.5 * INCH, code).value >= 4 * FOOT for code in ("irc", "upc")] == [True, False]


def test_an_unknown_code_is_taken_as_the_stricter() -> None:
    assert longest_trap_arm(1.5 * INCH).value == longest_trap_arm(1.5 * INCH, "upc").value


def test_the_shortest_trap_arm_is_two_diameters() -> None:
    """IRC P3105.3: 1-1/2 in wants 3 in."""
    assert longest_trap_arm(1.5 * INCH, "irc").part("shortest").value / INCH == pytest.approx(3)


@pytest.mark.parametrize(("size", "fall"), [(1.25, 1.25), (1.5, 1.5), (2, 2), (3, 1.5), (4, 2)])
def test_the_longest_arm_at_the_least_slope_falls_no_more_than_its_diameter(size, fall) -> None:
    """House 4.5: Table P3105.1 agrees with P3105.2."""
    arm = longest_trap_arm(size * INCH, "irc")
    result = trap_arm_fall(arm.value, arm.part("slope").value, size * INCH)

    assert result.value / INCH == pytest.approx(fall)
    assert result.part("excess").value <= 1e-12


def test_a_steep_trap_arm_falls_more_than_its_diameter() -> None:
    """IRC P3105.2: 1-1/2 in pipe, 5 ft at 3/8 in/ft falls 1.875 in: fails."""
    result = trap_arm_fall(5 * FOOT, 3 / 8 / 12, 1.5 * INCH)

    assert result.value / INCH == pytest.approx(1.875)
    assert result.part("excess").value > 0


@pytest.mark.parametrize(
    ("feet", "size", "code", "inches"),
    [(10, 2, "irc", 2.5), (8, 3, "irc", 1.0), (8, 3, "upc", 2.0), (10, 1.5, "upc", 2.5)],
)
def test_fall_of_a_drain(feet, size, code, inches) -> None:
    """IRC P3005.3 (quoted text); trap 12.1: 1/4 in/ft at 3 in is UPC, not IRC."""
    assert drain_fall(feet * FOOT, size * INCH, code).value / INCH == pytest.approx(inches)


@pytest.mark.parametrize(
    ("top", "bowl", "disposer", "run", "height"),
    [(1.25, 9, 7, 12, 16.5), (1.25, 10, 9, 18, 13.375), (0, 8, 0, 12, 25.75), (1.5, 7, 0, 12, 25.25)],
)
def test_highest_outlet_for_a_sink(top, bowl, disposer, run, height) -> None:
    """House 4A, H 36 in, margin 2 in: arithmetic by hand."""
    result = highest_wall_outlet(36 * INCH, bowl * INCH, run * INCH, top * INCH, disposer * INCH)

    assert result.value / INCH == pytest.approx(height)
    assert (result.value < 18 * INCH) is (disposer > 0)  # a stub at 18 in conflicts with both disposers


@pytest.mark.parametrize(("outlet", "drop"), [(18, 36 - 9 - 18 - 0.25), (2.75, 24), (1.75, 25)])
def test_drop_from_the_sink_to_its_trap(outlet, drop) -> None:
    """IRC P3201.6: 24 in passes, 25 in fails; drop-in sink 9 in deep, 12 in from the wall."""
    result = drop_to_trap(36 * INCH, 9 * INCH, outlet * INCH, 12 * INCH)

    assert result.value / INCH == pytest.approx(drop)


def test_a_sink_full_of_water() -> None:
    """House 4.26: 30 x 16 x 9 in is 2.50 ft3 and 156.0 lb."""
    full = full_sink_weight(30 * INCH, 16 * INCH, 9 * INCH)

    assert full.part("volume").value / FOOT**3 == pytest.approx(2.5)
    assert full.value / POUND == pytest.approx(156.0, abs=0.1)


def test_water_weighs_what_the_property_library_says() -> None:
    """chemicals, IAPWS-95 at 60 °F and one atmosphere; 62.4 lb/ft3 is rounded to three figures."""
    full = full_sink_weight(1, 1, 1)

    assert full.value == pytest.approx(iapws95_rho(T=288.7056, P=101325), rel=0.001)


def test_sink_and_disposer_hang_on_the_same_fixing() -> None:
    assert full_sink_weight(0.5, 0.4, 0.2, 10, 8).value - full_sink_weight(0.5, 0.4, 0.2).value == pytest.approx(18)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: longest_trap_arm(2.5 * INCH, "irc"), "diameter must be 1-1/4"),
        (lambda: longest_trap_arm(-1, "irc"), "diameter must be above"),
        (lambda: longest_trap_arm(1.5 * INCH, "dwv"), "code must be irc or upc"),
        (lambda: trap_arm_fall(-1, 0.02, 0.04), "length must be"),
        (lambda: drain_fall(-1, 2 * INCH), "length must be"),
        (lambda: highest_wall_outlet(0, 0.2, 0.3), "counter height must be above"),
        (lambda: drop_to_trap(0.9, 0.2, 3, 0.3), "outlet height must be"),
        (lambda: full_sink_weight(0, 1, 1), "length must be above"),
    ],
)
def test_what_cannot_be_is_refused(call, message) -> None:
    with pytest.raises(OutOfRange, match=message):
        call()
