"""A further run over changed facts comes to what a first run on a fresh network does."""

import random
from pathlib import Path
from typing import Any

import pytest
from generators import make_plan

from advisor.engine.matcher import IndexedMatcher
from advisor.engine.memory import Derivation
from advisor.engine.network import forget
from advisor.engine.run import Outcome, run_rules
from advisor.plan import make_facts, read_plan
from advisor.plan.model import PlanFact
from advisor.rulebase.base import load_rulebase

SCENARIOS = sorted((Path(__file__).parents[2] / "scenarios").glob("*.yaml"))


def _why(one: Derivation) -> tuple[Any, ...]:
    variant: Any = one.variant
    support = tuple((r.kind, *sorted(r.values.items())) for _, r in one.support)
    return (variant.rule.id, variant.number, tuple(sorted(one.env.items())), support, len(one.collected))


def _shape(outcome: Outcome) -> tuple[Any, ...]:
    """What a run came to, with what each thing rests on, in whatever order."""
    memory = outcome.memory
    facts = sorted(repr((r.kind, sorted(r.values.items()), sorted(map(_why, r.derivations), key=repr)))
                   for r in memory.records)  # fmt: skip
    drawn = sorted(repr((d.conclusion.kind, d.conclusion.what, _why(d.why))) for d in outcome.drawn)
    return facts, drawn, sorted(repr((f.rule, f.message)) for f in outcome.failures), outcome.unchecked


def _changed(facts: list[PlanFact], others: list[PlanFact], pick: random.Random) -> list[PlanFact]:
    """The facts without some, and with some others."""
    return [f for f in facts if pick.random() > 0.2] + [f for f in others if pick.random() > 0.5]


@pytest.mark.parametrize("plan", SCENARIOS, ids=lambda p: p.stem)
def test_a_further_run_over_a_real_plan_is_a_fresh_one(plan: Path) -> None:
    """Facts withdrawn, then there again with those of a generated plan: the same facts, reasons and conclusions."""
    rulebase = load_rulebase()
    facts = make_facts(read_plan(plan, rulebase.vocabulary), rulebase.vocabulary).facts
    made = read_plan(make_plan(SCENARIOS.index(plan)), rulebase.vocabulary)
    others = make_facts(made, rulebase.vocabulary).facts
    pick = random.Random(SCENARIOS.index(plan))
    run_rules(rulebase, facts)
    for now in (_changed(facts, others, pick), facts, _changed(facts, others, pick)):
        further = _shape(run_rules(rulebase, now, further=True))
        forget(rulebase, IndexedMatcher)  # the next further run then follows on these facts
        fresh = _shape(run_rules(rulebase, now))

        assert further == fresh
