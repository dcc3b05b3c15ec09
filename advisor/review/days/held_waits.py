"""Waits that hold for more than the waiting part (`rules/report/held_waits.yaml`): for what a joint is against, for
what is hung against a wet face, and for the first water in a room."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Any

from advisor.plan.model import Entity, Plan
from advisor.plan.said import action_of, words
from advisor.review.days.surfaces import KeptOff, kinds_of, rooms_of
from advisor.review.order.constraints import minutes
from advisor.rulebase.vocabulary import Vocabulary
from advisor.tables import rules_words, words_listed
from advisor.units import read_quantity


def held_waits(
    plan: Plan, steps: list[Entity], rest_after: Callable[[str], int], vocabulary: Vocabulary
) -> list[KeptOff]:
    """The pairs of steps with such a wait between them; `rest_after` is that of a step [min]."""
    found = [*_against(plan, steps, rest_after, vocabulary), *_before_water(plan, steps, rest_after, vocabulary)]
    return [one for one in found if one.lag]


def _against(
    plan: Plan, steps: list[Entity], rest_after: Callable[[str], int], vocabulary: Vocabulary
) -> list[KeptOff]:
    joints = _actions(vocabulary, _words()["joints"]["actions"], _words()["joints"]["but"])
    wetting, leaning = (vocabulary.members("action", name) for name in ("leaves a surface wet", "leans or hangs"))
    jointed: dict[str, str] = {}  # part to the last joint of what stands against it
    wet: dict[str, str] = {}  # part to the last step that leaves it wet
    found = []
    for step in steps:
        own = words(step, "to")
        around = [base for base in _bases(plan, own) if base not in own]
        found += [
            KeptOff(jointed[p], step.id, f"the joint against {p} sets", rest_after(jointed[p]))
            for p in own
            if p in jointed
        ]
        if action_of(step) in leaning:
            found += [KeptOff(wet[p], step.id, f"{p} behind it is wet", rest_after(wet[p])) for p in around if p in wet]
        if action_of(step) in joints:
            jointed |= dict.fromkeys(around, step.id)
        if action_of(step) in wetting:
            wet |= dict.fromkeys(own, step.id)
    return found


def _before_water(
    plan: Plan, steps: list[Entity], rest_after: Callable[[str], int], vocabulary: Vocabulary
) -> list[KeptOff]:
    said = _words()["water"]
    uses = vocabulary.members("action", *words_listed(said["actions"]))
    joints = _actions(vocabulary, said["of"], said["but"])
    wetting = vocabulary.members("action", "leaves a surface wet")
    wetted, reached = (vocabulary.members("part_kind", *words_listed(said[name])) for name in ("parts", "at"))
    cures = minutes(read_quantity(said["cures"], "time").si)
    wet: dict[str, list[tuple[str, int]]] = {}  # room to what is wet there, with how long it takes [min]
    found = []
    for step in steps:
        rooms, own = rooms_of(plan, step), words(step, "to")
        if action_of(step) in uses and (not own or kinds_of(plan, own) & wetted):
            found += [
                KeptOff(first, step.id, f"no water in {room} before it is dry", lag)
                for room in rooms
                for first, lag in wet.get(room, ())
            ]
        joint = action_of(step) in joints
        if joint and not kinds_of(plan, (*own, *_bases(plan, own))) & reached:
            continue
        if joint or action_of(step) in wetting:
            for room in rooms:
                wet.setdefault(room, []).append((step.id, max(rest_after(step.id), cures if joint else 0)))
    return found


def _bases(plan: Plan, parts: tuple[str, ...]) -> list[str]:
    """What these parts stand against."""
    known = plan.entities.get("part", {})
    return list(dict.fromkeys(base for part in parts if part in known for base in words(known[part], "against")))


def _actions(vocabulary: Vocabulary, listed: str, but: str) -> frozenset[str]:
    return frozenset(vocabulary.members("action", *words_listed(listed)) - set(words_listed(but)))


@lru_cache(maxsize=1)
def _words() -> dict[str, Any]:
    found: dict[str, Any] = rules_words("report/held_waits.yaml")
    return found
