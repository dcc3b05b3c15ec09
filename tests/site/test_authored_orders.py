"""Orders as the author of forty careful plans has them, who had read no rule (common practice)."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from test_judged_orders import OFF, needs, step


# Ten of the forty came in a worse order than they were written in.
def two(kind: str, new: str = "") -> Any:
    """An old thing on a circuit, and the new one in its place."""
    return lambda: {
        "feed": {"kind": "circuit"},
        "old": {"kind": kind, "circuit": "feed", "stays": "no", "plug": "plug"},
        "new": {"kind": new or kind, "circuit": "feed", "new": "yes", "plug": "plug"},
    }


def wired(kind: str) -> Any:
    """A device on the wires of the house."""
    return lambda: {"feed": {"kind": "circuit"}, "device": {"kind": kind, "circuit": "feed"}}


def one(kind: str) -> Any:
    return lambda: {"thing": {"kind": kind}}


ON = step("on", "restore power", "feed")
UNPLUG = step("apart", "unplug", "old")
PLUG = step("plug-on", "plug in", "new")
JOIN, HANG = step("join", "wire", "device"), step("up", "mount", "device")
SNAP, COVER = step("snap", "photograph", "device"), step("cover", "remove", "device")
LOOSE = step("loose", "disconnect", "device")
DRAIN, BEAD_OFF = step("empty", "drain", "thing"), step("knife", "cut caulk", "thing")
SHUT, SIZE = step("plug", "cap", "thing"), step("size", "measure", "thing")
TIGHT, SHAVE = step("tight", "fasten", "thing"), step("shave", "plane", "thing")
UP, SCREW = step("up", "mount", "thing"), step("screw", "fasten", "thing")
LAG, DRIPS = step("lag", "insulate", "thing"), step("drips", "leak test", "thing")
MOVED = [
    ("set-then-connected", wired("water heater"), [JOIN, HANG]),
    ("photograph-then-part", wired("light"), [COVER, SNAP]),
    ("photograph-then-wires-off", wired("thermostat"), [LOOSE, SNAP]),
    ("unhooked-then-out", wired("water heater"), [COVER, LOOSE]),
    ("drained-then-unhooked", one("bathtub"), [step("out", "remove", "thing"), DRAIN]),
    ("drain-capped-then-cleaned", one("drain"), [step("scrape", "clean", "thing"), SHUT]),
    ("door-made-then-hung", one("door"), [step("hang", "hang", "thing"), SHAVE]),
    ("made-then-fitted", one("trim"), [TIGHT, SHAVE]),
    ("set-then-screwed", one("wall cabinets"), [SCREW, UP]),
    ("joined-then-filled", one("water line"), [DRIPS, step("sweat", "solder", "thing")]),
    ("power-back-on", two("disposer"), [ON, OFF, UNPLUG]),
]
LEFT = [
    ("power-back-on", two("disposer"), [OFF, UNPLUG, PLUG, ON]),
    ("power-back-on", two("dishwasher"), [OFF, UNPLUG, step("slide", "remove", "old"), PLUG, ON]),
    ("set-then-connected", wired("ceiling fan"), [JOIN, HANG]),
    ("set-then-connected", wired("GFCI outlet"), [JOIN, HANG]),
    ("photograph-then-part", wired("thermostat"), [COVER, SNAP, LOOSE]),
    ("unhooked-then-out", wired("thermostat"), [COVER, LOOSE]),
    ("drained-then-unhooked", one("bathtub"), [BEAD_OFF, step("bead", "caulk", "thing"), DRAIN]),
    ("drain-capped-then-cleaned", one("drain"), [SIZE, SHUT]),
    ("door-made-then-hung", one("door"), [TIGHT, SHAVE]),
    ("set-then-screwed", one("shelf"), [SCREW, UP]),
    ("joined-then-filled", one("water line"), [DRIPS, LAG]),
]


@pytest.mark.parametrize(("order", "parts", "steps"), MOVED, ids=lambda v: v if isinstance(v, str) else "")
def test_the_plan_is_put_right(order: str, parts: Any, steps: list[dict[str, Any]]) -> None:
    assert order in needs(parts(), *steps)


@pytest.mark.parametrize(("order", "parts", "steps"), LEFT, ids=lambda v: v if isinstance(v, str) else "")
def test_the_near_miss_is_left_alone(order: str, parts: Any, steps: list[dict[str, Any]]) -> None:
    assert order not in needs(parts(), *steps)
