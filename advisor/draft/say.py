"""A plan in sentences: the same sayings and questions that are heard, so that what is said can be heard again."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from msgspec import Struct

from advisor.draft.language import Language, load_language
from advisor.plan import read_plan
from advisor.plan.model import Entity, Plan, Value
from advisor.rulebase.vocabulary import Attribute, Vocabulary

_SORTS = ("room", "part", "product")
_ALONE = ("house", "code", "crew", "budget")


class Said(Struct, frozen=True):
    """A sentence: what stands before the value that it tells, the value as said, what follows; and whose it is."""

    before: str
    shown: str
    after: str
    sort: str
    own: str
    attribute: str
    value: str  # as it would be typed into a plan

    @property
    def text(self) -> str:
        """The whole sentence."""
        return f"{self.before}{self.shown}{self.after}"


def say(plan: Plan | Path | str | Mapping[str, Any], vocabulary: Vocabulary) -> str:
    """The plan as lines of plain sentences, things first, then the house and the people, then the steps in order."""
    read = plan if isinstance(plan, Plan) else read_plan(plan, vocabulary)
    return "\n".join(one.text for one in sentences(read, vocabulary)) + "\n"


def sentences(plan: Plan, vocabulary: Vocabulary) -> Iterable[Said]:
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


def _introduced(thing: Entity, vocabulary: Vocabulary) -> Said:
    kind = str(thing.values["kind"].plain)
    several = sum(kind in vocabulary.taxonomies[f"{sort}_kind"].terms for sort in _SORTS) > 1
    tail = "," if several else ""
    what = f"{thing.sort}, {kind}," if several else kind
    before = f"There is {'an' if what[:1] in 'aeiou' else 'a'} {what.removesuffix(tail).removesuffix(kind)}"
    return Said(before, kind, f'{tail} called "{thing.id}".', thing.sort, thing.id, "kind", thing.values["kind"].text)


def _step(step: Entity) -> Said:
    to = step.values.get("to")
    names = ", ".join(f'"{own}"' for own in to.plain) if to is not None and isinstance(to.plain, tuple) else ""
    after = f"{' ' + names if names else ''}."
    does = step.values["do"]
    return Said(f'The step "{step.id}" is to ', str(does.plain), after, "step", step.id, "do", does.text)


def _told(thing: Entity, vocabulary: Vocabulary, language: Language) -> Iterable[Said]:
    for name, value in thing.values.items():
        if name == "kind" or (thing.sort == "step" and (name == "do" or (name == "to" and value.plain))):
            continue
        yield one(thing, vocabulary.attributes[thing.sort][name], value, language)


def one(thing: Entity, attribute: Attribute, value: Value, language: Language) -> Said:
    """One attribute as a sentence where it has a saying, else as its question with the answer."""
    own = f'"{thing.id}"'
    whose = (thing.sort, thing.id, attribute.name, value.text)
    saying = language.told.get((thing.sort, attribute.name))
    if (
        saying
        and thing.sort in ("part", "product", "room")
        and not attribute.many
        and attribute.type in ("length", "mass")
    ):
        before, _, after = saying.replace("{thing}", own).partition("{value}")
        return Said(_capital(before), value.text if before else _capital(value.text), f"{after}.", *whose)
    answer = "; ".join(_members(attribute, value)) or "none"
    return Said(f"{attribute.ask.replace('{{ id }}', own)} ", _capital(answer), ".", *whose)


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
