"""Operators that turn a plan into another that means the same; the rules must then say the same of it.

Found by working through the form of a plan, the vocabulary and the works: wherever two ways of saying exist. An
operator changes every place that it can. Spellings, units and forms of values stand in `rewritings_of_words.py`; here
stand steps, places, and facts that can be said in two ways.
"""

from __future__ import annotations

import random
from itertools import pairwise
from typing import Any

import rewritings_of_facts  # noqa: F401  registers its operators
import rewritings_of_the_whole  # noqa: F401
import rewritings_of_words  # noqa: F401
from rewriting import WORDS, Plan, Told, key_of, kind_is, meant, members, operator, parts

from advisor.plan import read_plan
from advisor.plan.rooms import RoomsOfParts

Pick = random.Random
# What may be said of a step and holds of each of its parts: no hours, areas, amounts or counts.
_ONE_EACH = {"do", "to", "using", "with", "wearing", "in", "by", "who", "after", "wet", "dust_collection", "people_out"}


def _splits(step: dict[str, Any]) -> bool:
    return all(word in ("id", "note") or ((a := meant("step", word)) and a.name in _ONE_EACH) for word in step)


@operator
def a_step_for_each_thing(plan: Plan, pick: Pick) -> Told:
    """One step to two things becomes two steps."""
    steps, same, into = [], {}, {}
    for step in plan["steps"]:
        to = key_of("step", step, "to")
        each = list(dict.fromkeys(members(step[to]))) if to and _splits(step) else [None]
        into[step["id"]] = [step["id"] if not n else f"{step['id']} no {n + 1}" for n in range(len(each))]
        same |= dict.fromkeys(into[step["id"]], step["id"])
        steps += [
            {**step, "id": i} | ({to: m} if to and m else {}) for i, m in zip(into[step["id"]], each, strict=True)
        ]
    for step in steps:
        if after := key_of("step", step, "after"):
            step[after] = [new for old in members(step[after]) for new in into.get(old, [old])]
    return Told({**plan, "steps": steps}, same)


@operator
def one_step_for_both(plan: Plan, pick: Pick) -> Told:
    """Two steps in a row that say the same of two things of a kind become one."""
    kinds = {own: WORDS.taxonomies["part_kind"].find(str(said.get("kind"))) for own, said in parts(plan).items()}
    steps: list[dict[str, Any]] = []
    merged: dict[str, str] = {}
    named = {n for s in plan["steps"] for n in members(s.get(key_of("step", s, "after") or "", []))}
    for step in plan["steps"]:
        last, to = steps[-1] if steps else {}, key_of("step", step, "to")
        rest = [{k: v for k, v in one.items() if k not in ("id", to)} for one in (last, step)]
        both = [*members(last[to]), *members(step[to])] if to and to in last else []
        alike = len(set(both)) == len(both) and len({kinds.get(own, own) for own in both}) == 1
        if both and alike and _splits(step) and rest[0] == rest[1] and step["id"] not in named:
            last[to] = [*members(last[to]), *members(step[to])]
            merged[step["id"]] = last["id"]
        else:
            steps.append(step)
    return Told({**plan, "steps": steps}, {}, merged)


@operator
def after_in_place_of_order(plan: Plan, pick: Pick) -> Plan:
    """The steps listed in any order, each with `after:` the one that went before."""
    row = [step.id for step in read_plan(plan, WORDS).steps]
    by_id = {step["id"]: step for step in plan["steps"]}
    for before, own in pairwise(row):
        after = key_of("step", by_id[own], "after") or "after"
        by_id[own][after] = sorted({*members(by_id[own].get(after) or []), before} - {""})
    pick.shuffle(plan["steps"])
    return plan


@operator
def order_in_place_of_after(plan: Plan, pick: Pick) -> Plan:
    """`after:` left out where the list says the same."""
    seen: set[str] = set()
    for step in plan["steps"]:
        after = key_of("step", step, "after")
        if after and set(members(step[after])) <= seen:
            del step[after]
        seen.add(step["id"])
    return plan


@operator
def a_product_for_each_step(plan: Plan, pick: Pick) -> Plan:
    """A product used twice is listed once for each step; only where nothing says how much there is."""
    counted = {"kind", "binder", "carrier", "contains", "interior", "exterior", "sheen", "recoat", "ready", "cure"}
    for step in plan["steps"][1:]:
        using = key_of("step", step, "using")
        for n, own in enumerate(list(members(step[using])) if using else []):
            said = (plan.get("products") or {}).get(own)
            if said and all((a := meant("product", word)) and a.name in counted for word in said):
                plan["products"][f"{own} at {step['id']}"] = dict(said)
                step[using] = [f"{own} at {step['id']}" if i == n else m for i, m in enumerate(members(step[using]))]
    return plan


