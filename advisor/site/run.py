"""A run of the rules with each need answered: what holds is not told, what comes too late is told as a move."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.engine.bounds import MOST_OF_ALL
from advisor.engine.run import DEFAULT_MATCHER, Outcome, run_rules
from advisor.plan.model import PlanFact
from advisor.rulebase.base import RuleBase
from advisor.site.model import SimulatedSite
from advisor.site.verdicts import answer


class Judged(Outcome):
    """All that a run came to; of the needs among its conclusions those that do not hold."""

    site: SimulatedSite | None = None  # what is true at each step; None where no rule speaks of states


def run(
    rulebase: RuleBase,
    facts: Iterable[PlanFact],
    matcher: str = DEFAULT_MATCHER,
    *,
    further: bool = False,
    given_up: Iterable[str] = (),
    most: int = MOST_OF_ALL,
) -> Judged:
    """Run the rules over the facts (see `run_rules`) and answer the needs. Raises as `run_rules` does."""
    came = run_rules(rulebase, facts, matcher, given_up, most, further=further)
    drawn, site = answer(came.memory, came.drawn, rulebase.states)
    return Judged(came.memory, drawn, came.failures, came.unchecked, came.spent, came.cut, site)
