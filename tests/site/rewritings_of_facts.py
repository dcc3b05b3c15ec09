"""Rewritings of facts of one thing that can be said in two ways: as one number or as two, as a kind or an attribute."""

from __future__ import annotations

import random
from typing import Any

from rewriting import WORDS, Plan, key_of, kind_is, meant, members, operator, parts, things

from advisor.units import read_quantity

Pick = random.Random
Said = dict[str, Any]


def lacks(sort: str, said: Said, name: str) -> bool:
    """Whether nothing is said of the attribute."""
    return not any((a := meant(sort, word)) and a.name == name for word in said)


def value(sort: str, said: Said, name: str) -> str | None:
    """The attribute's value as it is written, where it is one."""
    word = key_of(sort, said, name)
    return None if word is None or isinstance(said[word], list | dict) else str(said[word])


def number(sort: str, said: Said, name: str) -> float | None:
    """Its value in base units."""
    text = value(sort, said, name)
    return None if text is None else read_quantity(text, WORDS.attributes[sort][name].type).si


def term(sort: str, said: Said, name: str) -> str | None:
    """Its value as a word of the vocabulary."""
    text = value(sort, said, name)
    return None if text is None else WORDS.taxonomies[WORDS.attributes[sort][name].of].find(text)


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
        if found & WORDS.taxonomies["tool"].below("ladder") and lacks("step", step, "on_ladder"):
            step["on_ladder"] = "yes"
    return plan


@operator
def wet_by_the_method(plan: Plan, pick: Pick) -> Plan:
    """`by: wet` for `wet: yes`."""
    for step in plan["steps"]:
        wet = key_of("step", step, "wet")
        if wet and str(step[wet]) == "yes" and lacks("step", step, "by"):
            del step[wet]
            step["by"] = "wet"
    return plan


@operator
def grits_for_the_finest(plan: Plan, pick: Pick) -> Plan:
    """`grit` is the finest of the `grits`."""
    for step in plan["steps"]:
        grits = key_of("step", step, "grits")
        if grits and lacks("step", step, "grit"):
            step["grit"] = str(max(int(str(g).replace(",", "")) for g in members(step[grits])))
    return plan


@operator
def area_of_a_room(plan: Plan, pick: Pick) -> Plan:
    """Length times width, said outright."""
    for sort, _, said in things(plan):
        length, width = (number(sort, said, n) if sort == "room" else None for n in ("length", "width"))
        if length and width and lacks("room", said, "area"):
            said["area"] = f"{length * width:.9g} m2"
    return plan


@operator
def slope_for_fall(plan: Plan, pick: Pick) -> Plan:
    """The fall over the whole length as the fall of each foot."""
    for said in parts(plan).values():
        fall, length = (number("part", said, n) for n in ("fall", "length"))
        if fall and length and lacks("part", said, "slope"):
            del said[key_of("part", said, "fall") or ""]
            said["slope"] = f"{12 * fall / length:.12g} in/ft"
    return plan


@operator
def fall_for_slope(plan: Plan, pick: Pick) -> Plan:
    """And the other way round."""
    for said in parts(plan).values():
        slope, length = (number("part", said, n) for n in ("slope", "length"))
        if slope and length and lacks("part", said, "fall"):
            del said[key_of("part", said, "slope") or ""]
            said["fall"] = f"{slope * length:.12g} m"
    return plan


@operator
def watts_for_amperes(plan: Plan, pick: Pick) -> Plan:
    """Current and voltage of a plate as its power."""
    for said in parts(plan).values():
        current, voltage = (number("part", said, n) for n in ("current", "voltage"))
        if current and voltage and lacks("part", said, "power"):
            del said[key_of("part", said, "current") or ""]
            said["power"] = f"{current * voltage:.12g} W"
    return plan


@operator
def amperes_for_watts(plan: Plan, pick: Pick) -> Plan:
    """And the other way round."""
    for said in parts(plan).values():
        power, voltage = (number("part", said, n) for n in ("power", "voltage"))
        if power and voltage and lacks("part", said, "current"):
            del said[key_of("part", said, "power") or ""]
            said["current"] = f"{power / voltage:.12g} A"
    return plan


@operator
def ends_outdoors(plan: Plan, pick: Pick) -> Plan:
    """A fan that is `ducted` blows outdoors, and one whose air ends outdoors is ducted."""
    for said in parts(plan).values():
        if value("part", said, "ducted") == "yes" and lacks("part", said, "termination"):
            del said[key_of("part", said, "ducted") or ""]
            said["termination"] = "outdoors"
        elif term("part", said, "termination") == "outdoors" and lacks("part", said, "ducted"):
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
        if kind in ("range", "cooktop") and term("part", said, "fuel") in ("natural gas", "propane", "gas fuel"):
            said["kind"] = f"gas {kind}"
    return plan


@operator
def outside_by_the_room(plan: Plan, pick: Pick) -> Plan:
    """What stands in a room of the kind `outdoors` stands outside."""
    rooms = plan.get("rooms") or {}
    for said in parts(plan).values():
        room = rooms.get(said.get(key_of("part", said, "room") or "", ""), {})
        if kind_is(room, "outdoors", sort="room") and lacks("part", said, "outside"):
            said["outside"] = "yes"
    return plan


@operator
def material_for_kind_of_floor(plan: Plan, pick: Pick) -> Plan:
    """`kind: floor, material: oak` for `kind: wood floor, material: oak`."""
    wide = {"wood floor": "wood", "tile floor": "ceramic", "sheet flooring": "resilient sheet", "carpet": "carpet"}
    for said in parts(plan).values():
        kind = WORDS.taxonomies["part_kind"].find(str(said.get("kind"))) or ""
        if kind in wide and term("part", said, "material") in WORDS.taxonomies["material"].below(wide[kind]):
            said["kind"] = "floor"
    return plan
