"""Which kind of thing can carry which attribute: told by the rules' own patterns and by what is usual."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from msgspec import Struct, field

from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import AnyOf, Collect, Condition, Not, Pattern
from advisor.rulebase.vocabulary import Vocabulary

GRAVE = ("caution", "warning", "danger")


class Carries(Struct):
    """Kinds by sort and attribute: those of which rules read it, and those of which it is worth asking."""

    vocabulary: Vocabulary
    read: dict[tuple[str, str], set[str]] = field(default_factory=dict)
    usual: dict[tuple[str, str], set[str]] = field(default_factory=dict)
    grave: frozenset[tuple[str, str]] = frozenset()  # an error there may touch a hazard

    def score(self, sort: str, kind: str, attribute: str) -> float:
        """How well an attribute fits a kind: above 0 where rules read it of the kind, below where only of others."""
        if sort not in ("part", "product", "room"):
            return 0.0
        own = (sort, attribute)
        if own == ("part", "material"):  # each thing is of something, whether or not a rule reads it
            return 1.0 if kind in self.usual.get(own, ()) else 0.3
        if own in self.usual:
            return 1.0 if kind in self.usual[own] else -0.4
        if self.read.get(own):
            return 0.8 if kind in self.read[own] else -0.3
        return 0.0


def carries(rulebase: RuleBase) -> Carries:
    """The table for a rule base."""
    own = Carries(rulebase.vocabulary, grave=grave_attributes(rulebase))
    for rule in rulebase.rules:
        for pattern in _patterns(rule.conditions):
            if pattern.kind not in ("part", "product", "room"):
                continue
            kinds = next((t.values for t in pattern.tests if t.attribute == "kind" and t.op in ("is", "in")), ())
            for test in pattern.tests:
                if kinds and test.attribute not in ("kind", "id"):
                    own.read.setdefault((pattern.kind, test.attribute), set()).update(map(str, kinds))
    for sort, entries in rulebase.usual.get("sense", {}).items():
        taxonomy = rulebase.vocabulary.taxonomies.get(f"{sort}_kind")
        for entry in entries if taxonomy else ():
            _usual(own, sort, entry, taxonomy)
    return own


def _usual(own: Carries, sort: str, entry: dict[str, Any], taxonomy: Any) -> None:
    kinds = {kind for word in entry["of"] if word in taxonomy.terms for kind in taxonomy.below(word)}
    for attribute in entry["say"]:
        if kinds:
            own.usual.setdefault((sort, attribute), set()).update(kinds)


def _patterns(conditions: Iterable[Condition]) -> Iterable[Pattern]:
    for condition in conditions:
        if isinstance(condition, Pattern):
            yield condition
        elif isinstance(condition, Not):
            yield from _patterns(condition.inside)
        elif isinstance(condition, AnyOf):
            for branch in condition.branches:
                yield from _patterns(branch)
        elif isinstance(condition, Collect):
            yield condition.pattern


def grave_attributes(rulebase: RuleBase) -> frozenset[tuple[str, str]]:
    """Sorts and attributes that a rule of caution or above reads: an error there may touch a hazard."""
    found: set[tuple[str, str]] = set()
    for rule in rulebase.rules:
        if any(conclusion.signal in GRAVE for conclusion in rule.conclusions):
            for pattern in _patterns(rule.conditions):
                found.update((pattern.kind, test.attribute) for test in pattern.tests)
    return frozenset(found)
