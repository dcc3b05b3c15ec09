"""A plan as it is while nothing of `to_get` is there, and as it will be once all of it is.

Whatever speaks of the first and not of the second rests on an entry: it is answered, and no more than that.
"""

from __future__ import annotations

from collections.abc import Iterable

from msgspec.structs import replace

from advisor.plain import Plain
from advisor.plan.model import Entity, Plan, ToGet, Value

PEOPLE = "who"  # the list that somebody who comes to help is named from


def as_it_is(plan: Plan) -> Plan:
    """The plan without gear that a step counts on and that is still to get; hands likewise."""
    entities, steps = dict(plan.entities), list(plan.steps)
    for entry in plan.to_get:
        for place, step in enumerate(steps):
            if entry.steps and step.id not in entry.steps:
                continue
            less = _without(step, entry, plan)
            if less is not step:
                steps[place] = less
    return plan if steps == plan.steps else _with_steps(plan, entities, steps)


def as_got(plan: Plan) -> Plan:
    """The plan with everything there that stands under `to_get`."""
    entities = {sort: dict(found) for sort, found in plan.entities.items()}
    owned = [entry.what for entry in plan.to_get if entry.sort == "tool"]
    if owned:
        entities["crew"]["crew"] = _add(entities["crew"]["crew"], "owns", owned)
    for entry in plan.to_get:
        for sort, name, value in entry.values:
            owners = [entry.what] if sort == entry.sort else entry.steps or list(entities["step"])
            for own in owners if sort in (entry.sort, "step") else [sort]:
                entities[sort][own] = _put(entities[sort][own], name, value)
    got = _with_steps(plan, entities, [entities["step"][step.id] for step in plan.steps])
    return replace(got, to_get=())


def _with_steps(plan: Plan, entities: dict[str, dict[str, Entity]], steps: list[Entity]) -> Plan:
    """The plan with other steps; `entities` names them in the order of the file."""
    by_id = {step.id: step for step in steps}
    return replace(plan, entities={**entities, "step": {own: by_id[own] for own in entities["step"]}}, steps=steps)


def _without(step: Entity, entry: ToGet, plan: Plan) -> Entity:
    if entry.sort == "tool":
        worn = step.values.get("wearing")
        if worn is None or not isinstance(worn.plain, tuple) or entry.what not in worn.plain:
            return step
        rest = tuple(one for one in worn.plain if one != entry.what)
        return _copy(step, "wearing", replace(worn, plain=rest) if rest else None)
    if entry.sort == PEOPLE and "people" in step.values:
        people, crew = step.values["people"].plain, plan.entities["crew"]["crew"].values.get("people")
        if crew is not None and isinstance(people, int | float) and isinstance(crew.plain, int | float):
            return _copy(step, "people", crew) if people > crew.plain else step
    return step


def _copy(entity: Entity, name: str, value: Value | None) -> Entity:
    values = {own: old for own, old in entity.values.items() if own != name}
    return replace(entity, values=values if value is None else {**values, name: value})


def _add(entity: Entity, name: str, more: Iterable[Plain]) -> Entity:
    old = entity.values.get(name)
    known: tuple[Plain, ...] = old.plain if old is not None and isinstance(old.plain, tuple) else ()
    plain = tuple(dict.fromkeys((*known, *more)))
    return _copy(entity, name, Value(plain, ", ".join(map(str, plain)), entity.line, 0))


def _put(entity: Entity, name: str, value: Value) -> Entity:
    """The value in place of what was stated; a list is added to."""
    if isinstance(value.plain, tuple) and name != "drops":
        return _add(entity, name, value.plain)
    return _copy(entity, name, value)
