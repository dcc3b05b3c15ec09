"""Conditions as they hold in another country: without the codes of HOME, with the country's figures; what they bind."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec.structs import replace

from advisor.rulebase.model import PLACEHOLDER, Advice, AnyOf, Collect, Condition, Not, Pattern, Rule, Test, Var
from advisor.rulebase.split import patterns_of, variables

CODE_OF_HOME = frozenset({"electrical", "residential", "plumbing"})  # attributes of `code` that are editions of HOME


def carried(conditions: Sequence[Condition], years: dict[float, float | None]) -> tuple[Condition, ...] | None:
    """The conditions without what is law of HOME, with the years of the country; None where they can never hold.

    What is law of HOME holds nowhere else: a condition on its edition is no condition there. A year that is not known
    excludes nothing: the test goes, and an exception by that year goes whole.
    """
    found: list[Condition] = []
    for one in conditions:
        if isinstance(one, Pattern):
            if _code_of_home(one):
                continue
            found.append(_with_years(one, years) or replace(one, tests=_without_years(one, years)))
        elif isinstance(one, Not):
            law_left_out = [c for c in one.inside if not (isinstance(c, Pattern) and _code_of_home(c))]
            inner = [_with_years(c, years) if isinstance(c, Pattern) else c for c in law_left_out]
            if inner and all(c is not None for c in inner):
                found.append(Not(tuple(c for c in inner if c is not None)) if inner != list(one.inside) else one)
        elif isinstance(one, AnyOf):
            branches = [carried(branch, years) for branch in one.branches]
            kept = tuple(b for b, was in zip(branches, one.branches, strict=True) if b and _reads_no_lost(b, was))
            if not kept:
                return None
            found.append(AnyOf(kept) if kept != one.branches else one)
        elif isinstance(one, Collect):
            pattern = _with_years(one.pattern, years)
            found.append(one if pattern is one.pattern or pattern is None else replace(one, pattern=pattern))
        else:
            found.append(one)
    return tuple(found)


def _reads_no_lost(branch: Sequence[Condition], was: Sequence[Condition]) -> bool:
    """Whether a branch reads no variable that only a condition on a code of HOME would have bound."""
    homes = [c for c in was if isinstance(c, Pattern) and _code_of_home(c)]
    return not set().union(*map(variables, homes)) & _names(branch)


def _code_of_home(pattern: Pattern) -> bool:
    return pattern.kind == "code" and any(test.attribute in CODE_OF_HOME for test in pattern.tests)


def _with_years(pattern: Pattern, years: dict[float, float | None]) -> Pattern | None:
    """The pattern with the country's years; None where one of them is not known."""
    tests: list[Test] = []
    for test in pattern.tests:
        if years and any(value in years for value in test.values if isinstance(value, float | int)):
            values = tuple(years.get(float(v), v) if isinstance(v, float | int) else v for v in test.values)
            if any(value is None for value in values):
                return None
            test = replace(test, values=values)
        tests.append(test)
    return pattern if tuple(tests) == pattern.tests else replace(pattern, tests=tuple(tests))


def _without_years(pattern: Pattern, years: dict[float, float | None]) -> tuple[Test, ...]:
    return tuple(t for t in pattern.tests if not any(v in years for v in t.values if isinstance(v, float | int)))


def all_bound(rule: Rule) -> bool:
    """Whether all that the rule reads and says is still bound by one of its conditions."""
    made = made_by(rule.conditions)
    told = {name for c in rule.conclusions for text in c.texts for name in PLACEHOLDER.findall(text)}
    told |= {v.name for c in rule.conclusions for v in (c.step, c.first, c.duration) if isinstance(v, Var)}
    told |= {v.name for c in rule.conclusions for _, v in c.values if isinstance(v, Var)}
    return told | (_names(rule.conditions) - _inner(rule.conditions)) <= made


def made_by(conditions: Iterable[Condition]) -> set[str]:
    """The variables that conditions bind for those after them."""
    found: set[str] = set()
    for one in conditions:
        if isinstance(one, Pattern):
            found |= {v.name for t in one.tests if t.op == "bind" for v in t.values if isinstance(v, Var)}
        elif isinstance(one, AnyOf):
            found |= set().union(*map(made_by, one.branches))
        elif hasattr(one, "binds"):
            found |= {var for var, _ in one.binds}
        elif hasattr(one, "var"):
            found.add(one.var)
    return found


def _inner(conditions: Iterable[Condition]) -> set[str]:
    """The variables that an absence binds for itself, also one within another."""
    return set().union(
        *[made_by(one.inside) | _inner(one.inside) for one in conditions if isinstance(one, Not)],
        *[_inner(b) for one in conditions if isinstance(one, AnyOf) for b in one.branches],
    )


def _names(conditions: Iterable[Condition]) -> set[str]:
    """The variables that conditions name."""
    found: set[str] = set()
    for one in conditions:
        for pattern, _ in patterns_of([one]):
            found |= variables(pattern)
        parts = list(one.branches) if isinstance(one, AnyOf) else []
        found |= set().union(*map(_names, parts)) if parts else set()
        for value in (
            getattr(one, "left", None),
            getattr(one, "key", None),
            *getattr(one, "right", ()),
            *(v for _, v in getattr(one, "arguments", ())),
        ):
            if isinstance(value, Var):
                found.add(value.name)
    return found


def with_bound_advice(rule: Rule) -> Rule:
    """The rule without advice that names what is bound no more, such as a height that only the code gives."""
    made = made_by(rule.conditions)

    def kept(advice: tuple[Advice, ...]) -> tuple[Advice, ...]:
        return tuple(a for a in advice if {v.name for _, v in a.values if isinstance(v, Var)} <= made)

    def shown(names: tuple[str, ...] | None) -> tuple[str, ...] | None:
        return None if names is None else tuple(name for name in names if name in made)

    conclusions = tuple(
        replace(
            one,
            advice=kept(one.advice),
            ways=tuple((level, kept(advice)) for level, advice in one.ways),
            per=shown(one.per),
            numbers=shown(one.numbers),
        )
        for one in rule.conclusions
    )
    return rule if conclusions == rule.conclusions else replace(rule, conclusions=conclusions)
