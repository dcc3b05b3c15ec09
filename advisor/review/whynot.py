"""Why a rule stays silent: the nearest miss, with the condition that failed and the fact it failed on."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.engine.guards import State, solve
from advisor.engine.memory import Env, Memory, Record, match_one
from advisor.review.why import Teller
from advisor.rulebase.base import RuleBase
from advisor.rulebase.describe import condition_words
from advisor.rulebase.model import Compute, Condition, Not, Pattern, Rule, Test
from advisor.rulebase.split import Guard, Later, Variant, variants


@dataclass(slots=True)
class Miss:
    """How far a rule got: conditions that held, the one that failed in words, and the detail of the failure."""

    held: int
    total: int
    failed: str
    detail: str
    line: int


def nearest_miss(
    rule: Rule, step: str | None, memory: Memory, teller: Teller, rulebase: RuleBase
) -> Miss | None:
    """The nearest miss over all ways to satisfy the rule; None where it speaks."""
    env: Env = {}
    if step is not None:
        for conclusion in rule.conclusions:
            if conclusion.step is not None:
                env[conclusion.step.name] = step
    best: Miss | None = None
    for variant in variants(rule):
        miss = _walk(variant, env, memory, teller, rulebase)
        if miss is None:
            return None
        if best is None or (miss.held, -miss.total) > (best.held, -best.total):
            best = miss
    return best


def _walk(variant: Variant, env: Env, memory: Memory, teller: Teller, rulebase: RuleBase) -> Miss | None:
    conditions: list[Guard | Condition] = [*variant.patterns, *(Not((p,)) for p in variant.absent), *variant.guards]
    states = [State(dict(env))]
    for held, condition in enumerate(conditions):
        failures: list = []  # type: ignore[type-arg]
        grown = [new for state in states[:200] for new in solve([condition], state, memory, failures, variant.rule.id)]
        if not grown:
            words = _words(condition, variant.rule, rulebase)
            detail, line = _detail(condition, states, memory, teller, [f.message for f in failures])
            return Miss(held, len(conditions), words, detail, line)
        states = grown
    return None


def _words(condition: Guard | Condition, rule: Rule, rulebase: RuleBase) -> str:
    if isinstance(condition, Later):
        word = "earlier" if condition.earlier else "later"
        return f"step ${condition.step} comes {word} than ${condition.than}".replace("$step ", "another step ")
    return " ".join(condition_words(condition, rule, rulebase))


def _detail(
    condition: Guard | Condition, states: list[State], memory: Memory, teller: Teller, failures: list[str]
) -> tuple[str, int]:
    if isinstance(condition, Pattern):
        return _closest(condition, states, memory, teller)
    if isinstance(condition, Not):
        for state in states:
            for found in solve(condition.inside, State(state.env), memory, [], ""):
                node = teller.fact(*found.support[0]) if found.support else None
                return (f"it is there: {node.text}", node.line) if node else ("it is there", 0)
    if isinstance(condition, Compute) and failures:
        return failures[0], 0
    values = ", ".join(f"{k} {v}" for k, v in sorted(states[0].env.items()) if not k.startswith("step "))
    return f"with {values}", 0


def _closest(pattern: Pattern, states: list[State], memory: Memory, teller: Teller) -> tuple[str, int]:
    """The fact that passes most tests of the pattern, and the test that it fails."""
    best: tuple[int, Record, Test, Env] | None = None
    for state in states[:50]:
        for record in memory.by_kind.get(pattern.kind, []):
            failing = [t for t in pattern.tests if match_one((t,), record, state.env) is None]
            passed = len(pattern.tests) - len(failing)
            if failing and (best is None or passed > best[0]):
                best = (passed, record, failing[0], state.env)
    if best is None:
        return f"the plan gives no {pattern.kind.replace('_', ' ')}", 0
    _, record, test, env = best
    name = test.attribute.replace("_", " ")
    own = record.values.get("id", record.kind.replace("_", " "))
    if test.attribute not in record.values:
        return f"{name} of {own} is not known", record.line
    node = teller.fact(Pattern(pattern.kind, (test,), 0), record)
    wanted = teller.wanted(Pattern(pattern.kind, (test,), 0), env)
    return f"the nearest is {node.text}; looked for: {wanted}", record.line
