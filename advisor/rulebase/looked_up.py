"""The kinds of fact that rules deduce, looked up: what each means, what it says, which rules bring and read it."""

from __future__ import annotations

import textwrap

from msgspec import Struct

from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import Kind
from advisor.rulebase.scope import plain_type
from advisor.rulebase.split import patterns_of

_WIDTH = 80
_NAMED = 5  # rules named of a kind in the list of all


class Deduced(Struct, frozen=True):
    """A deduced kind with the ids of the rules that bring it and of those that read it."""

    kind: Kind
    brought_by: tuple[str, ...]
    read_by: tuple[str, ...]


def deduced_kinds(rulebase: RuleBase) -> list[Deduced]:
    """All deduced kinds, by name."""
    makers: dict[str, set[str]] = {}
    readers: dict[str, set[str]] = {}
    for rule in rulebase.rules:
        for conclusion in rule.conclusions:
            if conclusion.kind == "deduce":
                makers.setdefault(conclusion.deduced, set()).add(rule.id)
        for pattern, _ in patterns_of(rule.conditions):
            readers.setdefault(pattern.kind, set()).add(rule.id)
    return [
        Deduced(kind, tuple(sorted(makers.get(name, ()))), tuple(sorted(readers.get(name, ()))))
        for name, kind in sorted(rulebase.kinds.items())
        if kind.deduced
    ]


def in_short(found: list[Deduced]) -> str:
    """The list of kinds: each with its fields, its meaning, and some of its rules."""
    lines = [f"{len(found)} deduced kinds. 'advisor rules kinds NAME' names all rules of one."]
    for one in found:
        lines += [
            "",
            *_head(one),
            *_rules("brought by", one.brought_by, _NAMED),
            *_rules("read by", one.read_by, _NAMED),
        ]
    return "\n".join(lines) + "\n"


def at_length(one: Deduced) -> str:
    """One kind with all its rules."""
    fields = [f"  {name}: a {plain_type(kind)}" for name, kind in one.kind.attributes.items()]
    pattern = ", ".join(f"{name}: ${name}" for name in one.kind.attributes)
    lines = [*_head(one), *fields, *_rules("brought by", one.brought_by), *_rules("read by", one.read_by)]
    return "\n".join([*lines, *_wrap(f"in a rule: - {one.kind.name}: {{{pattern}}}")]) + "\n"


def _head(one: Deduced) -> list[str]:
    head = f"{one.kind.name} ({', '.join(one.kind.attributes)})"
    meaning = one.kind.meaning
    return textwrap.wrap(f"{head}: {meaning}" if meaning else head, _WIDTH, subsequent_indent="  ")


def _rules(label: str, rules: tuple[str, ...], most: int | None = None) -> list[str]:
    named = list(rules[:most])
    rest = len(rules) - len(named)
    said = ", ".join(named) + (f" and {rest} more" if rest else "") if rules else "no rule"
    return _wrap(f"{label} {len(rules)}: {said}" if rules else f"{label}: {said}")


def _wrap(text: str) -> list[str]:
    return textwrap.wrap(
        text, _WIDTH, initial_indent="  ", subsequent_indent="      ", break_on_hyphens=False, break_long_words=False
    )
