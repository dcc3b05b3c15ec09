"""What the tests of order and schedule share: plans from a few words, findings as rules would make them."""

from __future__ import annotations

import random
from functools import lru_cache
from typing import Any

from advisor.plan import read_plan
from advisor.plan.model import Plan
from advisor.review.finding import Cited, Finding
from advisor.rulebase.vocabulary import Vocabulary
from advisor.rulebase.vocabulary_files import load_vocabulary
from advisor.tables import rules_folder


@lru_cache(maxsize=1)
def words() -> Vocabulary:
    """The vocabulary of the rules."""
    return load_vocabulary([rules_folder() / "vocabulary"])


def plan_of(steps: list[dict[str, Any]], **rest: Any) -> Plan:
    """A plan with these steps; parts that nobody describes are doors."""
    parts = dict(rest.pop("parts", {}))
    for step in steps:
        named = step.get("to", [])
        for part in [named] if isinstance(named, str) else named:
            parts.setdefault(part, {"kind": "cabinet doors"})
    return read_plan({"title": "A plan of a test", "parts": parts, "steps": steps, **rest}, words())


def finding(kind: str, first: str | None, step: str | None, hours: float = 0, **rest: Any) -> Finding:
    """A finding of that kind between two steps."""
    rule = rest.pop("rule", f"{first}-then-{step}")
    values: dict[str, Any] = {
        "id": f"{rule}@{step}", "rule": rule, "title": rule, "pack": "test", "kind": kind, "signal": "notice",
        "step": step, "step_line": 0, "what": f"{first} before {step}.", "because": f"{step} needs {first}.",
        "controls": (), "numbers": (), "sources": (Cited("", "common practice", ""),), "rests_on": (),
        "advised": False, "first": first, "duration": hours * 3600 if kind == "wait" else None,
    }  # fmt: skip
    return Finding(**(values | rest))


def random_edges(chance: random.Random, count: int, most: int) -> set[tuple[int, int]]:
    """Pairs (first, then) without a ring: they all follow one hidden order, which is near the plan's own."""
    hidden = sorted(range(count), key=lambda i: i + chance.uniform(0, chance.choice((1, 3, count))))
    edges = set()
    for _ in range(chance.randint(0, most)):
        i, j = sorted(chance.sample(range(count), 2))
        edges.add((hidden[i], hidden[j]))
    return edges
