"""What the words of a plan amount to: a verb by what it is done to, a kind by what is said of it, gear by its use."""

from __future__ import annotations

from itertools import product

from advisor.plain import Plain
from advisor.plan.model import Entity, Value
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


def say_kind_that_is_told(thing: Entity, vocabulary: Vocabulary) -> None:
    """Put the kind that is told by what is said of the thing in the place of the wider one that is written."""
    value = thing.values.get("kind")
    taxonomy = vocabulary.taxonomies.get(f"{thing.sort}_kind")
    if value is None or taxonomy is None:
        return
    for kind, said in taxonomy.told.items():
        if all(_is_said(thing, name, word, vocabulary) for name, word in said):
            thing.values["kind"] = Value(kind, value.text, value.line, value.column)
            return


def _is_said(thing: Entity, name: str, word: str, vocabulary: Vocabulary) -> bool:
    if name == "of":
        return thing.values["kind"].plain == word
    value = thing.values.get(name)
    members = value.plain if value and isinstance(value.plain, tuple) else (value.plain,) if value else ()
    below = vocabulary.taxonomies[vocabulary.attributes[thing.sort][name].of].below(word)
    return any(member in below for member in members)


def _is_of(thing: Entity, kind: str, vocabulary: Vocabulary) -> bool:
    value = thing.values.get("kind")
    return value is not None and value.plain in vocabulary.taxonomies[f"{thing.sort}_kind"].below(kind)


def say_what_is_said_too(thing: Entity, vocabulary: Vocabulary) -> None:
    """What one attribute says of another that is left out: a step done `by: wet` is `wet: yes`."""
    for (name, word), (other, plain, kinds) in vocabulary.said_too.get(thing.sort, {}).items():
        if kinds and not any(_is_of(thing, kind, vocabulary) for kind in kinds):
            continue
        if other not in thing.values and name in thing.values and _is_said(thing, name, word, vocabulary):
            value = thing.values[name]
            thing.values[other] = Value(plain, value.text, value.line, value.column)


GEAR = "worn on the body"  # a class of the list `tool`


def say_what_is_worn(step: Entity, vocabulary: Vocabulary) -> None:
    """Gear that is listed among the tools of a step is worn in it: nobody uses goggles otherwise."""
    tools = vocabulary.taxonomies.get("tool")
    used = step.values.get("with")
    if used is None or tools is None or GEAR not in tools.terms or not isinstance(used.plain, tuple):
        return
    worn = step.values.get("wearing")
    before = worn.plain if worn and isinstance(worn.plain, tuple) else ()
    gear = tuple(one for one in used.plain if one in tools.below(GEAR))
    if not gear:
        return
    own = worn or used
    step.values["wearing"] = Value(tuple(dict.fromkeys((*before, *gear))), own.text, own.line, own.column)
    left = tuple(one for one in used.plain if one not in tools.below(GEAR))
    step.values["with"] = Value(left, used.text, used.line, used.column)
    if not left:
        del step.values["with"]  # no tool is named


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
