"""Budget and time against decimal arithmetic and numpy's business calendar."""

from decimal import Decimal

import numpy as np
import pytest

from advisor.calculators import OutOfRange
from advisor.calculators.budget import calendar_days, cost_with_reserve, money_left, working_days

HOUR = 3600


def test_a_reserve_comes_on_top_of_the_costs() -> None:
    """decimal, exact: (412.50 + 1387.25) x 1.15 = 2069.7125."""
    exact = (Decimal("412.50") + Decimal("1387.25")) * Decimal("1.15")
    result = cost_with_reserve((412.50, 1387.25))

    assert result.value == pytest.approx(float(exact), rel=1e-12)
    assert result.part("set_aside").value == pytest.approx(float(exact - Decimal("1799.75")))


def test_a_budget_that_pays_for_the_costs_but_not_for_the_reserve_is_short() -> None:
    """By hand: 1800 - 1700 x 1.10 = -70."""
    assert money_left(1800, (800, 900), 0.10).value == pytest.approx(-70)


@pytest.mark.parametrize(
    ("hours", "a_day", "people", "days"),
    [((16,), 8, 1, 2), ((16.1,), 8, 1, 3), ((10, 7), 8, 1, 3), ((16,), 8, 2, 1), ((0.1,) * 30, 3, 1, 1)],
)
def test_hours_become_whole_days(hours, a_day, people, days) -> None:
    """Division by hand; thirty times 0.1 h are 3 h, not a bit more."""
    assert working_days(tuple(h * HOUR for h in hours), a_day * HOUR, people).value == days


@pytest.mark.parametrize("a_week", range(1, 8))
@pytest.mark.parametrize("days", [1, 2, 5, 6, 11, 23])
def test_calendar_days_agree_with_a_business_calendar(days, a_week) -> None:
    """numpy.busday_offset from a Monday, the first days of each week being worked."""
    mask = "1" * a_week + "0" * (7 - a_week)
    start = np.datetime64("2024-01-01")
    last = np.busday_offset(start, days - 1, weekmask=mask)

    assert calendar_days(days, a_week).value == int((last - start).astype(int)) + 1


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: cost_with_reserve(()), "costs must name"),
        (lambda: cost_with_reserve((-1,)), "costs must be"),
        (lambda: cost_with_reserve((1,), 2), "reserve must be"),
        (lambda: money_left(-1, (1,)), "budget must be"),
        (lambda: working_days(()), "hours must name"),
        (lambda: working_days((HOUR,), 0), "hours per day must be above"),
        (lambda: working_days((HOUR,), people=0.5), "people must be"),
        (lambda: calendar_days(5, 8), "days per week must be"),
        (lambda: calendar_days(5, 2.5), "days per week must be a whole number"),
    ],
)
def test_what_cannot_be_is_refused(call, message) -> None:
    with pytest.raises(OutOfRange, match=message):
        call()
