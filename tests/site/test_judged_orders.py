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
    return {need for move in displacing.report_of(plan).moves for need in move.needs}


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


def wall() -> dict[str, Any]:
    """A wall with a pipe in it."""
    return {"wall": {"kind": "exterior wall"}, "pipe": {"kind": "water line", "in": "wall"}}


def room() -> dict[str, Any]:
    """Walls, and a pipe of which nobody said where it runs; what may cover or frame them."""
    return {
        "wall": {"kind": "exterior wall"}, "far": {"kind": "wall"}, "pipe": {"kind": "water line"},
        "fill": {"kind": "wall insulation"}, "sheet": {"kind": "vapor retarder"}, "board": {"kind": "drywall"},
        "panels": {"kind": "paneling", "on": "wall"}, "backer": {"kind": "backer board"}, "studs": {"kind": "stud"},
    }  # fmt: skip


def soffit() -> dict[str, Any]:
    return {"box": {"kind": "soffit"}, "duct": {"kind": "duct", "in": "box"}}


def tubes() -> dict[str, Any]:
    return {"tubes": {"kind": "floor heating"}, "tiles": {"kind": "tile floor"}, "old": {"kind": "carpet"}}


def light() -> dict[str, Any]:
    return {
        "feed": {"kind": "circuit"}, "lamp": {"kind": "light", "circuit": "feed"},
        "globe": {"kind": "hardware", "in": "lamp"}, "catch": {"kind": "hardware"},
    }  # fmt: skip


def sink() -> dict[str, Any]:
    return {"sink": {"kind": "sink"}, "tap": {"kind": "faucet", "in": "sink"}}


def toilet() -> dict[str, Any]:
    return {"new": {"kind": "toilet", "new": "yes"}, "waste": {"kind": "drain"}, "rag": {"kind": "hardware"}}


def cellar() -> dict[str, Any]:
    return {"masonry": {"kind": "brickwork"}, "frame": {"kind": "wall", "against": ["masonry"]}}


CLOSE = step("close", "close wall", "wall")
RUN = step("run", "run pipe", "pipe")
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
# Closed behind what runs in it: nobody joins, tests or sees a pipe that a board covers. A plumber's plan had the wall
# closed first, as if it were the frame that stands before pipes run in it.
MOVED += [
    ("run-then-closed", wall, [CLOSE, RUN]),
    ("run-then-closed", wall, [CLOSE, step("put", "install", "pipe")]),
    ("run-then-closed", wall, [RUN, CLOSE, step("tight", "leak test", "pipe")]),
    (
        "run-then-faced",
        lambda: wall() | {"panels": {"kind": "paneling", "on": "wall"}},
        [step("clad", "install", "panels"), RUN],
    ),
    ("run-somewhere-then-closed", room, [CLOSE, RUN]),
    ("run-somewhere-then-closed", room, [CLOSE, step("stuff", "insulate", "fill")]),
    ("roughed-in-then-boarded", room, [step("clad", "install", "panels"), RUN]),
    ("roughed-in-then-boarded", room, [step("back", "fasten", "backer"), RUN]),
    ("roughed-in-then-boarded", room, [step("cover", "install", "sheet"), RUN]),
    ("insulated-then-sheeted", room, [step("cover", "install", "sheet"), step("stuff", "insulate", "fill")]),
    ("sheet-then-boarded", room, [step("face", "hang drywall", "board"), step("cover", "install", "sheet")]),
    ("run-then-closed", soffit, [step("shut", "close wall", "box"), step("vent", "install", "duct")]),
    ("heating-then-floor", tubes, [step("lay", "tile", "tiles"), step("warm", "install", "tubes")]),
    (
        "heating-then-floor",
        tubes,
        [step("warm", "install", "tubes"), step("lay", "tile", "tiles"), step("try", "leak test", "tubes")],
    ),
    ("frame-then-cable", room, [RUN, step("stand", "fasten", "studs")]),
    ("cable-then-plates", room, [step("guard", "nail plate", "pipe"), RUN]),
    ("filled-then-seen", room, [step("seen", "get inspected", "fill"), step("stuff", "insulate", "fill")]),
    ("globe-off-then-tested", light, [OFF, step("prove", "prove dead", "lamp"), step("bare", "remove", "globe")]),
    ("emptied-then-covered", sink, [step("tray", "protect", "sink"), step("clear", "empty", "sink")]),
    (
        "drain-open-then-set",
        toilet,
        [step("plug", "cap", "waste"), step("set", "set", "new"), step("free", "remove", "rag")],
    ),
    (
        "damp-then-built-against",
        cellar,
        [step("build", "assemble", "frame"), step("meter", "measure moisture", "masonry")],
    ),
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
    ("run-then-closed", wall, [RUN, CLOSE]),
    ("roughed-in-then-insulated", lambda: wall() | {"far": {"kind": "wall"}}, [step("shut", "close wall", "far"), RUN]),
    ("run-then-closed", wall, [CLOSE, step("join", "fit off", "pipe")]),
    ("run-somewhere-then-closed", wall, [step("patch", "close wall", "wall"), step("seen", "get inspected", "wall")]),
    ("frame-then-cable", room, [RUN, step("hook", "fasten", "wall")]),
    ("frame-then-cable", room, [RUN, CLOSE]),
    ("wall-stood-then-cable", room, [RUN, step("hook", "fasten", "far")]),
    ("roughed-in-then-boarded", room, [step("off", "remove", "panels"), RUN]),
    (
        "heating-then-floor",
        tubes,
        [
            step("warm", "install", "tubes"),
            step("try", "leak test", "tubes"),
            step("lay", "tile", "tiles"),
            step("again", "leak test", "tubes"),
        ],
    ),
    ("heating-then-floor", tubes, [step("out", "remove", "old"), step("warm", "install", "tubes")]),
    ("globe-off-then-tested", light, [OFF, step("prove", "prove dead", "lamp"), step("bare", "remove", "catch")]),
    ("emptied-then-covered", sink, [step("tray", "protect", "sink"), step("tip", "empty", "tap")]),
    ("drain-open-then-set", toilet, [step("set", "set", "new"), step("free", "remove", "rag")]),
    (
        "damp-then-built-against",
        cellar,
        [step("meter", "measure moisture", "frame"), step("build", "assemble", "frame")],
    ),
    ("sanded-then-edges-sealed", top, [SEAL, step("flat", "sand between coats", "top", grit="320")]),
]


