"""What the plan costs, with a reserve for surprises, against the budget."""

from __future__ import annotations

from advisor.calculators.budget import cost_with_reserve
from advisor.plan.model import Plan
from advisor.review.constraints import words
from advisor.review.hours import Hours, number

_RESERVE = 0.15  # common practice: 10 to 20 %, more in an old house
_MOST = 10_000_000  # the calculator's limit


def money(plan: Plan, hours: dict[str, Hours]) -> dict[str, object]:
    """Costs of steps, new parts and products in USD, the reserve, the total and what the budget leaves.

    Hired work without a price counts by the hourly rate where the plan gives one, else it is named as unpriced.
    An old part's cost is what it would cost to spoil; only new parts are bought.
    """
    budget = plan.entities.get("budget", {}).get("budget")
    rate = number(budget, "hourly_rate")
    costs: list[float] = []
    unpriced: list[str] = []
    for step in plan.steps:
        cost, own = number(step, "cost"), hours[step.id]
        if cost is not None:
            costs.append(cost)
        elif own.hired and rate is not None:
            costs.append(rate * own.work / 60 * own.asked)
        elif own.hired:
            unpriced.append(step.id)
    for sort in ("part", "product"):
        for name, entity in sorted(plan.entities.get(sort, {}).items()):
            cost = number(entity, "cost")
            new = sort == "product" or words(entity, "new") == ("yes",)
            if cost is not None and new:
                costs.append(cost)
            elif new:
                unpriced.append(name)
    if not costs or sum(costs) > _MOST:
        return {"unpriced": unpriced} if unpriced else {}
    stated = number(budget, "contingency")
    reserve = _RESERVE if stated is None else stated
    total = cost_with_reserve(tuple(costs), reserve)
    limit = number(budget, "money")
    return {
        "unit": "USD",
        "costs": round(sum(costs), 2),
        "reserve": round(total.value - sum(costs), 2),
        "reserve_share": reserve,
        "reserve_presumed": stated is None,
        "total": round(total.value, 2),
        "budget": limit,
        "left": None if limit is None else round(limit - total.value, 2),
        "unpriced": unpriced,
    }
