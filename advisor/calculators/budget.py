"""Budget and time: money with a reserve, hours of work as days, days of work on the calendar."""

from __future__ import annotations

from math import ceil
from typing import Annotated

from advisor.calculators._base import (
    Above,
    Between,
    Fraction,
    Money,
    Moneys,
    Number,
    OutOfRange,
    Part,
    Result,
    Time,
    Times,
    calculator,
    need,
)

_MOST_MONEY = 10_000_000
_HOUR = 3600
_LITTLE = 1e-6  # 16 hours at 8 a day are two days, whatever the last bit says


@calculator("budget", "money", ("common practice",))
def cost_with_reserve(costs: Moneys, reserve: Annotated[Fraction, Between(0, 1)] = 0.15) -> Result:
    """Cost of a job with a reserve for surprises: sum of costs x (1 + reserve).

    Parameters: costs [USD], one at least, each 0 to 10 million; reserve [-], 0 to 1, 15 % unless told
    otherwise; an old house wants 20 %.
    Returns: Result [USD]; parts `subtotal` and `set_aside`.  Raises: OutOfRange.

    >>> cost_with_reserve((800, 1000), 0.10).value
    1980.0

    References: common practice: 10 to 20 %.
    """
    if not costs:
        raise OutOfRange("costs", "must name one cost at least")
    for cost in costs:
        need("costs", cost, 0, _MOST_MONEY, "money")
    subtotal = float(sum(costs))
    set_aside = subtotal * reserve
    return Result(
        subtotal + set_aside,
        "money",
        "{subtotal} + {subtotal} x {reserve}",
        (*(Part("cost", cost, "money") for cost in costs), Part("reserve", reserve, "fraction")),
        (Part("subtotal", subtotal, "money"), Part("set_aside", set_aside, "money")),
    )


@calculator("budget", "money", ("common practice",))
def money_left(budget: Annotated[Money, Between(0, _MOST_MONEY)], costs: Moneys, reserve: Fraction = 0.15) -> Result:
    """Money left after the costs and their reserve: budget - sum of costs x (1 + reserve).

    Parameters: budget [USD], 0 to 10 million; the rest as for `cost_with_reserve`.
    Returns: Result [USD], negative where the budget is short.  Raises: OutOfRange.

    >>> money_left(2000, (800, 1000), 0.10).value
    20.0

    References: common practice.
    """
    total = cost_with_reserve(costs, reserve)
    return Result(
        budget - total.value,
        "money",
        "{budget} - ({subtotal} + {subtotal} x {reserve})",
        (Part("budget", budget, "money"), *total.inputs),
        total.parts,
    )


@calculator("budget", "number", ("common practice",))
def working_days(
    hours: Times,
    hours_per_day: Annotated[Time, Above(0, 16 * _HOUR)] = 8.0 * _HOUR,
    people: Annotated[Number, Between(1, 50)] = 1,
) -> Result:
    """Working days that tasks take: sum of hours / (hours a day x people), rounded up.

    Parameters: hours of one person for each task [s], one at least, each 0 to 10,000 h; hours_per_day [s],
    above 0 to 16 h, 8 h unless told otherwise; people who work at once, 1 to 50.
    Returns: Result [-], whole days; part `exact` [-].  Raises: OutOfRange.

    >>> hour = 3600
    >>> working_days((10 * hour, 7 * hour), 8 * hour).value        # 17 h are two days and an hour
    3.0

    References: common practice. Drying and waiting come on top.
    """
    if not hours:
        raise OutOfRange("hours", "must name one task at least")
    for task in hours:
        need("hours", task, 0, 10_000 * _HOUR, "time")
    total = float(sum(hours))
    exact = total / (hours_per_day * people)
    return Result(
        float(ceil(exact - _LITTLE)),
        "number",
        "{total} / ({hours_per_day} x {people}), rounded up",
        (
            *(Part("task", task, "time") for task in hours),
            Part("hours_per_day", hours_per_day, "time"),
            Part("people", people, "number"),
        ),
        (Part("total", total, "time"), Part("exact", exact, "number")),
    )


@calculator("budget", "number", ("common practice",))
def calendar_days(
    working_days: Annotated[Number, Between(1, 1_000)], days_per_week: Annotated[Number, Between(1, 7)] = 5
) -> Result:
    """Days on the calendar from the first working day to the last, both counted.

    Parameters: working_days, whole days, 1 to 1,000; days_per_week that are worked, 1 to 7, one after the
    other from the day of the start, 5 unless told otherwise, 2 for weekends only.
    Returns: Result [-]; parts `full_weeks` and `rest`.  Raises: OutOfRange.

    >>> calendar_days(5, 2).value        # two weekends, and the Saturday of the third
    15.0

    References: common practice.
    """
    days, a_week = ceil(working_days - _LITTLE), int(days_per_week)
    if a_week != days_per_week:
        raise OutOfRange("days_per_week", "must be a whole number")
    full_weeks, rest = divmod(days - 1, a_week)
    return Result(
        float(7 * full_weeks + rest + 1),
        "number",
        "7 x {full_weeks} + {rest} + 1",
        parts=(Part("full_weeks", full_weeks, "number"), Part("rest", rest, "number")),
    )
