"""Steps of careful plans that nobody would move stand where they are; the plan next to it is still put right.

Source: sixty careful plans of one hand, written before any rule was read (*common practice*).
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parent))

import displacing

PARTS: dict[str, dict[str, Any]] = {
    "pump": {"kind": "sump pump", "plug": "yes"},
    "outlet": {"kind": "GFCI outlet"},
    "bend": {"kind": "trap"},
    "screen": {"kind": "television"},
    "run": {"kind": "cabinets"},
    "cold": {"kind": "refrigerator"},
    "tank": {"kind": "toilet tank"},
    "roof": {"kind": "roof"},
    "leaf": {"kind": "closet door"},
    "knobs": {"kind": "pulls", "on": "leaf", "new": "yes"},
    "base": {"kind": "base cabinets"},
    "top": {"kind": "worktop", "on": "base", "new": "yes"},
}


def step(name: str, do: str, to: str, **more: Any) -> dict[str, Any]:
    """A step."""
    return {"id": name, "do": do, "to": to, **more}


def needs(*steps: dict[str, Any]) -> set[str]:
    """The orders for the sake of which something moved."""
    named = {one["to"] for one in steps}
    named |= {PARTS[name]["on"] for name in named if "on" in PARTS[name]}
    parts = {name: {"room": "kitchen", **PARTS[name]} for name in sorted(named)}
    rooms = {"kitchen": {"kind": "kitchen"}}
    plan = {"title": "orders", "house": {"built": "2003"}, "rooms": rooms, "parts": parts, "steps": list(steps)}
    return {need for move in displacing.report_of(plan).moves for need in move.needs}


LEFT = [
    (
        "tested-when-live",
        [
            step("try", "test circuit", "outlet"),
            step("off", "shut off power", "outlet"),
            step("on", "restore power", "outlet"),
        ],
    ),
    ("tested-when-live", [step("try", "test circuit", "outlet"), step("in", "plug in", "pump")]),
    (
        "tight-then-tried",
        [
            step("look", "inspect", "bend"),
            step("off", "unfasten", "bend"),
            step("on", "reinstall", "bend"),
            step("drip", "leak test", "bend", hold="20 min"),
        ],
    ),
    ("set-then-screwed", [step("bracket", "fasten", "screen"), step("lift", "hang", "screen")]),
    ("unplugged-then-out", [step("roll", "move appliance", "cold", people=2), step("out", "unplug", "cold")]),
    ("looked-at-then-mended", [step("mend", "repair", "tank"), step("drip", "leak test", "tank", hold="20 min")]),
    (
        "looked-at-then-mended",
        [step("mend", "repair", "roof", who="roofer"), step("look", "inspect", "roof", who="roofer")],
    ),
    (
        "set on what is in place",
        [step("off", "remove", "leaf"), step("knob", "install", "knobs"), step("on", "hang", "leaf")],
    ),
    (
        "joined-run-then-top",
        [step("off", "remove", "leaf"), step("knob", "install", "knobs"), step("on", "hang", "leaf")],
    ),
]
MOVED = [
    ("tested-when-live", [step("try", "test circuit", "outlet"), step("on", "restore power", "outlet")]),
    ("tight-then-tried", [step("look", "inspect", "bend"), step("drip", "leak test", "bend", hold="20 min")]),
    ("set-then-screwed", [step("screw", "fasten", "run"), step("set", "set", "run")]),
    ("unplugged-then-out", [step("away", "remove", "cold", people=2), step("out", "unplug", "cold")]),
    ("looked-at-then-mended", [step("mend", "repair", "tank"), step("look", "inspect", "tank")]),
    ("set on what is in place", [step("lay", "install", "top"), step("stand", "install", "base")]),
]


@pytest.mark.parametrize(("order", "steps"), LEFT, ids=lambda v: v if isinstance(v, str) else "")
def test_a_careful_step_stays(order: str, steps: list[dict[str, Any]]) -> None:
    assert order not in needs(*steps)


@pytest.mark.parametrize(("order", "steps"), MOVED, ids=lambda v: v if isinstance(v, str) else "")
def test_the_plan_next_to_it_is_put_right(order: str, steps: list[dict[str, Any]]) -> None:
    assert order in needs(*steps)
