"""The patterns of all rules, those that ask the same of a fact told once, and the words by which facts find them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from msgspec import Struct

from advisor.plain import Plain
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import Pattern, Test
from advisor.rulebase.split import Variant

_WORD = {str}


class Alike(Struct, frozen=True, eq=False):
    """What a matcher looks at before any fact is there. Numbers are places in the tuples here."""

    ranks: tuple[int, ...]  # of the variants: what stands higher fires first
    asks: tuple[Pattern, ...]  # one of the patterns of each group of those that ask the same
    sorted_by: tuple[int, ...]  # of each of them the test by which facts are handed to it; -1 where all are
    groups: tuple[int, ...]  # that of each pattern and then of each absence, variant after variant
    plain: Mapping[str, tuple[int, ...]]  # by kind, the groups that every fact may fit
    keyed: Mapping[str, Mapping[str, Mapping[Plain, tuple[int, ...]]]]  # kind, attribute, word


def all_variants(rulebase: RuleBase) -> list[Variant]:
    """The variants of all rules, in the order that `Alike` counts them in."""
    return [variant for rule in rulebase.rules for variant in rulebase.variants_of(rule)]


def starts_of(rulebase: RuleBase) -> dict[str, int]:
    """By rule the place in `groups` where its own patterns begin."""
    found, place = {}, 0
    for rule in rulebase.rules:
        found[rule.id] = place
        place += sum(len(variant.patterns) + len(variant.absent) for variant in rulebase.variants_of(rule))
    return found


def alike_of(rulebase: RuleBase) -> Alike:
    """As it is kept with the rules, or worked out."""
    if rulebase.apart.get("rules") is rulebase.rules and "alike" in rulebase.apart:
        return Alike(**rulebase.apart["alike"])
    return Alike(**table_of(rulebase))


def table_of(rulebase: RuleBase) -> dict[str, Any]:
    """The fields of `Alike`."""
    variants = all_variants(rulebase)
    strata = rulebase.strata
    # What stands later in this order fires first; the names are taken as text, as they always were.
    order = sorted(
        range(len(variants)),
        key=lambda n: (-strata[variants[n].rule.id], f"{variants[n].rule.id} {variants[n].number}"),
    )
    ranks = {number: rank for rank, number in enumerate(order)}
    numbers: dict[tuple[object, ...], int] = {}
    asks: list[Pattern] = []
    groups: list[int] = []
    for variant in variants:
        for pattern in (*variant.patterns, *variant.absent):
            number = numbers.setdefault(_asked(pattern), len(asks))
            if number == len(asks):
                asks.append(pattern)
            groups.append(number)
    plain: dict[str, list[int]] = {}
    keyed: dict[str, dict[str, dict[Plain, list[int]]]] = {}
    sorted_by = []
    for number, pattern in enumerate(asks):
        best = sorting_test(pattern)
        sorted_by.append(-1 if best is None else next(n for n, test in enumerate(pattern.tests) if test is best))
        if best is None:
            plain.setdefault(pattern.kind, []).append(number)
            continue
        rows = keyed.setdefault(pattern.kind, {}).setdefault(best.attribute, {})
        for value in dict.fromkeys(best.values):
            rows.setdefault(value, []).append(number)
    return {
        "ranks": tuple(ranks[number] for number in range(len(variants))),
        "asks": tuple(asks),
        "sorted_by": tuple(sorted_by),
        "groups": tuple(groups),
        "plain": {kind: tuple(found) for kind, found in plain.items()},
        "keyed": {
            kind: {name: {word: tuple(found) for word, found in rows.items()} for name, rows in names.items()}
            for kind, names in keyed.items()
        },
    }


def _asked(pattern: Pattern) -> tuple[object, ...]:
    """What a pattern asks of a fact by itself, whatever its variables are called."""
    return (pattern.kind, *[t if t.op != "bind" else ("bind", t.attribute) for t in pattern.tests])


def sorting_test(pattern: Pattern) -> Test | None:
    """The test by whose words facts are handed to the pattern: the one with fewest."""
    best: Test | None = None
    for test in pattern.tests:
        if test.op in ("is", "in") and (best is None or len(test.values) < len(best.values)) and is_words(test):
            best = test
    return best


def is_words(test: Test) -> bool:
    """Whether the test asks for one of some words."""
    return test.op in ("is", "in") and not test.many and {*map(type, test.values)} <= _WORD
