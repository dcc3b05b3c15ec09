"""What of a rule a matcher joins, and what is worked out when the joined part fires.

A matcher does equality joins and plain absence. Comparisons with a variable, places in time, absence of a
combination, calculators, tables and collections are guards: they run at firing, over kinds that are complete
by then. `strata.py` therefore counts what guards read as closed.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from itertools import product

from advisor.rulebase.model import (
    AnyOf,
    Collect,
    Compute,
    Condition,
    Given,
    Lookup,
    Not,
    Pattern,
    Rule,
    Test,
    Var,
)

MAX_VARIANTS = 64


@dataclass(frozen=True, slots=True)
class Later:
    """A time in the plan: `step` stands before (or after) `than`."""

    step: str
    than: str
    earlier: bool


Guard = Pattern | Not | Compute | Lookup | Given | Collect | Later


@dataclass(frozen=True, slots=True)
class Variant:
    """One way to satisfy a rule: patterns and absences for the matcher, in order, then guards, in order."""

    rule: Rule
    number: int
    patterns: tuple[Pattern, ...]
    absent: tuple[Pattern, ...]
    guards: tuple[Guard, ...]


def variants(rule: Rule) -> tuple[Variant, ...]:
    """The rule once for each combination of its `any` branches (a branch may hold further `any`)."""
    flat = flatten(rule.conditions)
    return tuple(_split(rule, number, conditions) for number, conditions in enumerate(flat[:MAX_VARIANTS]))


def count_variants(rule: Rule) -> int:
    """How many variants the rule has, for a check that they stay few."""
    return len(flatten(rule.conditions))


def flatten(conditions: Iterable[Condition]) -> list[tuple[Condition, ...]]:
    """The conditions without `any`: one list for each combination of branches."""
    choices: list[list[tuple[Condition, ...]]] = []
    for condition in conditions:
        if isinstance(condition, AnyOf):
            choices.append([flat for branch in condition.branches for flat in flatten(branch)])
        else:
            choices.append([(condition,)])
    return [tuple(c for part in pick for c in part) for pick in product(*choices)]


def _split(rule: Rule, number: int, conditions: tuple[Condition, ...]) -> Variant:
    patterns: list[Pattern] = []
    absent: list[Pattern] = []
    guards: list[Guard] = []
    joined: set[str] = set()
    bound: set[str] = set()  # by anything, in the author's order
    for index, condition in enumerate(conditions):
        if isinstance(condition, Pattern):
            plain, times = _take_time(condition, index)
            names = _variables(plain)
            late = (names & bound) - joined or _compares(plain)
            if late:
                guards.append(plain)
            else:
                patterns.append(plain)
                joined |= names
            guards.extend(times)
            bound |= names
        elif isinstance(condition, Not) and (simple := _simple(condition, bound, joined)):
            absent.append(_rename(simple, bound, index))
        else:
            guards.append(condition)  # type: ignore[arg-type]
            bound |= _binds(condition)
    return Variant(rule, number, tuple(patterns), tuple(absent), tuple(guards))


def _take_time(pattern: Pattern, index: int) -> tuple[Pattern, list[Guard]]:
    if not pattern.earlier_than and not pattern.later_than:
        return pattern, []
    own = next((t.values[0].name for t in pattern.tests if t.attribute == "id" and t.op == "bind"), None)  # type: ignore[union-attr]
    tests = pattern.tests
    if own is None:
        own = f"step {index}"  # a space keeps it apart from any written variable
        tests = (*tests, Test("id", "bind", (Var(own),)))
    times: list[Guard] = []
    if pattern.earlier_than:
        times.append(Later(own, pattern.earlier_than.name, True))
    if pattern.later_than:
        times.append(Later(own, pattern.later_than.name, False))
    return replace(pattern, tests=tests, earlier_than=None, later_than=None), times


def _variables(pattern: Pattern) -> set[str]:
    return {v.name for t in pattern.tests for v in t.values if isinstance(v, Var)}


def _compares(pattern: Pattern) -> bool:
    return any(isinstance(v, Var) for t in pattern.tests if t.op != "bind" for v in t.values)


def _binds(condition: Condition | Later) -> set[str]:
    if isinstance(condition, Compute | Collect):
        return {condition.var}
    if isinstance(condition, Lookup):
        return {var for var, _ in condition.binds}
    return set()


def _simple(condition: Not, bound: set[str], joined: set[str]) -> Pattern | None:
    """The one pattern of a `not` that a matcher can check by equality alone, or None."""
    if len(condition.inside) != 1 or not isinstance(condition.inside[0], Pattern):
        return None
    pattern = condition.inside[0]
    names = [v.name for t in pattern.tests for v in t.values if isinstance(v, Var)]
    fresh = [n for n in names if n not in bound]
    timed = pattern.earlier_than or pattern.later_than
    if timed or _compares(pattern) or len(fresh) != len(set(fresh)) or (set(names) & bound) - joined:
        return None
    return pattern


def _rename(pattern: Pattern, bound: set[str], index: int) -> Pattern:
    """Give variables that are the absence's own a name that nothing later can bind."""
    tests = tuple(
        replace(
            t,
            values=tuple(
                Var(f"{v.name} {index}") if isinstance(v, Var) and v.name not in bound else v for v in t.values
            ),
        )
        for t in pattern.tests
    )
    return replace(pattern, tests=tests)
