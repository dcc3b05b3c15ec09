"""What a plan states and no rule, calculator or report reads for that thing, so that nobody believes it was heard."""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from advisor.plan.model import Entity, Plan
from advisor.rulebase.base import RuleBase
from advisor.rulebase.forms import Rules, rules_of
from advisor.rulebase.heard import Readers, readers_of
from advisor.rulebase.model import KIND_OF

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
            kind = entity.values.get(KIND_OF.get(sort, ""))
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
