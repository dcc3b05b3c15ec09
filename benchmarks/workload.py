"""Rule bases and facts of any size for the benchmark: joins of three facts, half of the rules with an absence."""

from __future__ import annotations

import random

from advisor.plan.model import PlanFact
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import Conclusion, Kind, Not, Pattern, Rule, Test, Var
from advisor.rulebase.vocabulary import Vocabulary

KINDS = tuple(f"k{n}" for n in range(12))
WORDS = tuple("pqrstu")


def make_rules(count: int, seed: int = 1) -> RuleBase:
    """`count` rules of three conditions over twelve kinds; every second one negates its third."""
    pick = random.Random(seed)
    rules = []
    for number in range(count):
        first, second, third = (pick.choice(KINDS) for _ in range(3))
        conditions = [
            Pattern(first, (Test("x", "bind", (Var("x"),)), Test("y", "is", (pick.choice(WORDS),))), 0),
            Pattern(second, (Test("x", "bind", (Var("x"),)), Test("z", "is", (pick.choice(WORDS),))), 0),
            Pattern(third, (Test("x", "bind", (Var("x"),)), Test("y", "in", tuple(pick.sample(WORDS, 2)))), 0),
        ]
        if number % 2:
            conditions[2] = Not((conditions[2],))  # type: ignore[call-overload]
        said = Conclusion("deduce", 0, deduced="found", values=(("rule", f"r{number}"), ("x", Var("x"))))
        rules.append(Rule(f"r{number:04d}", "", "p", tuple(conditions), (said,), (), "", (), "", 0))
    attributes = {"x": "text", "y": "text", "z": "text"}
    kinds = {k: Kind(k, attributes, frozenset(), False) for k in KINDS}
    kinds["found"] = Kind("found", {"rule": "text", "x": "text"}, frozenset(), True)
    return RuleBase(Vocabulary(), {}, kinds, tuple(rules), {r.id: 0 for r in rules}, (), {})


def make_facts(count: int, crowd: int = 5, seed: int = 2) -> list[PlanFact]:
    """`count` facts, about `crowd` to a join value: the work grows as the facts do; more of a crowd, more firings."""
    pick = random.Random(seed)
    return [
        PlanFact(
            pick.choice(KINDS),
            (("x", f"x{pick.randrange(max(1, count // crowd))}"), ("y", pick.choice(WORDS)), ("z", pick.choice(WORDS))),
        )
        for _ in range(count)
    ]
