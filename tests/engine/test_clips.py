"""CLIPS, an independent engine, reaches the same conclusions from the same rules and facts."""

from __future__ import annotations

import os
from functools import lru_cache
from pathlib import Path

import pytest
from engine.clips_rules import Clips, conclusions
from engine.programs import make_program, naive
from generators import make_plan

from advisor.plan import make_facts, read_plan
from advisor.plan.model import PlanFact
from advisor.rulebase.base import load_rulebase
from advisor.rulebase.model import SHADOW
from advisor.site.run import run

ROOT = Path(__file__).parents[2]
PLANS = sorted([*ROOT.glob("scenarios/*.yaml"), *ROOT.glob("tests/plan/core/*.yaml")])
GENERATED = int(os.environ.get("GENERATED", "150"))  # `make fuzz` asks for 1,000
BLOCKS = 5


@lru_cache(maxsize=1)
def _clips() -> Clips:
    return Clips(load_rulebase())


def _facts(plan: object) -> list[PlanFact]:
    vocabulary = load_rulebase().vocabulary
    return make_facts(read_plan(plan, vocabulary), vocabulary).facts  # type: ignore[arg-type]


@pytest.mark.parametrize("path", PLANS, ids=lambda p: p.stem)
def test_a_plan_comes_to_the_same_in_clips(path: Path) -> None:
    """Facts, findings with their bindings, what could not be worked out, and what the site needs."""
    facts = _facts(path)

    assert conclusions(run(load_rulebase(), facts)) == conclusions(_clips().run(facts))


@pytest.mark.parametrize("block", range(BLOCKS))
def test_generated_plans_come_to_the_same_in_clips(block: int) -> None:
    """Plans that are made so that many rules speak."""
    wrong = []
    for seed in range(block, GENERATED, BLOCKS):
        facts = _facts(make_plan(seed))
        if conclusions(run(load_rulebase(), facts)) != conclusions(_clips().run(facts)):
            wrong.append(seed)

    assert wrong == []


def test_clips_agrees_with_the_naive_fixpoint_too() -> None:
    """The translation itself is checked against the evaluation written for the tests, on random programs."""
    wrong = []
    for seed in range(60):
        base, facts, rules = make_program(seed)
        found = {(r.kind, r.values["x"], r.values["y"]) for r in Clips(base).run(facts).memory.records}
        if found != naive(rules, facts):
            wrong.append(seed)

    assert wrong == []


def test_generated_plans_make_many_rules_speak() -> None:
    """A comparison over plans about which nothing is said would prove nothing."""
    spoken: set[str] = set()
    for seed in range(150):
        outcome = run(load_rulebase(), _facts(make_plan(seed)))
        spoken |= {d.why.variant.rule.id for d in outcome.drawn}  # type: ignore[attr-defined]
        spoken |= {w.variant.rule.id for r in outcome.memory.records for w in r.derivations}  # type: ignore[attr-defined]
        if outcome.site is not None:  # what holds is not told, but it was found
            spoken |= {one.rule for row in (*outcome.site.effects, *outcome.site.needs) for one in row}
    own = {rule.id for rule in load_rulebase().rules if SHADOW not in rule.id}  # a shadow stands for its rule

    assert len(spoken & own) > len(own) // 2
