"""Rewritings of facts that can be said in two ways: of the house or of the thing, as one number or as two."""

from __future__ import annotations

import random
from collections.abc import Iterator
from typing import Any

from rewriting import WORDS, Plan, key_of, kind_is, meant, members, operator, parts, things

from advisor.units import read_quantity

Pick = random.Random
Said = dict[str, Any]


def _lacks(sort: str, said: Said, name: str) -> bool:
    return not any((a := meant(sort, word)) and a.name == name for word in said)


def _value(sort: str, said: Said, name: str) -> str | None:
    word = key_of(sort, said, name)
    return None if word is None or isinstance(said[word], list | dict) else str(said[word])


def _number(sort: str, said: Said, name: str) -> float | None:
    text = _value(sort, said, name)
    return None if text is None else read_quantity(text, WORDS.attributes[sort][name].type).si


def _term(sort: str, said: Said, name: str) -> str | None:
    text = _value(sort, said, name)
    return None if text is None else WORDS.taxonomies[WORDS.attributes[sort][name].of].find(text)


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
        if word and _lacks("step", step, back or name):
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
            if word and _lacks("room", said, name) and kind_is(said, "kitchen", "bathroom", "hallway", sort="room"):
                said[name] = house[word]
    return plan


@operator
def tests_of_the_house_said_of_each_part(plan: Plan, pick: Pick) -> Plan:
    """Where the whole house holds no lead or asbestos, no part of it does; only bought parts were not looked at."""
    for name in ("lead_test", "asbestos_test"):
        if _term("house", plan.get("house") or {}, name) == "negative":
            for said in parts(plan).values():
                if _lacks("part", said, name) and _value("part", said, "new") != "yes":
                    said[name] = "negative"
    return plan


@operator
def permits_of_the_house_said_of_each_step(plan: Plan, pick: Pick) -> Plan:
    """A permit granted for the work covers its steps."""
    word = key_of("house", plan.get("house") or {}, "permits")
    for step in plan["steps"] if word else []:
        if _lacks("step", step, "permit"):
            step["permit"] = plan["house"][word]
    return plan


@operator
def who_works_said_of_each_step(plan: Plan, pick: Pick) -> Plan:
    """Where the crew is the owner alone, the owner does each step."""
    who = key_of("crew", plan.get("crew") or {}, "who")
    alone = {WORDS.taxonomies["who"].find(str(w)) for w in members(plan["crew"][who])} if who else set()
    for step in plan["steps"] if alone == {"owner"} else []:
        if _lacks("step", step, "who"):
            step["who"] = "owner"
    return plan


@operator
def gear_listed_with_the_tools(plan: Plan, pick: Pick) -> Plan:
    """`with: [sander, goggles]` for `wearing: goggles`: nobody uses goggles otherwise."""
    for step in plan["steps"]:
        worn, tools = key_of("step", step, "wearing"), key_of("step", step, "with")
        listed = WORDS.taxonomies["tool"].below("protective gear")
        if worn and all(WORDS.taxonomies["tool"].find(str(one)) in listed for one in members(step[worn])):
            step[tools or "with"] = [*(members(step[tools]) if tools else []), *members(step.pop(worn))]
    return plan


@operator
def a_ladder_among_the_tools(plan: Plan, pick: Pick) -> Plan:
    """Who works with a ladder works from it."""
    for step in plan["steps"]:
        tools = key_of("step", step, "with")
        found = {WORDS.taxonomies["tool"].find(str(t)) for t in members(step[tools])} if tools else set()
        if found & WORDS.taxonomies["tool"].below("ladder") and _lacks("step", step, "on_ladder"):
            step["on_ladder"] = "yes"
    return plan


@operator
def wet_by_the_method(plan: Plan, pick: Pick) -> Plan:
    """`by: wet` for `wet: yes`."""
    for step in plan["steps"]:
        wet = key_of("step", step, "wet")
        if wet and str(step[wet]) == "yes" and _lacks("step", step, "by"):
            del step[wet]
            step["by"] = "wet"
    return plan


@operator
def grits_for_the_finest(plan: Plan, pick: Pick) -> Plan:
    """`grit` is the finest of the `grits`."""
    for step in plan["steps"]:
        grits = key_of("step", step, "grits")
        if grits and _lacks("step", step, "grit"):
            step["grit"] = str(max(int(str(g).replace(",", "")) for g in members(step[grits])))
    return plan


@operator
def area_of_a_room(plan: Plan, pick: Pick) -> Plan:
    """Length times width, said outright."""
    for sort, _, said in things(plan):
        length, width = (_number(sort, said, n) if sort == "room" else None for n in ("length", "width"))
        if length and width and _lacks("room", said, "area"):
            said["area"] = f"{length * width:.9g} m2"
    return plan


@operator
def slope_for_fall(plan: Plan, pick: Pick) -> Plan:
    """The fall over the whole length as the fall of each foot."""
    for said in parts(plan).values():
        fall, length = (_number("part", said, n) for n in ("fall", "length"))
        if fall and length and _lacks("part", said, "slope"):
            del said[key_of("part", said, "fall") or ""]
            said["slope"] = f"{12 * fall / length:.12g} in/ft"
    return plan


