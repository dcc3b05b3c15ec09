"""What a plan states and no rule, calculator or report reads for that thing, so that nobody believes it was heard."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import NamedTuple

from advisor.plan.model import Entity, Plan
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import Not, Pattern
from advisor.rulebase.split import patterns_of
from advisor.site.rules import Rules, rules_of

Readers = dict[tuple[str, str], Sequence[frozenset[str] | None]]
_NAMES = {"step": "do", "part": "kind", "product": "kind", "room": "kind"}
# What the program itself reads: facts, order, calendar, money, gear, the sheets.
_PROGRAM = {
    "step": frozenset(("do", "to", "using", "in", "after", "for", "wait", "day", "who", "people", "cost", "coats",
                       "wearing")),
    "part": frozenset(("kind", "room", "in", "on", "cost", "lead_time", "area", "length", "count")),
    "product": frozenset(("kind", "cost", "lead_time", "amount", "recoat", "ready", "cure", "clamp_time")),
    "room": frozenset(("kind",)),
    "house": frozenset(("country", "region")),
    "crew": frozenset(("people", "owns", "hours_per_day", "days_per_week", "start", "helpers", "who")),
    "budget": frozenset(
        ("money", "contingency", "hours", "hourly_rate", "days", "deadline", "days_without_water",
         "days_without_sink", "days_without_cooking", "days_without_power")
    ),
}  # fmt: skip


class Unheard(NamedTuple):
    """A stated attribute that nothing reads for that thing, with what the attribute means."""

    line: int
    sort: str
    thing: str
    attribute: str
    meant: str


def unheard(plan: Plan, rulebase: RuleBase) -> list[Unheard]:
    """What was stated for nothing, by line."""
    readers = _readers(rules_of(rulebase))
    found = []
    for sort, things in sorted(plan.entities.items()):
        for entity in things.values():
            kind = entity.values.get(_NAMES.get(sort, ""))
            word = str(kind.plain) if kind is not None else ""
            found += [
                _of(entity, name, rulebase) for name in sorted(entity.values) if not _heard(readers, sort, name, word)
            ]
    return sorted(found, key=lambda u: (u.line, u.sort, u.thing, u.attribute))


def _of(entity: Entity, name: str, rulebase: RuleBase) -> Unheard:
    value = entity.values[name]
    meaning = rulebase.vocabulary.attributes[entity.sort][name].meaning
    return Unheard(value.line or entity.line, entity.sort, entity.id, name, meaning)


def _heard(readers: Readers, sort: str, name: str, kind: str) -> bool:
    if name in _PROGRAM.get(sort, frozenset()):
        return True
    return any(kinds is None or not kind or kind in kinds for kinds in readers.get((sort, name), ()))


@lru_cache(maxsize=4)
def _readers(rules: Rules) -> Readers:
    kept: Readers | None = rules.kept.get("readers")
    return readers_of(rules) if kept is None else kept


def readers_of(rules: Rules) -> Readers:
    """For each attribute the kinds for which each rule reads it; None for any kind."""
    found: dict[tuple[str, str], set[frozenset[str] | None]] = {}
    sorts = tuple(rules.rulebase.vocabulary.attributes)
    for rule in rules.rulebase.rules:
        for variant in rules.rulebase.variants_of(rule):
            patterns = list(patterns_of((*variant.patterns, *(Not((p,)) for p in variant.absent), *variant.guards)))
            kinds = _kinds_by_variable(variant.patterns)
            for pattern, extra in patterns:
                if pattern.kind == "item":
                    cells = {t.attribute: t.values for t in pattern.tests if t.op in ("is", "in")}
                    of = kinds.get(_variable(pattern, "of"))
                    for sort in cells.get("sort", sorts):
                        for name in cells.get("attribute", ()):
                            found.setdefault((str(sort), str(name)), set()).add(of)
                    continue
                own = _own_kinds(pattern) or kinds.get(_variable(pattern, "id"))
                for name in {t.attribute for t in pattern.tests} | ({extra} if extra else set()):
                    found.setdefault((pattern.kind, str(name)), set()).add(own)
    return {key: [None] if None in all_kinds else sorted(all_kinds, key=lambda k: sorted(k or ()))
            for key, all_kinds in found.items()}  # fmt: skip


def _kinds_by_variable(patterns: Iterable[Pattern]) -> dict[str, frozenset[str]]:
    found: dict[str, frozenset[str]] = {}
    for pattern in patterns:
        own, name = _own_kinds(pattern), _variable(pattern, "id")
        if own is not None and name:
            found[name] = found[name] & own if name in found else own
    return found


def _own_kinds(pattern: Pattern) -> frozenset[str] | None:
    named = _NAMES.get(pattern.kind)
    for test in pattern.tests:
        if test.attribute == named and test.op in ("is", "in"):
            return frozenset(str(v) for v in test.values)
    return None


def _variable(pattern: Pattern, attribute: str) -> str:
    for test in pattern.tests:
        if test.attribute == attribute and test.op == "bind":
            return test.values[0].name  # type: ignore[union-attr]
    return ""
