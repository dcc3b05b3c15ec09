"""Rewritings of what is said of a room, the crew or the house, and holds of each step or part of it."""

from __future__ import annotations

import random
from collections.abc import Iterator
from typing import Any

from rewriting import WORDS, Plan, key_of, kind_is, members, operator, parts, things
from rewritings_of_facts import lacks, term, value

Pick = random.Random
Said = dict[str, Any]


def _steps_in_rooms(plan: Plan) -> Iterator[tuple[Said, Said]]:
    """Each step that is done in one room, with what is said of the room."""
    from advisor.plan import make_facts, read_plan

    rooms: dict[str, set[str]] = {}
    for fact in make_facts(read_plan(plan, WORDS), WORDS).facts:
        if fact.kind == "step":
            rooms.setdefault(str(fact.get("id")), set()).add(str(fact.get("in") or ""))
    for step in plan["steps"]:
        found = rooms.get(step["id"], set())
        if len(found) == 1 and (said := (plan.get("rooms") or {}).get(next(iter(found)))):
            yield step, said


def _of_the_room(plan: Plan, name: str, back: str = "") -> Plan:
    for step, room in _steps_in_rooms(plan):
        word = key_of("room", room, name)
        if word and lacks("step", step, back or name):
            step[back or name] = room[word]
    return plan


@operator
def ventilation_said_at_the_step(plan: Plan, pick: Pick) -> Plan:
    """A step is ventilated as its room is; but where a fan is at hand, the word at the step says what the fan does."""
    if any("fan" in str(step.get(key_of("step", step, "with") or "")) for step in plan.get("steps") or []):
        return plan
    return _of_the_room(plan, "ventilation")


@operator
def airflow_said_at_the_step(plan: Plan, pick: Pick) -> Plan:
    """The fan of the room runs during the step."""
    return _of_the_room(plan, "airflow")


@operator
def warmth_said_at_the_step(plan: Plan, pick: Pick) -> Plan:
    """It is as warm and as humid during a step as in its room."""
    return _of_the_room(_of_the_room(plan, "temperature"), "humidity")


@operator
def gfci_said_at_the_step(plan: Plan, pick: Pick) -> Plan:
    """Where all outlets used for tools are protected, the step's is."""
    return _of_the_room(plan, "gfci")


@operator
def warmth_of_the_house_said_of_each_room(plan: Plan, pick: Pick) -> Plan:
    """Rooms are as warm and humid as the house; not those out of doors or without heating."""
    house = plan.get("house") or {}
    for _, _, said in [thing for thing in things(plan) if thing[0] == "room"]:
        for name in ("temperature", "humidity"):
            word = key_of("house", house, name)
            if word and lacks("room", said, name) and kind_is(said, "kitchen", "bathroom", "hallway", sort="room"):
                said[name] = house[word]
    return plan


@operator
def tests_of_the_house_said_of_each_part(plan: Plan, pick: Pick) -> Plan:
    """Where the whole house holds no lead or asbestos, no part of it does; only bought parts were not looked at."""
    for name in ("lead_test", "asbestos_test"):
        if term("house", plan.get("house") or {}, name) == "negative":
            for said in parts(plan).values():
                if lacks("part", said, name) and value("part", said, "new") != "yes":
                    said[name] = "negative"
    return plan


@operator
def permits_of_the_house_said_of_each_step(plan: Plan, pick: Pick) -> Plan:
    """A permit granted for the work covers its steps."""
    word = key_of("house", plan.get("house") or {}, "permits")
    for step in plan["steps"] if word else []:
        if lacks("step", step, "permit"):
            step["permit"] = plan["house"][word]
    return plan


@operator
def who_works_said_of_each_step(plan: Plan, pick: Pick) -> Plan:
    """Where the crew is the owner alone, the owner does each step."""
    who = key_of("crew", plan.get("crew") or {}, "who")
    alone = {WORDS.taxonomies["who"].find(str(w)) for w in members(plan["crew"][who])} if who else set()
    for step in plan["steps"] if alone == {"owner"} else []:
        if lacks("step", step, "who"):
            step["who"] = "owner"
    return plan


@operator
def pipes_of_the_house_said_of_each(plan: Plan, pick: Pick) -> Plan:
    """What all water and drain pipes, and all wires, are made of, each of them is."""
    house = plan.get("house") or {}
    rows = [("water_pipes", "pipe", ("water line",)), ("drain_pipes", "pipe", ("drain",))]
    for name, back, kinds in [*rows, ("wiring", "wiring", ("circuit",))]:
        word = key_of("house", house, name)
        for said in parts(plan).values() if word else []:
            if kind_is(said, *kinds) and lacks("part", said, back) and value("part", said, "new") != "yes":
                said[back] = house[word]
    return plan
