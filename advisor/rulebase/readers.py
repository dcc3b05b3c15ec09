"""Which attributes matter for a kind of thing: how many practices read each of it, through deduced kinds too.

Nearly every practice reads some relation between things (`holds`, `touches`, `feeds`), and those follow from many ways
of saying where. So a way of saying where counts for a kind only where a practice names that kind at that end.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import KIND_OF, Condition, Pattern, Var
from advisor.rulebase.split import patterns_of


def practices_by_attribute(rulebase: RuleBase, sort: str, kind: str) -> dict[str, int]:
    """For each attribute of the sort the number of practices that read it of that kind, most first."""
    ends = _ends(rulebase)
    relations = {relation for relation, _ in ends}
    made: dict[str, set[str]] = {}  # deduced kind to what its makers read
    grown = True
    never = _never(rulebase, sort, kind)
    direct = {
        rule.id: {*_direct(rule.conditions, sort, kind, never), *_placed(rule.conditions, sort, kind, ends)}
        for rule in rulebase.rules
    }
    behind = {rule.id: {p.kind for p, _ in patterns_of(rule.conditions)} for rule in rulebase.rules}
    while grown:
        grown = False
        for rule in rulebase.rules:
            for conclusion in rule.conclusions:
                handed = {value for _, value in conclusion.values if isinstance(value, Var)}
                if conclusion.deduced in relations:
                    continue
                found = {
                    *_direct(rule.conditions, sort, kind, never, handed),
                    *_placed(rule.conditions, sort, kind, ends, handed),
                }
                found = found.union(*(made.get(name, ()) for name in behind[rule.id]))
                if conclusion.kind == "deduce" and not found <= made.setdefault(conclusion.deduced, set()):
                    made[conclusion.deduced] |= found
                    grown = True
    counts: dict[str, int] = {}
    for rule in rulebase.rules:
        if any(conclusion.kind != "deduce" for conclusion in rule.conclusions):
            for name in direct[rule.id].union(*(made.get(kind, ()) for kind in behind[rule.id])):
                counts[name] = counts.get(name, 0) + 1
    return dict(sorted(counts.items(), key=lambda pair: (-pair[1], pair[0])))


Slot = tuple[str, str]  # a deduced kind and one of its attributes


def _ends(rulebase: RuleBase) -> dict[Slot, set[str]]:
    """For each end of a relation between things the attributes that say it, straight or by what follows."""
    places = [
        ([p for p, _ in patterns_of(rule.conditions)], conclusion)
        for rule in rulebase.rules
        if rule.id.startswith("place-")
        for conclusion in rule.conclusions
    ]
    ends: dict[Slot, set[str]] = {
        (conclusion.deduced, name): set() for _, conclusion in places for name, _ in conclusion.values
    }
    grown = True
    while grown:
        grown = False
        for patterns, conclusion in places:
            for name, value in conclusion.values:
                found = set[str]()
                for pattern in patterns:
                    if pattern.kind == "item" and _named(pattern, "of") == value:
                        found.update(_attributes(pattern))
                    for test in pattern.tests:
                        if test.values and test.values[0] == value:
                            found |= ends.get((pattern.kind, test.attribute), set())
                if not found <= ends[conclusion.deduced, name]:
                    ends[conclusion.deduced, name] |= found
                    grown = True
    return ends


def _placed(
    conditions: Iterable[Condition], sort: str, kind: str, ends: dict[Slot, set[str]], only: set[Var] | None = None
) -> Iterator[str]:
    """Ways of saying where that patterns read at an end where they name the kind."""
    if sort != "part":
        return
    patterns = [p for p, _ in patterns_of(conditions)]
    named = {_named(p, "id") for p in patterns if p.kind == sort and _names(p, kind)} - {None}
    for pattern in patterns:
        for test in pattern.tests:
            value = test.values[0] if test.values else None
            if isinstance(value, Var) and value in named and (only is None or value in only):
                yield from ends.get((pattern.kind, test.attribute), ())


def _names(pattern: Pattern, kind: str) -> bool:
    """Whether the pattern asks for the kind by name or class."""
    return any(t.attribute == "kind" and t.op in ("is", "in") and kind in t.values for t in pattern.tests)


def _never(rulebase: RuleBase, sort: str, kind: str) -> set[Slot]:
    """The places in deduced facts where a thing of the kind never stands: every rule that makes them excludes it."""
    never: set[Slot] = set()
    while True:
        may: dict[Slot, bool] = {}
        for rule in rulebase.rules:
            others = _others([p for p, _ in patterns_of(rule.conditions)], sort, kind, never)
            for conclusion in rule.conclusions:
                for name, value in conclusion.values if conclusion.kind == "deduce" else ():
                    slot = (conclusion.deduced, name)
                    may[slot] = may.get(slot, False) or value not in others
        found = {slot for slot, possible in may.items() if not possible}
        if found <= never:
            return never
        never |= found


def _others(patterns: list[Pattern], sort: str, kind: str, never: set[Slot]) -> set[object]:
    """Variables of a rule that stand for things of other kinds."""
    found: set[object] = set()
    for pattern in patterns:
        named = _named(pattern, "id")
        if pattern.kind == sort and named and not _may_be(pattern, sort, kind):
            found.add(named)
        tests = (t for t in pattern.tests if t.values and (pattern.kind, t.attribute) in never)
        found.update(test.values[0] for test in tests if isinstance(test.values[0], Var))
    return found


def _direct(
    conditions: Iterable[Condition], sort: str, kind: str, never: set[Slot], only: set[Var] | None = None
) -> Iterator[str]:
    """Attributes that patterns read of things that may be of the kind; of these variables only, where any are given."""
    patterns = [p for p, _ in patterns_of(conditions)]
    others = _others(patterns, sort, kind, never)
    for pattern in patterns:
        if only is not None and _named(pattern, "of" if pattern.kind == "item" else "id") not in only:
            continue
        if pattern.kind == sort and _named(pattern, "id") not in others and _may_be(pattern, sort, kind):
            yield from (test.attribute for test in pattern.tests if test.attribute not in ("id", "place"))
        elif pattern.kind == "item" and (_named(pattern, "of") is None or _named(pattern, "of") not in others):
            yield from _attributes(pattern)


def _attributes(pattern: Pattern) -> Iterator[str]:
    """What an `item` pattern reads."""
    names = [test.values for test in pattern.tests if test.attribute == "attribute" and test.op in ("is", "in")]
    return (str(name) for values in names for name in values if not isinstance(name, Var))


def _named(pattern: Pattern, attribute: str) -> Var | None:
    values = (test.values[0] for test in pattern.tests if test.attribute == attribute and test.values)
    return next((value for value in values if isinstance(value, Var)), None)


def _may_be(pattern: Pattern, sort: str, kind: str) -> bool:
    for test in pattern.tests:
        if test.attribute == KIND_OF[sort] and not any(isinstance(value, Var) for value in test.values):
            if test.op in ("is", "in") and kind not in test.values:
                return False
            if test.op == "not_in" and kind in test.values:
                return False
    return True
