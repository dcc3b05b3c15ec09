"""Where a plan's house stands decides its rules, its units and its words; see `rulebase/elsewhere.py`."""

from __future__ import annotations

from advisor.plan.model import Plan
from advisor.rulebase.base import RuleBase
from advisor.rulebase.countries import HOME
from advisor.showing import System


def settle(plan: Plan, rulebase: RuleBase) -> RuleBase:
    """The rules as they hold where the plan's house stands; the plan then shows quantities and words as there."""
    place = plan.place
    if place.code != HOME:
        units = plan.units
        money = units.money if isinstance(units, System) else System(units).money
        plan.units = System(str(units), money, str(units) == "metric", place.code)
    bound = any(rule.only_in != ("", "") for rule in rulebase.rules)
    if rulebase.place or (place.code == HOME and not bound):
        return rulebase
    from advisor.rulebase.elsewhere import moved_to  # here, as at home none of it is needed

    return moved_to(rulebase, place.code, place.region if bound else "")
