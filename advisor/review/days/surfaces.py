"""Work on a floor or a wall that is still wet: nobody treads on the one, nothing is set against the other. Nor is a
thing put in its place before the dust of what the plan does first is made.

Which floor and which wall is told by the room alone: a plan seldom says where a ladder stands, or which wall a shelf
hangs on. So a wet floor keeps everybody out of its room, and a wet wall all that is hung up or moved there.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import NamedTuple

from advisor.plan.model import Entity, Plan
from advisor.plan.said import action_of, words
from advisor.rulebase.vocabulary import Vocabulary


class KeptOff(NamedTuple):
    """One step after another, for a reason that no rule gives, and the hands-off time between them [min]."""

    first: str
    then: str
    why: str
    lag: int


def on_wet_surfaces(
    plan: Plan, steps: list[Entity], wet: Mapping[str, int], rest_after: Callable[[str], int], vocabulary: Vocabulary
) -> list[KeptOff]:
    """Steps in the rooms of wet floors and walls; `wet` is how long each step leaves its parts so, `rest_after` how
    long until they can be covered [min]."""
    passive = vocabulary.members("action", "keeps nothing waiting")
    leaning, dusting = (
        vocabulary.members("action", "leans or hangs"),
        vocabulary.members("action", "fills the air with dust"),
    )
    floors, walls = vocabulary.members("part_kind", "trodden on"), vocabulary.members("part_kind", "leaned on")
    flattening, covering = (vocabulary.members("action", name) for name in ("makes a floor flat", "covers a floor"))
    flat: dict[str, str] = {}  # room to the last step that makes its floor flat
    floor: dict[str, str] = {}  # room to the last step that leaves its floor wet
    wall: dict[str, list[str]] = {}  # room to the steps since then that leave a wall wet
    dust: dict[str, list[str]] = {}  # room to the steps that raised dust
    since: dict[str, list[str]] = {}  # room to all steps since then
    found = []
    for step in steps:
        if action_of(step) in passive:
            continue
        every = kinds_of(plan, words(step, "to"))
        kinds = every if wet[step.id] else frozenset()
        for room in rooms_of(plan, step):
            if last := floor.get(room):
                found.append(KeptOff(last, step.id, f"nobody treads on the wet floor of {room}", wet[last]))
            if action_of(step) in covering and every & floors and (base := flat.get(room)):
                found.append(KeptOff(base, step.id, f"what was poured in {room} hardens first", rest_after(base)))
            if action_of(step) in leaning:
                why = f"the walls of {room} are wet"
                found += [KeptOff(first, step.id, why, wet[first]) for first in wall.get(room, ())]
                found += [KeptOff(first, step.id, f"no dust on it in {room}", 0) for first in dust.get(room, ())]
            if kinds & floors:
                found += [
                    KeptOff(first, step.id, f"nobody is in {room} while its floor is wet", 0)
                    for first in since.pop(room, ())
                ]
                floor[room] = step.id
                if action_of(step) in flattening:
                    flat[room] = step.id
            if action_of(step) in dusting:
                dust.setdefault(room, []).append(step.id)
            if kinds & walls:
                wall.setdefault(room, []).append(step.id)
            since.setdefault(room, []).append(step.id)
    return found


def by_dust(plan: Plan, steps: list[Entity], vocabulary: Vocabulary) -> list[tuple[str, str, str]]:
    """Steps in one room between which no dust is made before a coat is dry: first, then, why."""
    dusty = vocabulary.members("action", "fills the air with dust")
    wet = vocabulary.members("action", "leaves a wet coat")
    rooms: dict[str, tuple[list[str], list[str], str]] = {}  # settled group, group that grows, its kind
    found = []
    for step in steps:
        kind = "dusty" if action_of(step) in dusty else "wet coat" if action_of(step) in wet else ""
        for room in rooms_of(plan, step) if kind else ():
            before, grows, of = rooms.get(room, ([], [], kind))
            if of != kind:
                before, grows, of = grows, [], kind
            found += [(other, step.id, f"no dust while a coat dries in {room}") for other in before]
            rooms[room] = (before, [*grows, step.id], of)
    return found


def rooms_of(plan: Plan, step: Entity) -> list[str]:
    """The rooms in which a step is done: those that it names, or those of its parts."""
    stated = words(step, "in")
    if stated:
        return list(stated)
    parts = plan.entities.get("part", {})
    return list(dict.fromkeys(r for p in words(step, "to") if p in parts for r in words(parts[p], "room")))


def kinds_of(plan: Plan, names: Iterable[str]) -> frozenset[str]:
    """The kinds of these parts."""
    parts = plan.entities.get("part", {})
    return frozenset(kind for name in names if name in parts for kind in words(parts[name], "kind"))
