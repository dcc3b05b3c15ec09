"""Plans with one thing less: each attribute, list member, step detail and thing taken out in turn."""

from __future__ import annotations

import copy
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from generators import SECTIONS, SINGLE

from advisor.plan import read_plan
from advisor.rulebase.vocabulary import Vocabulary

_NEEDED = ("kind", "do", "id", "note")


@dataclass(frozen=True)
class Deletion:
    """A plan without something, and what that was: sort, id, attribute and value (empty for the whole of it)."""

    plan: dict[str, Any]
    sort: str
    thing: str
    attribute: str
    value: str

    def __str__(self) -> str:
        return ".".join(w for w in (self.sort, self.thing, self.attribute, self.value) if w)


def named(plan: dict[str, Any], words: Vocabulary) -> dict[str, Any]:
    """The plan with every step named as it is read, so that taking one out renames none."""
    made = copy.deepcopy(plan)
    read = read_plan(copy.deepcopy(plan), words)
    for written, own in zip(made["steps"], read.entities["step"], strict=True):
        written["id"] = own
    return made


def deletions(plan: dict[str, Any], words: Vocabulary) -> Iterator[Deletion]:
    """Every plan with one thing less."""
    for sort in SINGLE:
        for name in sorted(plan.get(sort) or {}):
            yield from _of_attribute(plan, sort, sort, name, words)
    for sort, section in SECTIONS.items():
        for own in sorted(plan.get(section) or {}):
            values = plan[section][own]
            for name in sorted(values if isinstance(values, dict) else {}):
                if name not in _NEEDED:
                    yield from _of_attribute(plan, sort, own, name, words)
            yield Deletion(_without(plan, section, own, words), sort, own, "", "")
    for place, step in enumerate(plan["steps"]):
        for name in sorted(step):
            if name not in _NEEDED:
                yield from _of_attribute(plan, "step", step["id"], name, words)
        if len(plan["steps"]) > 1:
            made = copy.deepcopy(plan)
            del made["steps"][place]
            _forget(made, step["id"], words, "step")
            yield Deletion(made, "step", step["id"], "", "")


def _target(plan: dict[str, Any], sort: str, own: str) -> dict[str, Any]:
    if sort in SINGLE:
        return plan[sort]
    if sort == "step":
        return next(step for step in plan["steps"] if step["id"] == own)
    return plan[SECTIONS[sort]][own]


def _of_attribute(plan: dict[str, Any], sort: str, own: str, name: str, words: Vocabulary) -> Iterator[Deletion]:
    attribute = words.attribute(sort, name)
    if attribute is None or attribute.name in ("kind", "do"):
        return
    made = copy.deepcopy(plan)
    value = _target(made, sort, own).pop(name)
    yield Deletion(made, sort, own, attribute.name, "")
    if isinstance(value, list) and len(value) > 1:
        for member in value:
            made = copy.deepcopy(plan)
            _target(made, sort, own)[name] = [one for one in value if one != member]
            yield Deletion(made, sort, own, attribute.name, str(member))


def _without(plan: dict[str, Any], section: str, own: str, words: Vocabulary) -> dict[str, Any]:
    made = copy.deepcopy(plan)
    del made[section][own]
    sort = next(s for s, name in SECTIONS.items() if name == section)
    _forget(made, own, words, sort)
    return made


def _forget(plan: dict[str, Any], own: str, words: Vocabulary, gone: str) -> None:
    """Take the name of a thing out wherever it is mentioned."""
    places: list[tuple[str, dict[str, Any]]] = [("step", step) for step in plan["steps"]]
    for sort, section in SECTIONS.items():
        places += [(sort, values) for values in (plan.get(section) or {}).values() if isinstance(values, dict)]
    for sort, values in places:
        for name in list(values):
            attribute = words.attribute(sort, name)
            if attribute is None or attribute.type != "ref" or attribute.of != gone:
                continue
            listed = values[name] if isinstance(values[name], list) else [values[name]]
            left = [one for one in listed if str(one) != own]
            if not left:
                del values[name]
            elif len(left) != len(listed):
                values[name] = left


def about(finding: Any, gone: Deletion) -> bool:
    """Whether a conclusion of the engine was about what was taken out."""
    values = {str(v) for v in finding.env.values() if isinstance(v, str)}
    if not gone.attribute:
        return gone.thing in values or _met(finding, gone.sort, gone.thing)
    if gone.value:
        return gone.value in values or _held(finding, gone)
    return False


def _met(finding: Any, sort: str, own: str) -> bool:
    """Whether the match, or what it was deduced from, holds a fact of the thing."""
    seen: set[int] = set()
    queue = [record for _, record in finding.why.support] + list(finding.why.collected)
    while queue:
        record = queue.pop()
        if record.number in seen:
            continue
        seen.add(record.number)
        if record.values.get("id") == own or own in record.values.values():
            return True
        for why in record.derivations:
            queue += [r for _, r in why.support] + list(why.collected)
    return False


def _held(finding: Any, gone: Deletion) -> bool:
    """Whether the match, or what it was deduced from, holds that member of the list."""
    seen: set[int] = set()
    queue = [record for _, record in finding.why.support] + list(finding.why.collected)
    while queue:
        record = queue.pop()
        if record.number in seen:
            continue
        seen.add(record.number)
        value = record.values.get(gone.attribute)
        if record.kind == gone.sort and value == gone.value and record.values.get("id") == gone.thing:
            return True  # a step is one fact for each of its parts and products
        if record.values.get("attribute") == gone.attribute and record.values.get("of") == gone.thing:
            return True
        if record.kind == gone.sort and isinstance(value, tuple) and record.values.get("id") == gone.thing:
            return True
        for why in record.derivations:
            queue += [r for _, r in why.support] + list(why.collected)
    return False
