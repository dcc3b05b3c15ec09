"""The engine against a naive fixpoint evaluation of 300 random stratified programs."""

import random

import pytest
from engine.programs import make_program, naive

from advisor.engine.run import MATCHERS, run_rules
from advisor.site.run import run


@pytest.mark.parametrize("matcher", sorted(MATCHERS))
@pytest.mark.parametrize("block", range(10))
def test_conclusions_equal_the_naive_fixpoint(matcher: str, block: int) -> None:
    """Thirty programs a block; the same facts follow in each."""
    wrong = []
    for seed in range(block * 30, block * 30 + 30):
        base, facts, rules = make_program(seed)
        outcome = run(base, facts, matcher)
        found = {(r.kind, r.values["x"], r.values["y"]) for r in outcome.memory.records}
        if found != naive(rules, facts):
            wrong.append(seed)

    assert wrong == []


@pytest.mark.parametrize("block", range(5))
def test_changed_facts_come_to_the_naive_fixpoint(block: int) -> None:
    """Four runs of each random program, each over other facts; the naive evaluation knows no run before."""
    wrong = []
    for seed in range(block * 40, block * 40 + 40):
        pick = random.Random(seed)
        base, facts, rules = make_program(seed)
        others = make_program(seed + 1000)[1]
        for number in range(4):
            now = list(dict.fromkeys([f for f in facts if pick.random() > 0.2 * number] + others[: 3 * number]))
            found = {(r.kind, r.values["x"], r.values["y"]) for r in run_rules(base, now).memory.records}
            if found != naive(rules, now):
                wrong.append((seed, number))

    assert wrong == []


def test_the_programs_are_not_trivial() -> None:
    """Most programs deduce something, and absence matters in many: the comparison is worth its name."""
    deducing = absent = 0
    for seed in range(300):
        _, facts, rules = make_program(seed)
        deducing += len(naive(rules, facts)) > len(facts)
        absent += any(type(c).__name__ == "Not" for r in rules for c in r.conditions)

    assert (deducing > 200, absent > 150) == (True, True)
