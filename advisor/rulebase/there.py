"""Where a plan's house stands decides which rules it hears, and in which units and words; see `elsewhere.py`."""

from __future__ import annotations

from advisor.plan.model import Plan
from advisor.plan.place import HOME
from advisor.rulebase.base import RuleBase
from advisor.rulebase.countries import Country, country
from advisor.units import System


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


def country_of(code: str, rulebase: RuleBase) -> Country:
    """The country of a code, by the name that the vocabulary has for it."""
    known = rulebase.vocabulary.taxonomies.get("country")
    term = known.terms.get(code) if known else None
    return country(code, term.meaning if term else "")
