"""The engine against a naive fixpoint evaluation of 300 random stratified programs."""

import pytest
from engine.programs import make_program, naive

from advisor.engine.run import MATCHERS
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


def test_the_programs_are_not_trivial() -> None:
    """Most programs deduce something, and absence matters in many: the comparison is worth its name."""
    deducing = absent = 0
    for seed in range(300):
        _, facts, rules = make_program(seed)
        deducing += len(naive(rules, facts)) > len(facts)
        absent += any(type(c).__name__ == "Not" for r in rules for c in r.conditions)

    assert (deducing > 200, absent > 150) == (True, True)
