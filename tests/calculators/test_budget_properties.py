"""What must hold of money and days."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.calculators.budget import calendar_days, cost_with_reserve, money_left, working_days

HOUR = 3600
costs = st.lists(st.floats(0, 10_000), min_size=1, max_size=8).map(tuple)
hours = st.lists(st.floats(0, 100 * HOUR), min_size=1, max_size=8).map(tuple)


@given(costs, st.floats(0, 1))
def test_a_budget_of_the_whole_cost_leaves_nothing(bought, reserve) -> None:
    assert money_left(cost_with_reserve(bought, reserve).value, bought, reserve).value == pytest.approx(0, abs=1e-6)


@given(costs)
def test_no_reserve_is_the_plain_sum(bought) -> None:
    assert cost_with_reserve(bought, 0).value == pytest.approx(sum(bought))


@given(hours, st.floats(HOUR, 12 * HOUR), st.integers(1, 6))
def test_the_days_hold_the_work_and_one_fewer_would_not(tasks, a_day, people) -> None:
    days = working_days(tasks, a_day, people).value

    assert days * a_day * people >= sum(tasks) * (1 - 1e-9) - 1e-2
    assert days == 0 or (days - 1) * a_day * people < sum(tasks)


@given(st.integers(1, 500), st.integers(1, 6))
def test_more_working_days_a_week_never_take_longer(days, a_week) -> None:
    assert calendar_days(days, a_week + 1).value <= calendar_days(days, a_week).value
    assert calendar_days(days, 7).value == days
