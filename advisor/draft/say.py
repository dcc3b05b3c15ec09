"""A plan in sentences: the same sayings and questions that are heard, so that what is said can be heard again."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from advisor.draft.language import Language, load_language
from advisor.plan import read_plan
from advisor.plan.model import Entity, Plan, Value
from advisor.rulebase.vocabulary import Attribute, Vocabulary

_SORTS = ("room", "part", "product")
_ALONE = ("house", "code", "crew", "budget")


def say(plan: Plan | Path | str | Mapping[str, Any], vocabulary: Vocabulary) -> str:
    """The plan as lines of plain sentences, things first, then the house and the people, then the steps in order."""
    read = plan if isinstance(plan, Plan) else read_plan(plan, vocabulary)
    return "\n".join(sentences(read, vocabulary)) + "\n"


def sentences(plan: Plan, vocabulary: Vocabulary) -> Iterable[str]:
    """One sentence after the other. What names another thing comes once all of them are introduced."""
    language = load_language()
    for sort in _SORTS:
        for thing in plan.entities[sort].values():
            yield _introduced(thing, vocabulary)
    for step in plan.steps:
        yield _step(step)
    for sort in _ALONE:
        yield from _told(plan.entities[sort][sort], vocabulary, language)
    for sort in _SORTS:
        for thing in plan.entities[sort].values():
            yield from _told(thing, vocabulary, language)
    for step in plan.steps:
        yield from _told(step, vocabulary, language)


def _introduced(thing: Entity, vocabulary: Vocabulary) -> str:
    kind = str(thing.values["kind"].plain)
    several = sum(kind in vocabulary.taxonomies[f"{sort}_kind"].terms for sort in _SORTS) > 1
    what = f"{thing.sort}, {kind}," if several else kind
    return f'There is {"an" if what[:1] in "aeiou" else "a"} {what} called "{thing.id}".'


def _step(step: Entity) -> str:
    to = step.values.get("to")
    names = ", ".join(f'"{own}"' for own in to.plain) if to is not None and isinstance(to.plain, tuple) else ""
    return f'The step "{step.id}" is to {step.values["do"].plain}{" " + names if names else ""}.'


def _told(thing: Entity, vocabulary: Vocabulary, language: Language) -> Iterable[str]:
    for name, value in thing.values.items():
        if name == "kind" or (thing.sort == "step" and (name == "do" or (name == "to" and value.plain))):
            continue
        yield one(thing, vocabulary.attributes[thing.sort][name], value, language)


def one(thing: Entity, attribute: Attribute, value: Value, language: Language) -> str:
    """One attribute as a sentence where it has a saying, else as its question with the answer."""
    own = f'"{thing.id}"'
    saying = language.told.get((thing.sort, attribute.name))
    if (
        saying
        and thing.sort in ("part", "product", "room")
        and not attribute.many
        and attribute.type in ("length", "mass")
    ):
        return _capital(saying.replace("{thing}", own).replace("{value}", value.text)) + "."
    answer = "; ".join(_members(attribute, value)) or "none"
    return f"{attribute.ask.replace('{{ id }}', own)} {_capital(answer)}."


def _members(attribute: Attribute, value: Value) -> Iterable[str]:
    if attribute.type == "text":
        yield f'"{value.text}"'
    elif attribute.many and isinstance(value.plain, tuple):
        numbers = any(not isinstance(member, str) for member in value.plain)
        yield from value.text.split(", ") if numbers else map(str, value.plain)
    else:
        yield str(value.plain) if attribute.type == "yes_no" else value.text


def _capital(text: str) -> str:
    return text if text[:1] in ('"', "") else text[0].upper() + text[1:]
