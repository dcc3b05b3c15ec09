"""Which verb a step amounts to, read from what it is done to, with what and how."""

from __future__ import annotations

from itertools import product

from advisor.plan.model import Entity, Plain, Value
from advisor.rulebase.meanings import Said, meant
from advisor.rulebase.vocabulary import Vocabulary

Things = dict[str, dict[str, Entity]]  # by sort, then id


def action_meant(step: Entity, part: str | None, used: str | None, things: Things, vocabulary: Vocabulary) -> str:
    """The action of the step at one of its parts with one of its products; '' where it has none."""
    verb = str(step.values["do"].plain) if "do" in step.values else ""
    if verb not in vocabulary.meanings:
        return verb
    said: dict[tuple[str, str], frozenset[str]] = {}
    _tell(said, "step", step)
    if part is not None:
        _tell(said, "part", things.get("part", {}).get(part))
    if used is not None:
        _tell(said, "product", things.get("product", {}).get(used))
    return meant(verb, said, vocabulary.meanings)


def say_what_is_meant(step: Entity, things: Things, vocabulary: Vocabulary) -> None:
    """Put the verb that a whole step amounts to in the place of the one written, whose text stays."""
    value = step.values.get("do")
    if value is None or str(value.plain) not in vocabulary.meanings:
        return
    parts, products = (_members(step.values.get(name)) for name in ("to", "using"))
    found = {action_meant(step, part, used, things, vocabulary) for part, used in product(parts, products)}
    if len(found) == 1:
        step.values["do"] = Value(found.pop(), value.text, value.line, value.column)


def _members(value: Value | None) -> tuple[str | None, ...]:
    if value is None or not isinstance(value.plain, tuple) or not value.plain:
        return (None,)
    return tuple(str(member) for member in value.plain)


def _tell(said: dict[tuple[str, str], frozenset[str]], sort: str, entity: Entity | None) -> Said:
    for name, value in (entity.values if entity else {}).items():
        plain: Plain = value.plain
        words = plain if isinstance(plain, tuple) else (plain,)
        said[sort, name] = frozenset(str(word) for word in words)
    return said
