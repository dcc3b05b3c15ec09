"""A need of which nobody can tell whether it holds: told with the question that decides it, or open."""

from __future__ import annotations

from dataclasses import replace

from advisor.engine.run import Drawn, Outcome
from advisor.plan.facts import question
from advisor.plan.model import Basis, Plan
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import Rule
from advisor.site.assume import Key
from advisor.site.possible import Possible
from advisor.site.standing import Practice
from advisor.site.untold import Untold, untold
from advisor.site.verdicts import UNKNOWN, listed


def tell_untold(outcome: Outcome, possible: Possible, plan: Plan, rulebase: RuleBase) -> list[Practice]:
    """Say of needs that fail, and might hold, that it cannot be told; the practices of those that only might fail."""
    if outcome.site is None:
        return []
    found = {id(one.need.drawn): one for one in untold(outcome.site, possible, plan, rulebase)}
    outcome.drawn = [
        _told(drawn, found[id(drawn)], plan, rulebase)
        if id(drawn) in found and not found[id(drawn)].holds and not drawn.answer
        else drawn
        for drawn in outcome.drawn
    ]
    return [_practice(one) for one in found.values() if one.holds]


def _told(drawn: Drawn, one: Untold, plan: Plan, rulebase: RuleBase) -> Drawn:
    """The need, presumed not to hold, with what would decide it."""
    rests = tuple(basis for key in one.unknowns if (basis := _basis(key, plan, rulebase)) is not None)
    if not rests:
        return drawn
    conclusion = drawn.conclusion
    steps = listed(list(one.steps)) or "an earlier step"
    what = f"Whether {steps} does this already cannot be told. {rests[0].ask} Until you know: {conclusion.what}"
    index = _rule(drawn).conclusions.index(conclusion)
    return replace(
        drawn, conclusion=replace(conclusion, what=what), index=index, answer=(UNKNOWN, *one.steps), rests=rests
    )


def _basis(key: Key, plan: Plan, rulebase: RuleBase) -> Basis | None:
    sort, own, attribute = key
    known = rulebase.vocabulary.attributes.get(sort, {}).get(attribute)
    if known is None or not known.ask or own not in plan.entities.get(sort, {}):
        return None
    return Basis(sort, own, attribute, "", "", question(known, own))


def _practice(one: Untold) -> Practice:
    drawn = one.need.drawn
    assert drawn is not None
    assert drawn.conclusion.step is not None
    rule = _rule(drawn)
    names = sorted(n for n, t in rule.types.items() if t in ("ref:part", "ref:product", "ref:room"))
    parts = tuple(sorted({str(drawn.env[n]) for n in names if n in drawn.env}))
    return Practice(rule, str(drawn.env[drawn.conclusion.step.name]), drawn.conclusion.signal, parts, one.ways)


def _rule(drawn: Drawn) -> Rule:
    return drawn.why.variant.rule  # type: ignore[attr-defined, no-any-return]