@operator
def fall_for_slope(plan: Plan, pick: Pick) -> Plan:
    """And the other way round."""
    for said in parts(plan).values():
        slope, length = (_number("part", said, n) for n in ("slope", "length"))
        if slope and length and _lacks("part", said, "fall"):
            del said[key_of("part", said, "slope") or ""]
            said["fall"] = f"{slope * length:.12g} m"
    return plan


@operator
def watts_for_amperes(plan: Plan, pick: Pick) -> Plan:
    """Current and voltage of a plate as its power."""
    for said in parts(plan).values():
        current, voltage = (_number("part", said, n) for n in ("current", "voltage"))
        if current and voltage and _lacks("part", said, "power"):
            del said[key_of("part", said, "current") or ""]
            said["power"] = f"{current * voltage:.12g} W"
    return plan


@operator
def amperes_for_watts(plan: Plan, pick: Pick) -> Plan:
    """And the other way round."""
    for said in parts(plan).values():
        power, voltage = (_number("part", said, n) for n in ("power", "voltage"))
        if power and voltage and _lacks("part", said, "current"):
            del said[key_of("part", said, "power") or ""]
            said["current"] = f"{power / voltage:.12g} A"
    return plan


@operator
def ends_outdoors(plan: Plan, pick: Pick) -> Plan:
    """A fan that is `ducted` blows outdoors, and one whose air ends outdoors is ducted."""
    for said in parts(plan).values():
        if _value("part", said, "ducted") == "yes" and _lacks("part", said, "termination"):
            del said[key_of("part", said, "ducted") or ""]
            said["termination"] = "outdoors"
        elif _term("part", said, "termination") == "outdoors" and _lacks("part", said, "ducted"):
            said["ducted"] = "yes"
    return plan


@operator
def protection_for_kind(plan: Plan, pick: Pick) -> Plan:
    """`kind: outlet, protection: [GFCI]` for `kind: GFCI outlet`."""
    for said in parts(plan).values():
        if WORDS.taxonomies["part_kind"].find(str(said.get("kind"))) == "GFCI outlet":
            said["kind"] = "outlet"
            word = key_of("part", said, "protection")
            said[word or "protection"] = [*(members(said[word]) if word else []), "GFCI"]
    return plan


@operator
def fuel_for_kind(plan: Plan, pick: Pick) -> Plan:
    """`kind: range, fuel: natural gas` for `kind: gas range`."""
    for said in parts(plan).values():
        kind = WORDS.taxonomies["part_kind"].find(str(said.get("kind")))
        if kind in ("gas range", "gas cooktop"):
            said["kind"] = str(kind).removeprefix("gas ")
            if key_of("part", said, "fuel") is None:
                said["fuel"] = "gas fuel"
    return plan


@operator
def kind_for_fuel(plan: Plan, pick: Pick) -> Plan:
    """And the other way round."""
    for said in parts(plan).values():
        kind = WORDS.taxonomies["part_kind"].find(str(said.get("kind")))
        if kind in ("range", "cooktop") and _term("part", said, "fuel") in ("natural gas", "propane", "gas fuel"):
            said["kind"] = f"gas {kind}"
    return plan


@operator
def outside_by_the_room(plan: Plan, pick: Pick) -> Plan:
    """What stands in a room of the kind `outdoors` stands outside."""
    rooms = plan.get("rooms") or {}
    for said in parts(plan).values():
        room = rooms.get(said.get(key_of("part", said, "room") or "", ""), {})
        if kind_is(room, "outdoors", sort="room") and _lacks("part", said, "outside"):
            said["outside"] = "yes"
    return plan


@operator
def pipes_of_the_house_said_of_each(plan: Plan, pick: Pick) -> Plan:
    """What all water and drain pipes, and all wires, are made of, each of them is."""
    house = plan.get("house") or {}
    rows = [("water_pipes", "pipe", ("water line",)), ("drain_pipes", "pipe", ("drain",))]
    for name, back, kinds in [*rows, ("wiring", "wiring", ("circuit",))]:
        word = key_of("house", house, name)
        for said in parts(plan).values() if word else []:
            if kind_is(said, *kinds) and _lacks("part", said, back) and _value("part", said, "new") != "yes":
                said[back] = house[word]
    return plan


@operator
def material_for_kind_of_floor(plan: Plan, pick: Pick) -> Plan:
    """`kind: floor, material: oak` for `kind: wood floor, material: oak`."""
    wide = {"wood floor": "wood", "tile floor": "ceramic", "sheet flooring": "resilient sheet", "carpet": "carpet"}
    for said in parts(plan).values():
        kind = WORDS.taxonomies["part_kind"].find(str(said.get("kind"))) or ""
        if kind in wide and _term("part", said, "material") in WORDS.taxonomies["material"].below(wide[kind]):
            said["kind"] = "floor"
    return plan
