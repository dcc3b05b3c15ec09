"""What the plan costs, with a reserve for surprises, against the budget."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.calculators.budget import cost_with_reserve
from advisor.plan.model import Plan
from advisor.plan.moneys import amount
from advisor.plan.said import number, words
from advisor.review.days.hours import Hours
from advisor.review.days.model import Costs, OtherMoney, Spending
from advisor.showing import System

_RESERVE = 0.15  # common practice: 10 to 20 %, more in an old house
_MOST = 10_000_000  # the calculator's limit
Price = tuple[float, str]  # and the money that it is in


def money(plan: Plan, hours: dict[str, Hours]) -> Spending:
    """Costs of steps, new parts and products in the plan's money, the reserve, the total and what the budget leaves.

    Hired work without a price counts by the hourly rate where the plan gives one, else it is named as unpriced.
    An old part's cost is what it would cost to spoil; only new parts are bought. Amounts in another money are
    neither converted nor added: they are told beside the sum.
    """
    budget = plan.entities.get("budget", {}).get("budget")
    unit = plan.units.money if isinstance(plan.units, System) else "USD"
    costs: list[float] = []
    unpriced: list[str] = []
    others: dict[str, list[tuple[str, float]]] = {}
    for name, price in _prices(plan, hours):
        if price is None:
            unpriced.append(name)
        elif price[1] == unit:
            costs.append(price[0])
        else:
            others.setdefault(price[1], []).append((name, price[0]))
    beside = tuple(
        OtherMoney(other, round(sum(cost for _, cost in others[other]), 2), tuple(n for n, _ in others[other]))
        for other in sorted(others)
    )
    if not costs or sum(costs) > _MOST:
        return Spending(None, tuple(unpriced), beside)
    stated = number(budget, "contingency")
    reserve = _RESERVE if stated is None else stated
    total = cost_with_reserve(tuple(costs), reserve)
    limit = number(budget, "money")
    own = Costs(
        unit=unit,
        costs=round(sum(costs), 2),
        reserve=round(total.value - sum(costs), 2),
        reserve_share=reserve,
        reserve_presumed=stated is None,
        total=round(total.value, 2),
        budget=limit,
        left=None if limit is None else round(limit - total.value, 2),
    )
    return Spending(own, tuple(unpriced), beside)


def _prices(plan: Plan, hours: dict[str, Hours]) -> Iterator[tuple[str, Price | None]]:
    """What has to be paid for, and what it costs; None where nobody said."""
    rate = amount(plan.entities.get("budget", {}).get("budget"), "hourly_rate")
    for step in plan.steps:
        cost, own = amount(step, "cost"), hours[step.id]
        if cost is not None:
            yield step.id, cost
        elif own.hired:
            yield step.id, None if rate is None else (rate[0] * own.work / 60 * own.asked, rate[1])
    for sort in ("part", "product"):
        for name, entity in sorted(plan.entities.get(sort, {}).items()):
            if sort == "product" or words(entity, "new") == ("yes",):
                yield name, amount(entity, "cost")
