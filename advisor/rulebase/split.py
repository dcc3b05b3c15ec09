"""What of a rule a matcher joins, and what is worked out when the joined part fires.

A matcher does equality joins and plain absence. Comparisons with a variable, places in time, absence of a
combination, calculators, tables and collections are guards: they run at firing, over kinds that are complete
by then. `strata.py` therefore counts what guards read as closed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import product

from msgspec import Struct
from msgspec.structs import replace

from advisor.rulebase.model import (
    AnyOf,
    Collect,
    Compute,
    Condition,
    Given,
    Lookup,
    Not,
    Operand,
    Pattern,
    Rule,
    Test,
    Var,
)

MAX_VARIANTS = 64  # the rules that come with the advisor need up to 13
MAX_CONDITIONS = 200  # they need up to 71; a match goes as deep as there are conditions
MAX_GROUPS = 3  # they need two; three are still looked through within the bounds of a run, for a plan of common size
_SINGLE = ("house", "code", "budget")


class Later(Struct, frozen=True):
    """A time in the plan: `step` stands before (or after) `than`."""

    step: str
    than: str
    earlier: bool


Guard = Pattern | Not | Compute | Lookup | Given | Collect | Later


class Variant(Struct, frozen=True):
    """One way to satisfy a rule: patterns and absences for the matcher, in order, then guards, in order."""

    rule: Rule
    number: int
    patterns: tuple[Pattern, ...]
    absent: tuple[Pattern, ...]
    guards: tuple[Guard, ...]


Fixed = tuple[tuple[str, tuple[Operand, ...]], ...]  # attributes with the words that they are to be


class AskedPattern(Struct, frozen=True):
    """What a pattern asks of the work and of the kinds of things: see `gates.py`."""

    kind: str
    own: str  # the variable of the thing itself
    speaker: str  # that of the step of which the attributes `asked` have to be said
    asked: frozenset[str]
    # words of its work or kind, and whether it has to be one of them
    wanted: tuple[tuple[frozenset[str], bool], ...]
    deduced: bool  # whether rules deduce it
    cells: tuple[tuple[str, str], ...]  # attribute and variable, by attribute
    fixed: Fixed


def variants(rule: Rule) -> tuple[Variant, ...]:
    """The rule once for each combination of its `any` branches (a branch may hold further `any`)."""
    return tuple(_split(rule, number, conditions) for number, conditions in enumerate(flatten(rule.conditions)))


def patterns_of(conditions: Iterable[Condition | Later]) -> Iterator[tuple[Pattern, str]]:
    """Every pattern, those inside absences and choices too, with the attribute that a `collect` gathers."""
    for condition in conditions:
        if isinstance(condition, Pattern):
            yield condition, ""
        elif isinstance(condition, Collect):
            yield condition.pattern, condition.attribute
        elif isinstance(condition, Not):
            yield from patterns_of(condition.inside)
        elif isinstance(condition, AnyOf):
            for branch in condition.branches:
                yield from patterns_of(branch)


def count_variants(conditions: Iterable[Condition]) -> int:
    """How many variants conditions make; they are counted, not made."""
    found = 1
    for condition in conditions:
        if isinstance(condition, AnyOf):
            found *= sum(map(count_variants, condition.branches))
    return found


def _count(conditions: Iterable[Condition]) -> int:
    """How many conditions there are, with those inside others."""
    found = 0
    for condition in conditions:
        found += 1
        if isinstance(condition, Not):
            found += _count(condition.inside)
        elif isinstance(condition, AnyOf):
            found += sum(map(_count, condition.branches))
    return found


def too_wide(rule: Rule) -> str:
    """What is wrong with a rule whose conditions make too many ways to meet them; empty where nothing is."""
    parts = _count(rule.conditions)
    if parts > MAX_CONDITIONS:
        return f"has {parts:,} conditions. Expected at most {MAX_CONDITIONS}: make several rules of it."
    ways = count_variants(rule.conditions)
    if ways > MAX_VARIANTS:
        many = f"{ways:,}" if ways < 10**12 else "more than a million million"
        return f"its 'any' make {many} combinations of branches. Expected at most {MAX_VARIANTS}: make several rules."
    for variant in variants(rule):
        loose = groups(variant)
        if len(loose) > MAX_GROUPS:
            kinds = ", ".join(loose[:8]) + ", …" * (len(loose) > 8)
            return (
                f"its conditions on {kinds} share no variable with each other, so each fact of one meets "
                f"each of the others. Expected at most {MAX_GROUPS} such groups: tie them together by a variable."
            )
    return ""


def groups(variant: Variant) -> list[str]:
    """The groups of patterns that no variable ties together, each by the kind of its first pattern, in order.

    `given`, times, calculators and comparisons tie as equality does. Of `house`, `code` and `budget` a plan has one,
    so they multiply nothing.
    """
    found: list[tuple[set[str], list[str]]] = []
    for condition in (*variant.patterns, *variant.guards):
        names = _ties(condition)
        kinds = [condition.kind] if isinstance(condition, Pattern) and condition.kind not in _SINGLE else []
        meeting = [one for one in found if one[0] & names]
        found = [one for one in found if not one[0] & names]
        for own, others in meeting:
            names, kinds = names | own, [*others, *kinds]
        found.append((names, kinds))
    return [kinds[0] for _, kinds in found if kinds]


def _ties(condition: Guard) -> set[str]:
    if isinstance(condition, Pattern):
        return variables(condition)
    if isinstance(condition, Later):
        return {condition.step, condition.than}
    if isinstance(condition, Given):
        return {v.name for v in (condition.left, *condition.right) if isinstance(v, Var)}
    if isinstance(condition, Compute):
        return {condition.var, *(v.name for _, v in condition.arguments if isinstance(v, Var))}
    if isinstance(condition, Lookup):
        return {*_binds(condition), *([condition.key.name] if isinstance(condition.key, Var) else [])}
    return set()


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
            names = variables(plain)
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


def variables(pattern: Pattern) -> set[str]:
    """The names of the variables that a pattern tests or binds."""
    return {v.name for t in pattern.tests for v in t.values if isinstance(v, Var)}


def _compares(pattern: Pattern) -> bool:
    return any(isinstance(v, Var) for t in pattern.tests if t.op != "bind" for v in t.values)


def _binds(condition: Condition | Guard) -> set[str]:
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
