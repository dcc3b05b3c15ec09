"""Why a rule stays silent: the nearest miss, with the condition that failed and the fact it failed on."""

from __future__ import annotations

from msgspec import Struct

from advisor.engine.guards import Failure, PartialMatch, solve
from advisor.engine.memory import Env, Memory, Record, match_one
from advisor.review.why.why import Teller
from advisor.rulebase.base import RuleBase
from advisor.rulebase.describe import condition_words
from advisor.rulebase.model import Compute, Condition, Not, Pattern, Rule, Test, Var
from advisor.rulebase.split import Guard, Later, Variant, variants

MAX_DEPTH = 6  # deductions behind deductions


class Miss(Struct):
    """How far a rule got: conditions that held, the one that failed in words, and the detail of the failure.

    Where the failed condition wants something deduced, `behind` is the nearest miss of a rule that deduces it.
    """

    rule: str
    held: int
    total: int
    failed: str
    detail: str
    line: int
    behind: Miss | None = None


class Seeker:
    """Looks for nearest misses in one run."""

    def __init__(self, memory: Memory, teller: Teller, rulebase: RuleBase) -> None:
        self.memory, self.teller, self.rulebase = memory, teller, rulebase

    def nearest_miss(self, rule: Rule, step: str | None) -> Miss | None:
        """The nearest miss over all ways to satisfy the rule; None where it speaks."""
        env: Env = {}
        if step is not None:
            env = {c.step.name: step for c in rule.conclusions if c.step is not None}
        return self._of_rule(rule, env, 0)

    def _of_rule(self, rule: Rule, env: Env, depth: int) -> Miss | None:
        best: Miss | None = None
        for variant in variants(rule):
            miss = self._of_variant(variant, env, depth)
            if miss is None:
                return None
            if best is None or (miss.held, -miss.total) > (best.held, -best.total):
                best = miss
        return best

    def _of_variant(self, variant: Variant, env: Env, depth: int) -> Miss | None:
        conditions: list[Guard | Condition] = [
            *variant.patterns,
            *(Not((p,)) for p in variant.absent),
            *variant.guards,
        ]
        rule, states = variant.rule, [PartialMatch(dict(env))]
        for held, condition in enumerate(conditions):
            failures: list[Failure] = []
            grown = [new for state in states[:200] for new in solve([condition], state, self.memory, failures, rule.id)]
            if not grown:
                words = _words(condition, rule, self.rulebase)
                detail, line = _detail(condition, states, self.memory, self.teller, [f.message for f in failures])
                miss = Miss(rule.id, held, len(conditions), words, detail, line)
                if isinstance(condition, Pattern) and depth < MAX_DEPTH:
                    miss.behind = self._behind(condition, states[0].env, depth)
                return miss
            states = grown
        return None

    def _behind(self, pattern: Pattern, env: Env, depth: int) -> Miss | None:
        """Why nothing was deduced that the pattern would match."""
        best: Miss | None = None
        for rule in self.rulebase.rules:
            for conclusion in rule.conclusions:
                if conclusion.deduced != pattern.kind:
                    continue
                known: Env = {}
                wanted = {t.attribute: t.values[0] for t in pattern.tests if t.op in ("bind", "is")}
                for name, operand in conclusion.values:
                    value = wanted.get(name)
                    plain = env.get(value.name) if isinstance(value, Var) else value
                    if isinstance(operand, Var) and plain is not None:
                        known[operand.name] = plain
                miss = self._of_rule(rule, known, depth + 1)
                if miss is not None and (best is None or _nearness(miss) > _nearness(best)):
                    best = miss
        return best


def _nearness(miss: Miss) -> tuple[float, bool]:
    """The share of conditions that hold; among equals a stated value tells more than one that is not known."""
    return miss.held / miss.total, "is not known" not in miss.detail


def _words(condition: Guard | Condition, rule: Rule, rulebase: RuleBase) -> str:
    if isinstance(condition, Later):
        word = "earlier" if condition.earlier else "later"
        return f"step ${condition.step} comes {word} than ${condition.than}".replace("$step ", "another step ")
    return " ".join(condition_words(condition, rule, rulebase))


def _detail(
    condition: Guard | Condition, states: list[PartialMatch], memory: Memory, teller: Teller, failures: list[str]
) -> tuple[str, int]:
    if isinstance(condition, Pattern):
        return _closest(condition, states, memory, teller)
    if isinstance(condition, Not):
        for state in states:
            for found in solve(condition.inside, PartialMatch(state.env), memory, [], ""):
                node = teller.fact(*found.support[0]) if found.support else None
                return (f"it is there: {node.text}", node.line) if node else ("it is there", 0)
    if isinstance(condition, Compute) and failures:
        return failures[0], 0
    values = ", ".join(f"{k} {v}" for k, v in sorted(states[0].env.items()) if not k.startswith("step "))
    return f"with {values}", 0


def _closest(pattern: Pattern, states: list[PartialMatch], memory: Memory, teller: Teller) -> tuple[str, int]:
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
