"""Orders that an independent judge asked for: each moves a plan that has it wrong, and leaves its near miss alone.

Source: the judge, a remodeller who had not seen the rules (*common practice*). Lock, then prove dead: 29 CFR
1910.147(d) lists the steps in a fixed sequence, (4) the lock before (6) the check that the energy is off.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parent))

import displacing

ROOMS = {"kitchen": {"kind": "kitchen"}}


def step(name: str, do: str, to: str, **more: Any) -> dict[str, Any]:
    """A step."""
    return {"id": name, "do": do, "to": to, **more}


def needs(parts: dict[str, Any], *steps: dict[str, Any]) -> set[str]:
    """The orders for the sake of which something moved."""
    for part in parts.values():
        part.setdefault("room", "kitchen")
    plan = {"title": "orders", "house": {"built": "2003"}, "rooms": ROOMS, "parts": parts, "steps": list(steps)}
    return {str(need) for move in displacing.report_of(plan).moves for need in move["needs"]}


def circuit() -> dict[str, Any]:
    return {"feed": {"kind": "circuit"}}


def floor() -> dict[str, Any]:
    return {"boards": {"kind": "wood floor"}}


def door() -> dict[str, Any]:
    return {"leaf": {"kind": "door", "new": "yes"}}


def doors() -> dict[str, Any]:
    return {"leaf": {"kind": "door", "new": "yes"}, "old": {"kind": "door", "stays": "no"}}


def top() -> dict[str, Any]:
    return {"top": {"kind": "butcher block"}}


PERMIT = step("paper", "get permit", "feed", permit=["electrical"])
OFF = step("off", "shut off power", "feed")
LOCK = step("lock", "lock and tag", "feed")
PROVE = step("prove", "prove dead", "feed")
SETTLE = step("settle", "acclimatize", "leaf", wait="3 day")
OUT = step("out", "remove", "old")
MARK = step("mark", "lay out", "leaf")
PLANE = step("plane", "plane", "leaf")
GAINS = step("gains", "chip", "leaf")
FILL = step("fill", "fill", "boards")
SEAL = step("seal", "seal edges", "top")
SAND = step("sand", "sand", "top", grit="120")

# the order that moves, and the parts and steps that it moves
MOVED = [
    ("permit-then-shut-off", circuit, [OFF, PERMIT]),
    ("permit-then-shut-off", circuit, [LOCK, PERMIT]),
    ("tagged-then-proved-dead", circuit, [OFF, PROVE, LOCK]),
    ("used-to-the-room-then-marked", door, [MARK, SETTLE]),
    ("used-to-the-room-then-marked", door, [step("size", "measure", "leaf"), SETTLE]),
    ("door-settled-before-old-off", doors, [OUT, SETTLE]),
    ("planed-then-cut-in", door, [GAINS, PLANE]),
    ("planed-then-cut-in", door, [step("try", "dry-fit", "leaf"), PLANE]),
    ("coarse-sanded-then-filled", floor, [FILL, step("rough", "sand", "boards", grit="36")]),
    ("coarse-list-then-filled", floor, [FILL, step("rough", "sand", "boards", grits=["36", "60"])]),
    ("sanded-then-edges-sealed", top, [SEAL, SAND]),
]
# the order that must not move these
LEFT = [
    ("permit-then-shut-off", circuit, [PERMIT, OFF, LOCK, PROVE]),
    ("permit-then-shut-off", circuit, [OFF, step("seen", "get inspected", "feed")]),
    ("tagged-then-proved-dead", circuit, [OFF, LOCK, PROVE]),
    ("tagged-then-proved-dead", circuit, [OFF, LOCK, PROVE, step("again", "prove dead", "feed")]),
    ("used-to-the-room-then-marked", door, [step("meter", "measure moisture", "leaf"), SETTLE]),
    ("door-settled-before-old-off", doors, [step("knob", "remove hardware", "old"), SETTLE]),
    ("planed-then-cut-in", door, [PLANE, GAINS]),
    ("planed-then-cut-in", top, [step("bore", "drill", "top"), step("flat", "plane", "top")]),
    ("coarse-sanded-then-filled", floor, [FILL, step("fine", "sand", "boards", grit="100")]),
    ("coarse-list-then-filled", floor, [FILL, step("fine", "sand", "boards", grits=["80", "100"])]),
    ("sanded-then-edges-sealed", top, [SEAL, step("flat", "sand between coats", "top", grit="320")]),
]


@pytest.mark.parametrize(("order", "parts", "steps"), MOVED, ids=lambda v: v if isinstance(v, str) else "")
def test_the_plan_is_put_right(order: str, parts: Any, steps: list[dict[str, Any]]) -> None:
    assert order in needs(parts(), *steps)


@pytest.mark.parametrize(("order", "parts", "steps"), LEFT, ids=lambda v: v if isinstance(v, str) else "")
def test_the_near_miss_is_left_alone(order: str, parts: Any, steps: list[dict[str, Any]]) -> None:
    assert order not in needs(parts(), *steps)
