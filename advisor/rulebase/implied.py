"""Needs that rules imply: a practice that looks for the absence of an earlier step asks for that step to come first.

`require` with `not: {step: {do: rinse, to: $part, later_than: $wash, earlier_than: $step}}` speaks where no rinse
stands between. The same rule without its times says which steps must come before which, whatever the order of the
plan; so the site can tell a step that is missing from one that comes too late, and can move it. Each such rule gets a
shadow of pack `site` that never speaks itself. A rule whose times say more than this is left as it is.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec.structs import replace

from advisor.rulebase.model import (
    SHADOW,
    AnyOf,
    Conclusion,
    Condition,
    Not,
    Pattern,
    Rule,
    Test,
    Var,
    Window,
)
from advisor.rulebase.renewed import is_of_the_old
from advisor.rulebase.split import flatten
from advisor.rulebase.vocabulary import Vocabulary

_MOST = 8  # shadows of one rule
_OPEN = ("require", "refer")


def shadows(rules: Iterable[Rule], vocabulary: Vocabulary) -> Iterator[Rule]:
    """The shadow rules of all rules that imply needs."""
    for rule in rules:
        made = 0
        for conclusion in rule.conclusions:
            if conclusion.goals or conclusion.never or conclusion.step is None:
                continue
            for conditions in flatten(rule.conditions)[:_MOST]:
                found = _of(conclusion, conditions, vocabulary)
                if found is not None:
                    made += 1
                    kept, implied = found
                    yield replace(rule, id=f"{rule.id}{SHADOW}{made}", pack="site", conditions=kept,
                                  conclusions=(implied,), serves=(), unused=(), keys=(), false_alarm="",
                                  title=f"{rule.title} (order {made})")  # fmt: skip


def _of(
    conclusion: Conclusion, conditions: tuple[Condition, ...], vocabulary: Vocabulary
) -> tuple[tuple[Condition, ...], Conclusion] | None:
    if conclusion.kind == "precede":
        return _of_precede(conclusion, conditions)
    if conclusion.kind not in _OPEN:
        return None
    assert conclusion.step is not None
    movable = _movable(conclusion, vocabulary)
    if not movable:
        return None
    target = conclusion.step.name
    kept: list[Condition] = []
    windows: list[Window] = []
    for condition in conditions:
        if isinstance(condition, Not) and any(_timed(inside) for inside in condition.inside):
            # what renews the part counts where it stands: nobody renews it to be spared the practice
            brings = frozenset[str]() if is_of_the_old(condition) else movable
            window = _window(condition, target, len(windows), brings)
            if window is None:
                return None
            windows.append(window)
        else:
            kept.append(condition)
    since = {w.since for w in windows if w.since}
    kept = [_without_time(c, target, since) if isinstance(c, Pattern) else c for c in kept]
    if not any(w.movable for w in windows) or any(_timed(c) for c in kept):
        return None
    return tuple(kept), Conclusion(
        "order", conclusion.line, signal=conclusion.signal, step=conclusion.step, because=conclusion.because,
        mode="windows", windows=tuple(windows),
    )  # fmt: skip


def _of_precede(
    conclusion: Conclusion, conditions: tuple[Condition, ...]
) -> tuple[tuple[Condition, ...], Conclusion] | None:
    """Which of two steps comes first, whatever the order that the plan has."""
    assert conclusion.step is not None
    if conclusion.first is None:
        return None
    first, then = conclusion.first, conclusion.step
    kept: list[Condition] = []
    stripped = 0
    for condition in conditions:
        if isinstance(condition, Pattern) and _timed(condition):
            own = _own(condition)
            if (own == then.name and condition.earlier_than == first) or (
                own == first.name and condition.later_than == then
            ):
                stripped += 1
                condition = replace(condition, earlier_than=None, later_than=None)
        kept.append(condition)
    if not stripped or any(_timed(c) for c in kept):
        return None
    return tuple(kept), Conclusion(
        "order",
        conclusion.line,
        signal=conclusion.signal,
        step=then,
        first=first,
        because=conclusion.because,
        mode="all",
    )


def _window(condition: Not, target: str, number: int, movable: frozenset[str]) -> Window | None:
    """The absence of a step between two, without its times; None where its times say more."""
    timed = [c for c in condition.inside if _timed(c)]
    if len(timed) != 1 or not isinstance(timed[0], Pattern):
        return None
    pattern = timed[0]
    if pattern.earlier_than is None or pattern.earlier_than.name != target:
        return None
    own = _own(pattern)
    tests = pattern.tests
    if own is None:
        own = f"brings {number}"
        tests = (*tests, Test("id", "bind", (Var(own),)))
    plain = replace(pattern, tests=tests, earlier_than=None, later_than=None)
    inside = tuple(plain if c is pattern else c for c in condition.inside)
    return Window(inside, own, pattern.later_than.name if pattern.later_than else "", movable)


def _without_time(pattern: Pattern, target: str, since: set[str]) -> Pattern:
    """The pattern without a time that only says that a window is open: its first step before the step in question."""
    own = _own(pattern)
    opens = own in since and pattern.earlier_than is not None and pattern.earlier_than.name == target
    closes = own == target and pattern.later_than is not None and pattern.later_than.name in since
    if opens and pattern.later_than is None:
        return replace(pattern, earlier_than=None)
    if closes and pattern.earlier_than is None:
        return replace(pattern, later_than=None)
    return pattern


def _own(pattern: Pattern) -> str | None:
    for test in pattern.tests:
        if test.attribute == "id" and test.op == "bind" and isinstance(test.values[0], Var):
            return test.values[0].name
    return None


def _timed(condition: Condition) -> bool:
    if isinstance(condition, Pattern):
        return condition.earlier_than is not None or condition.later_than is not None
    if isinstance(condition, Not):
        return any(map(_timed, condition.inside))
    if isinstance(condition, AnyOf):
        return any(_timed(c) for branch in condition.branches for c in branch)
    return False


def _movable(conclusion: Conclusion, vocabulary: Vocabulary) -> frozenset[str]:
    """The actions of steps that may be moved for the need: what its advice adds, and what is of one class with that.

    Other steps that keep the rule quiet count where they stand: a coat over dust ends the dust, and nobody paints
    to take dust off, nor washes behind the sanding for it. A test of the work stays behind the work that it tests.
    """
    actions = vocabulary.taxonomies.get("action")
    if actions is None:
        return frozenset()
    coats, work, tests, washes = (
        _members(vocabulary, name)
        for name in ("leaves a wet coat", "is the work itself", "tests the work", "takes off dirt")
    )
    found: set[str] = set()
    for advice in conclusion.advice:
        if advice.form != "add":
            continue
        for name, value in advice.values:
            if name == "do" and isinstance(value, str) and value in actions.terms:
                classes = () if value in coats else actions.terms[value].parents
                akin = frozenset[str]().union(*map(actions.below, classes))
                found |= actions.below(value) | (akin if value in washes else akin - washes)
    return frozenset(found - work - tests)


def _members(vocabulary: Vocabulary, name: str) -> frozenset[str]:
    try:
        return vocabulary.members("action", name)
    except KeyError:  # a vocabulary of one's own may lack it
        return frozenset()