@pytest.mark.parametrize(("order", "parts", "steps"), MOVED, ids=lambda v: v if isinstance(v, str) else "")
def test_the_plan_is_put_right(order: str, parts: Any, steps: list[dict[str, Any]]) -> None:
    assert order in needs(parts(), *steps)


@pytest.mark.parametrize(("order", "parts", "steps"), LEFT, ids=lambda v: v if isinstance(v, str) else "")
def test_the_near_miss_is_left_alone(order: str, parts: Any, steps: list[dict[str, Any]]) -> None:
    assert order not in needs(parts(), *steps)


# Careful plans with a step displaced, and what the judges said of the order that mended them: which step stands before
# which. Each was minded at first (or mildly so), in the second set of forty, the last in the first set.
SAID = [
    ("bath-vanity: cover-floor to_after sand-wall", ["cover-floor", "undo"]),
    ("swap-faucet: clear-under to_after undo", ["clear-under", "lay-tray", "water-off", "bleed"]),
    ("swap-faucet: clear-under to_after undo", ["clear-under", "find-main"]),
    ("closet-shelves: prime-shelves to_after paint-two", ["prime-shelves", "flat-primer", "paint-two", "harden"]),
    ("closet-shelves: prime-shelves to_after paint-two", ["harden", "hang-shelves"]),
    ("sand-wood-floor: fill-gaps to_after coat-one", ["fill-gaps", "fine-pass", "coat-one", "dry-one", "screen-one"]),
    ("ceiling-light: globe-off to_after undo-wires", ["globe-off", "test-dead", "undo-wires"]),
    ("sand-wood-floor: harden to_after move-in", ["coat-three", "harden", "shoe-on", "move-in"]),
    (
        "butcher-block-top: oil-second to_after look-drips",
        ["oil-dry", "oil-second", "rags-away", "oil-hard", "set-top"],
    ),
    ("window-sashes: cover-floor to_after scrape-loose", ["cover-floor", "sashes-out"]),
    ("window-sashes: wash-sashes to_after prime-bare", ["wash-sashes", "scrape-loose"]),
    ("floating-floor: move-back to_before skirting-on", ["skirting-on", "look-door", "move-back"]),
    (
        "sand-wood-floor: coat-one to_before fine-pass",
        ["fine-pass", "vacuum-floor", "tack-floor", "coat-one", "dry-one"],
    ),
    ("replace-toilet: set-new to_before lift-old", ["lift-old", "unplug-waste", "set-new"]),
    ("deck-boards: stain-deck to_before let-dry", ["let-dry", "read-meter", "wash-deck", "stain-deck", "open-deck"]),
    ("deck-boards: let-dry to_after stain-deck", ["screw-boards", "let-dry", "read-meter", "wash-deck", "stain-deck"]),
]


@pytest.fixture(scope="module")
def mended() -> dict[str, Any]:
    """The reports of the judged plans."""
    known = {one.key: one for one in displacing.displaced()}
    return {key: displacing.report_of(displacing.with_step_moved(known[key])) for key in {key for key, _ in SAID}}


@pytest.mark.parametrize(("key", "order"), SAID, ids=lambda v: v if isinstance(v, str) else "")
def test_the_order_is_as_the_judge_would_have_it(key: str, order: list[str], mended: dict[str, Any]) -> None:
    report = mended[key]

    assert [row.step for row in report.order if row.step in order] == order
    assert report.given_up == []


def test_a_wall_is_closed_behind_the_pipe_that_runs_in_it() -> None:
    """A plumber's probe: the closing of the wall was moved before the pipe, as if it were framing."""
    plan = displacing.read(Path(__file__).parent.parent / "scenarios" / "probes" / "plumber" / "24.yaml")
    report = displacing.report_of(plan)
    late = displacing.report_of({**plan, "steps": plan["steps"][::-1]})

    assert report.moves == []
    assert [row.step for row in report.order] == ["run", "shut"]
    assert [row.step for row in late.order] == ["run", "shut"]
