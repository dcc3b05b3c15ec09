"""Facts with unknowns against patterns: each way to match, and what would have to be so."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from advisor.engine.memory import compare, same
from advisor.rulebase.forms import Apart, Form
from advisor.rulebase.model import Var
from advisor.site.assume import (
    KEPT,
    MARK,
    MARKED,
    NOTHING,
    Key,
    Set,
    meet,
)
from advisor.site.cells import Open, WorkedOut, keys_of, stated

Env = dict[str, Any]
Branch = tuple[Env, Set]
_NONE: tuple[Branch, ...] = ()
_FLIPPED = {"above": "below", "below": "above", "at_least": "at_most", "at_most": "at_least", "is": "is", "in": "in"}


def may_match(form: Form, values: dict[str, Any]) -> int:
    """Whether a fact passes what the form asks without its variables: 0 not, 1 surely, 2 if an unknown fits."""
    found = 1
    for attribute, op, _, wanted, chosen, many, loose in form.tests:
        value = values.get(attribute)
        if value is None:
            if op != "unknown":
                return 0
            continue
        kind = type(value)
        if kind is WorkedOut:
            if op == "unknown":
                return 0
            found = 2
        elif kind is Open:
            if op == "unknown":
                if value.presumed is not None:
                    return 0
            elif not loose and value.passing(op, wanted) is None:
                return 0
            found = 2
        elif op == "unknown":
            return 0
        elif op in _BINDING:
            continue
        elif chosen is not None and not many:
            if value not in chosen:
                return 0
        elif not loose and not _passes(op, value, wanted, many):
            return 0
    return found


def bound_by(form: Form, values: dict[str, Any], env: Env) -> Env | None:
    """The variables with what a fact binds that surely passes all else; None where it says another value.

    `LOOSE` where a variable stands for an unknown: `match_one` says what would have to be so.
    """
    grown = env
    for attribute, var in form.binds:
        value = values[attribute]
        known = grown.get(var)
        if known is None:
            if grown is env:
                grown = env.copy()
            grown[var] = value
        elif known is not value and known != value:
            if type(known) is Open or type(known) is WorkedOut:
                return LOOSE
            if type(value) is str or not same(known, value):
                return None
    return grown


LOOSE: Env = {}
_BINDING = ("bind", "known")


def _passes(op: str, value: Any, wanted: Iterable[Any], many: bool) -> bool:
    if many and isinstance(value, tuple):
        there = any(v in wanted for v in value)
        return there if op in ("is", "in") else not there
    return compare(op, value, list(wanted))


def match_one(form: Form, values: dict[str, Any], env: Env, cells: Mapping[Key, Open]) -> Sequence[Branch]:
    """Each way in which the fact matches: the variables, and what would have to be so."""
    grown = env
    for place, (attribute, op, var, wanted, chosen, many, _loose) in enumerate(form.tests):
        value = values.get(attribute)
        if value is None:
            if op == "unknown":
                continue
            return _NONE
        kind = type(value)
        if kind is Open or kind is WorkedOut:
            return _slow(form, place, values, grown, cells)
        if op == "bind":
            known = grown.get(var)
            if known is None:
                if grown is env:
                    grown = dict(env)
                grown[var] = value
            elif type(known) is Open or type(known) is WorkedOut:
                return _slow(form, place, values, grown, cells)
            elif known != value and not same(known, value):
                return _NONE
        elif op == "unknown":
            return _NONE
        elif chosen is not None and not many:
            if value not in chosen:
                return _NONE
        elif op != "known":
            plain = _plain(wanted, grown)
            if plain is not wanted and any(type(v) is Open or type(v) is WorkedOut for v in plain):
                return _slow(form, place, values, grown, cells)
            if not _passes(op, value, plain, many):
                return _NONE
    return ((grown, NOTHING),)


def _slow(form: Form, place: int, values: dict[str, Any], env: Env, cells: Mapping[Key, Open]) -> Sequence[Branch]:
    need = NOTHING
    tests = form.tests
    for at in range(place, len(tests)):  # one branch, as nearly always
        attribute, op, var, wanted, _, many, _ = tests[at]
        value = values.get(attribute)
        if value is None:
            if op == "unknown":
                continue
            return _NONE
        found = _test(op, var, wanted, many, value, env, cells)
        if len(found) != 1:
            if not found:
                return _NONE
            first = [(grown, both) for grown, more in found if (both := meet(need, more)) is not None]
            return _branching(tests[at + 1 :], first, values, cells)
        env, more = found[0]
        if more:
            met = meet(need, more) if need else more
            if met is None:
                return _NONE
            need = met
    return ((env, need),)


def _branching(
    tests: Iterable[Apart], branches: list[Branch], values: dict[str, Any], cells: Mapping[Key, Open]
) -> Sequence[Branch]:
    """Each of several ways to pass the first tests, through the rest of them."""
    for attribute, op, var, wanted, _, many, _ in tests:
        if not branches:
            return branches
        value = values.get(attribute)
        if value is None:
            if op == "unknown":
                continue
            return _NONE
        branches = [
            (grown, both)
            for bound, need in branches
            for grown, more in _test(op, var, wanted, many, value, bound, cells)
            if (both := meet(need, more)) is not None
        ]
    return branches


def _test(
    op: str, var: str, wanted: tuple[Any, ...], many: bool, value: Any, env: Env, cells: Mapping[Key, Open]
) -> list[Branch]:
    """One test on one value, either of which may be unknown."""
    if op == "bind":
        return _bind(var, value, env, cells)
    if op == "unknown":
        return [(env, {value.key: KEPT})] if type(value) is Open and value.presumed is None else []
    need = compared(op, value, _plain(wanted, env), cells, many)
    return [] if need is None else [(env, need)]


def _plain(wanted: tuple[Any, ...], env: Env) -> tuple[Any, ...]:
    """What a test compares with, the variables put in."""
    for one in wanted:
        if type(one) is Var:
            return tuple([env.get(v.name) if type(v) is Var else v for v in wanted])
    return wanted


def _bind(var: str, value: Any, env: Env, cells: Mapping[Key, Open]) -> list[Branch]:
    known = env.get(var)
    if known is not None:
        if known == value:
            return [(env, NOTHING)]
        need = compared("is", value, (known,), cells)
        return [] if need is None else [(env, need)]
    if type(value) is not Open:
        return [({**env, var: value}, NOTHING)]
    if value.place:
        found = []
        for word in sorted(value.allowed):
            constraint = value.passing("is", (word,))
            if constraint is not None:
                found.append(({**env, var: word}, {value.key: constraint}))
        return found
    if value.presumed is None:
        constraint = value.passing("bind", ())
        if value.many or value.member:
            constraint = ("l", False, frozenset((value.allowed,)) if value.allowed else frozenset(), frozenset())
        return [({**env, var: value}, {value.key: constraint})]  # type: ignore[dict-item]
    now = value.passing("is", (value.presumed,))
    found = [({**env, var: value.presumed}, {value.key: now} if now else {})]
    others = value.against(now) if now else []
    return found + [({**env, var: value}, {value.key: other}) for other in others]


def compared(op: str, left: Any, right: tuple[Any, ...], cells: Mapping[Key, Open], many: bool = False) -> Set | None:
    """What would have to be so for `left op right`; None where it cannot be."""
    loose = len(right) < 9 and any(type(v) is Open or type(v) is WorkedOut for v in right)
    if type(left) is Open and not loose:
        if op == "known":
            return {left.key: left.passing("known", ())}  # type: ignore[dict-item]
        constraint = left.passing(op, right)
        return None if constraint is None else {left.key: constraint}
    if type(left) is not Open and type(left) is not WorkedOut:
        if not loose:
            return NOTHING if op == "known" or _passes(op, left, right, many) else None
        if len(right) == 1 and type(right[0]) is Open and op in _FLIPPED and not isinstance(left, tuple):
            constraint = right[0].passing(_FLIPPED[op], (left,))
            return None if constraint is None else {right[0].key: constraint}
    if op == "known":
        return NOTHING
    if type(left) is Open and len(right) == 1 and left == right[0] and op in ("is", "in", "at_least", "at_most"):
        return NOTHING
    return {**stated(keys_of((left, *right)), cells), MARK: MARKED}
