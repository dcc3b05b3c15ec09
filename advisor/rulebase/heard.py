"""Which attributes some rule reads, and of which kinds of thing: what no rule reads is stated for nothing."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from advisor.rulebase.forms import Rules
from advisor.rulebase.model import KIND_OF, Not, Pattern
from advisor.rulebase.split import patterns_of

Readers = dict[tuple[str, str], Sequence[frozenset[str] | None]]


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
                    of = kinds.get(pattern.variable("of"))
                    for sort in cells.get("sort", sorts):
                        for name in cells.get("attribute", ()):
                            found.setdefault((str(sort), str(name)), set()).add(of)
                    continue
                own = _own_kinds(pattern) or kinds.get(pattern.variable("id"))
                for name in {t.attribute for t in pattern.tests} | ({extra} if extra else set()):
                    found.setdefault((pattern.kind, str(name)), set()).add(own)
    return {key: [None] if None in all_kinds else sorted(all_kinds, key=lambda k: sorted(k or ()))
            for key, all_kinds in found.items()}  # fmt: skip


def _kinds_by_variable(patterns: Iterable[Pattern]) -> dict[str, frozenset[str]]:
    found: dict[str, frozenset[str]] = {}
    for pattern in patterns:
        own, name = _own_kinds(pattern), pattern.variable("id")
        if own is not None and name:
            found[name] = found[name] & own if name in found else own
    return found


def _own_kinds(pattern: Pattern) -> frozenset[str] | None:
    named = KIND_OF.get(pattern.kind)
    for test in pattern.tests:
        if test.attribute == named and test.op in ("is", "in"):
            return frozenset(str(v) for v in test.values)
    return None
