"""Lengths of ducts against the code's table and the sheets of makers."""

import pytest

from advisor.calculators import OutOfRange
from advisor.calculators.ducts import duct_with_bends, longest_dryer_duct

FOOT = 0.3048


@pytest.mark.parametrize(
    ("bends", "half_bends", "feet"),
    [(0, 0, 35), (1, 0, 30), (0, 1, 32.5), (2, 2, 20), (4, 0, 15), (7, 0, 0), (9, 0, 0)],
    ids=["straight", "one bend", "one half bend", "two of each", "four bends", "nothing left", "never below nothing"],
)
def test_each_bend_shortens_a_dryer_duct(bends: float, half_bends: float, feet: float) -> None:
    """IRC Table M1502.4.6.1: 4 in radius mitered 90-degree elbow 5 ft, 45-degree elbow 2 ft 6 in, off 35 ft.

    Read in a city's plan notes that print the table (then numbered M1502.4.5.1) and a code library's page.
    """
    assert longest_dryer_duct(bends, half_bends).value / FOOT == pytest.approx(feet, abs=1e-9)


def test_each_bend_lengthens_a_hood_duct() -> None:
    """Sheets of makers for 6 in round duct: 90-degree elbow 10 ft, 45-degree elbow 5 ft of straight duct."""
    assert duct_with_bends(30 * FOOT, 6, 1).value / FOOT == pytest.approx(30 + 60 + 5, abs=1e-9)


@pytest.mark.parametrize(("bends", "half_bends"), [(-1, 0), (0, 51)], ids=["fewer than none", "beyond the range"])
def test_counts_of_bends_have_limits(bends: float, half_bends: float) -> None:
    """Bends are counted; 50 is far beyond any duct of a house."""
    with pytest.raises(OutOfRange):
        longest_dryer_duct(bends, half_bends)
    with pytest.raises(OutOfRange):
        duct_with_bends(FOOT, bends, half_bends)
