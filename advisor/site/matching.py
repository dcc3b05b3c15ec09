"""Facts with unknowns against patterns: each way to match, and what would have to be so."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from advisor.engine.memory import compare, same
from advisor.rulebase.forms import Form
from advisor.rulebase.model import Var
from advisor.site.assume import (
    CERTAIN,
    KEPT,
    MARK,
    MARKED,
    NOTHING,
    Key,
    Set,
    Ways,
    joined,
    meet,
    pruned,
    with_set,
)
from advisor.site.cells import Open, Worked, keys_of, stated
from advisor.site.limits import TooMuchError
from advisor.site.things import Fact

Env = dict[str, Any]
Branch = tuple[Env, Set]
_NONE: tuple[Branch, ...] = ()
_FLIPPED = {"above": "below", "below": "above", "at_least": "at_most", "at_most": "at_least", "is": "is", "in": "in"}


class Store:
    """The facts of one evaluation, by kind and by what patterns ask of them."""

    def __init__(self, cells: Mapping[Key, Open]) -> None:
        self.cells = cells
        self.by_kind: dict[str, list[Fact]] = {}
        # What facts say, by kind and attribute; None where anything but a word may stand there.
        self.words: dict[tuple[str, str], set[str] | None] = {}
        self.places: dict[str, float] = {}
        self.count = 0
        self.left = 0  # what the rule at work may still look at
        self._known: dict[Any, Fact] = {}
        self._lists: dict[int, tuple[int, list[Fact]]] = {}
        self._rows: dict[tuple[int, str], tuple[int, dict[Any, list[Fact]], list[Fact]]] = {}

    def add(self, fact: Fact) -> None:
        """Add a fact of the plan."""
        fact.number = self.count
        self.count += 1
        kind, words = fact.kind, self.words
        self.by_kind.setdefault(kind, []).append(fact)
        for name, value in fact.values.items():
            if type(value) is not str:
                words[kind, name] = None
            else:
                known = words.setdefault((kind, name), set())
                if known is not None:
                    known.add(value)
        place = fact.values.get("place")
        if kind == "step" and place is not None:
            self.places[fact.values["id"]] = float(place)

    def deduce(self, kind: str, values: tuple[tuple[str, Any], ...], ways: Ways) -> bool:
        """Add a deduced fact, or ways to one that is known; whether anything was new."""
        name = (kind, values)
        known = self._known.get(name)
        if known is None:
            self._known[name] = fact = Fact(kind, dict(values), ways)
            self.add(fact)
            return True
        if known.ways is CERTAIN or known.ways == CERTAIN:
            return False
        more = pruned([*known.ways, *ways])
        if more == known.ways:
            return False
        known.ways = more
        return True

    def facts(self, form: Form) -> list[Fact]:
        """The facts that pass or may pass what the pattern asks without its variables."""
        every = self.by_kind.get(form.kind)
        if every is None:
            return []
        kept = self._lists.get(form.number)
        if kept is not None and kept[0] == len(every):
            return kept[1]
        start, found = kept if kept is not None else (0, [])
        found = found + [f for f in every[start:] if _may(form, f.values)]
        self._lists[form.number] = (len(every), found)
        return found

    def near(self, form: Form, env: Env) -> list[Fact]:
        """Those of them that the bound variables leave."""
        found = self.facts(form)
        if len(found) < 5:
            return found
        for attribute, name in form.binds if env else ():
            value = env.get(name)
            if value is None or type(value) is Open or type(value) is Worked:
                continue
            key = (form.number, attribute)
            kept = self._rows.get(key)
            if kept is None or kept[0] != len(found):
                rows: dict[Any, list[Fact]] = {}
                loose: list[Fact] = []
                for fact in found:
                    own = fact.values.get(attribute)
                    if type(own) is Open or type(own) is Worked:
                        loose.append(fact)
                    else:
                        rows.setdefault(own, []).append(fact)
                kept = self._rows[key] = (len(found), rows, loose)
            row = kept[1].get(value)
            return (row + kept[2] if kept[2] else row) if row else kept[2]
        return found

    def match(self, form: Form, env: Env, ways: Ways) -> Iterator[tuple[Env, Ways, Fact]]:
        """Each fact that matches or may match, with the variables it binds and what would have to be so."""
        near = self.near(form, env)
        self.left -= len(near) + 1
        if self.left < 0:
            raise TooMuchError
        for fact in near:
            found = match_one(form, fact.values, env, self.cells)
            if len(found) > 1:  # a place that is not known: a way for each thing that it may be
                self.left -= len(found)
            for grown, need in found:
                left = with_set(ways, need) if need else ways
                if left and fact.ways is not CERTAIN:
                    left = joined(left, fact.ways)
                if left and (not (form.earlier or form.later) or self._in_time(form, fact, grown)):
                    yield grown, left, fact

    def _in_time(self, form: Form, fact: Fact, env: Env) -> bool:
        place = self.places.get(fact.values.get("id", ""), 0.0)
        if form.earlier and not place < self.places.get(env[form.earlier], 0.0):
            return False
        return not (form.later and not place > self.places.get(env[form.later], 0.0))


def _may(form: Form, values: dict[str, Any]) -> bool:
    for attribute, op, _, wanted, chosen, many, loose in form.tests:
        value = values.get(attribute)
        if value is None:
            if op != "unknown":
                return False
            continue
        if type(value) is Worked:
            if op == "unknown":
                return False
            continue
        if type(value) is Open:
            if op == "unknown":
                if value.presumed is not None:
                    return False
            elif not loose and value.passing(op, wanted) is None:
                return False
            continue
        if op == "unknown":
            return False
        if op in ("bind", "known"):
            continue
        if chosen is not None and not many:
            if value not in chosen:
                return False
        elif not loose and not _passes(op, value, wanted, many):
            return False
    return True


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
        if kind is Open or kind is Worked:
            return _slow(form, place, values, grown, cells)
        if op == "bind":
            known = grown.get(var)
            if known is None:
                if grown is env:
                    grown = dict(env)
                grown[var] = value
            elif type(known) is Open or type(known) is Worked:
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
            if plain is not wanted and any(type(v) is Open or type(v) is Worked for v in plain):
                return _slow(form, place, values, grown, cells)
            if not _passes(op, value, plain, many):
                return _NONE
    return ((grown, NOTHING),)


def _slow(form: Form, place: int, values: dict[str, Any], env: Env, cells: Mapping[Key, Open]) -> list[Branch]:
    branches: list[Branch] = [(env, NOTHING)]
    for attribute, op, var, wanted, _, many, _ in form.tests[place:]:
        value = values.get(attribute)
        if value is None:
            if op == "unknown":
                continue
            return []
        branches = [
            (grown, both)
            for bound, need in branches
            for grown, more in _test(op, var, wanted, many, value, bound, cells)
            if (both := meet(need, more)) is not None
        ]
        if not branches:
            return branches
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
    loose = len(right) < 9 and any(type(v) is Open or type(v) is Worked for v in right)
    if type(left) is Open and not loose:
        if op == "known":
            return {left.key: left.passing("known", ())}  # type: ignore[dict-item]
        constraint = left.passing(op, right)
        return None if constraint is None else {left.key: constraint}
    if type(left) is not Open and type(left) is not Worked:
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