# Rooms


@operator
def room_of_the_holder(plan: Plan, pick: Pick) -> Plan:
    """What sits in, on or at a thing of the room needs no room of its own."""
    for own, said in sorted(parts(plan).items()):
        room = key_of("part", said, "room")
        if room:
            value = said.pop(room)
            if _room(plan, own) != value:
                said[room] = value
    return plan


@operator
def room_said_outright(plan: Plan, pick: Pick) -> Plan:
    """The room that its place tells, said at the thing itself."""
    found = {own: _room(plan, own) for own in parts(plan)}
    for own, said in parts(plan).items():
        if found[own] and not any((a := meant("part", w)) and a.name == "room" for w in said):
            said["room"] = found[own]
    return plan


def _room(plan: Plan, own: str) -> Any:
    return RoomsOfParts(read_plan(plan, WORDS)).of(own)


@operator
def room_of_the_step(plan: Plan, pick: Pick) -> Plan:
    """A step is done in the room of its parts, said or not."""
    for step in plan["steps"]:
        to, room = key_of("step", step, "to"), key_of("step", step, "in")
        rooms = {_room(plan, own) for own in members(step[to])} if to else set()
        if len(rooms) == 1 and None not in rooms:
            if room and step[room] in rooms:
                del step[room]
            elif not any((a := meant("step", w)) and a.name == "in" for w in step):
                step["in"] = next(iter(rooms))
    return plan


# Places, said from the other end


def _turn(plan: Plan, name: str, back: str, many: bool, wanted: Any = lambda one, other: True) -> None:
    """`name` of a part in place of it as `back` of the part that it names."""
    found = [(own, said, key_of("part", said, name)) for own, said in sorted(parts(plan).items())]
    pairs = [(own, said, word, other) for own, said, word in found if word for other in members(said[word])]
    for own, said, word, other in pairs:
        far = parts(plan).get(other)
        there = key_of("part", far, back) if far else None
        if far is None or other == own or (there and not many) or not wanted(said, far):
            continue
        if not there and any((a := meant("part", w)) and a.name == back for w in far):
            continue
        said[word] = [m for m in members(said[word]) if m != other]
        far[there or back] = [*members(far[there]), own] if there else [own] if many else own
    for _, said, word in found:
        if word and said[word] == []:
            del said[word]


@operator
def disposer_in_the_sink(plan: Plan, pick: Pick) -> Plan:
    """`in: sink` of the disposer for `disposer:` of the sink."""
    _turn(plan, "disposer", "in", False, lambda one, other: kind_is(other, "disposer") and kind_is(one, "sink"))
    return plan


@operator
def sink_with_disposer(plan: Plan, pick: Pick) -> Plan:
    """And the other way round."""
    _turn(plan, "in", "disposer", False, lambda one, other: kind_is(one, "disposer") and kind_is(other, "sink"))
    return plan


@operator
def on_what_supports_it(plan: Plan, pick: Pick) -> Plan:
    """`on: [wall]` of the joists for `supports: [joists]` of the wall."""
    _turn(plan, "supports", "on", many=True)
    return plan


@operator
def supports_what_is_on_it(plan: Plan, pick: Pick) -> Plan:
    """And the other way round."""
    _turn(plan, "on", "supports", many=True)
    return plan


@operator
def against_from_the_other_side(plan: Plan, pick: Pick) -> Plan:
    """What meets a wall is met by it."""
    _turn(plan, "against", "against", many=True)
    return plan


@operator
def beside_from_the_other_side(plan: Plan, pick: Pick) -> Plan:
    """Neighbours are each other's."""
    for own, said in sorted(parts(plan).items()):
        word = key_of("part", said, "beside")
        for other in members(said[word]) if word else []:
            far = parts(plan)[other]
            there = key_of("part", far, "beside") or "beside"
            far[there] = list(dict.fromkeys([*members(far.get(there) or []), own]))
            far[there] = [m for m in far[there] if m]
    return plan


@operator
def hood_above_the_range(plan: Plan, pick: Pick) -> Plan:
    """`above: [range]` of the hood for `hood:` of the range."""
    _turn(plan, "hood", "above", many=True)
    return plan


@operator
def range_under_the_hood(plan: Plan, pick: Pick) -> Plan:
    """And the other way round."""
    _turn(plan, "above", "hood", False, lambda one, other: kind_is(one, "range hood") and kind_is(other, "appliance"))
    return plan
