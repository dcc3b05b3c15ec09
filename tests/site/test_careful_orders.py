"""Steps of forty careful plans of another hand that nobody would move stay; the plan next to it is still put right.

Source: forty careful plans whose author had read no rule (`authors/ordinary-4`), judged by hand (*common practice*).
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from test_judged_orders import needs, step


def one(kind: str, **more: Any) -> Any:
    """One thing, and what it is."""
    return lambda: {"thing": {"kind": kind, **more}}


def two(kind: str, base: str) -> Any:
    """A thing that sits in or on another."""
    return lambda: {"base": {"kind": base}, "thing": {"kind": kind, "in": "base"}}


def lid() -> dict[str, Any]:
    return {
        "base": {"kind": "toilet"},
        "old": {"kind": "fill valve", "in": "base", "stays": "no"},
        "new": {"kind": "fill valve", "in": "base", "new": "yes"},
    }


LADDER = step("ladder", "set up ladder", "thing", **{"with": ["stepladder"]})
BY_HAND, UP_THERE = step("low", "fill", "thing"), step("high", "paint", "thing", on_ladder="yes", work_height="8 ft")
HOSE = step("drips", "leak test", "thing", hold="10 min")
LOOK, FILL = step("look", "inspect", "thing"), step("fill", "caulk", "thing")
GROUT, WASH, RAKE = step("grout", "grout", "thing"), step("wash", "wash", "thing"), step("rake", "cut out", "thing")
SEAL, WET = step("bead", "caulk", "thing"), step("dull", "scuff", "thing", wet="yes")
DRY = step("dull", "scuff", "thing", by="hand")
FIT, WIPE = step("fit", "install", "thing"), step("wipe", "clean", "base")
OIL, RAGS, TRY = step("oil", "oil", "thing"), step("rags", "set out rags", "thing"), step("try", "test panel", "thing")
CAN = step("can", "set up", "thing", **{"with": ["metal can with lid"]})
TABLE = step("bench", "set up", "thing", **{"with": ["sawhorses"]})
EMPTY, COVER = step("clear", "empty", "thing"), step("cover", "protect", "thing")
SCREW, BAR = step("screw", "fasten", "thing"), step("bar", "mount", "thing")
OFF, OUT = step("off", "remove", "thing"), step("lift", "remove", "base")
LID, OLD, NEW = step("lid", "remove", "base"), step("out", "remove", "old"), step("in", "install", "new")
GONE = step("gone", "disconnect", "base")
JET, SCRAPE = step("jet", "pressure wash", "thing"), step("jet", "scrape", "thing")
LEFT = [
    ("ladder-then-used", one("wall"), [BY_HAND, LADDER, UP_THERE]),
    ("tight-then-tried", one("shower surround"), [LOOK, FILL, HOSE]),
    ("grouted-then-washed", one("tile floor"), [WASH, RAKE, GROUT]),
    ("dust-then-covered", one("wall"), [WET, SEAL, step("tidy", "clean", "thing")]),
    ("dust-then-covered", one("wall"), [step("wipe", "wash", "thing"), DRY, SEAL]),  # dirt comes off first
    ("base-clean-then-covered", two("trap", "sink"), [FIT, WIPE]),
    ("rags-after-oil", one("table"), [TRY, RAGS, OIL]),
    ("set-up-then-work", one("table"), [WASH, CAN, OIL]),
    ("emptied-then-covered", one("chest of drawers"), [COVER, EMPTY]),
    ("set-then-screwed", one("towel rail"), [SCREW, BAR]),
    ("off-before-what-bears-it", two("wax ring", "toilet"), [OUT, OFF]),
    ("off-before-what-bears-it", lid, [LID, OLD, NEW]),
    ("covered-then-messy", one("siding"), [JET, COVER]),
]
MOVED = [
    ("ladder-then-used", one("wall"), [BY_HAND, UP_THERE, LADDER]),
    ("ladder-then-used", one("wall"), [BY_HAND, LADDER]),
    ("tight-then-tried", one("shower surround"), [LOOK, HOSE]),
    ("grouted-then-washed", one("tile floor"), [WASH, GROUT]),
    ("dust-then-covered", one("wall"), [DRY, SEAL, step("tidy", "remove dust", "thing")]),
    ("base-clean-then-covered", two("sheet flooring", "subfloor"), [FIT, WIPE]),
    ("rags-after-oil", one("table"), [RAGS, OIL]),
    ("set-up-then-work", one("table"), [WASH, TABLE, OIL]),
    ("emptied-then-covered", one("base cabinets"), [COVER, EMPTY]),
    ("off-before-what-bears-it", two("faucet", "sink"), [OUT, OFF]),
    ("off-before-what-bears-it", lid, [LID, OLD, NEW, GONE]),
    ("covered-then-messy", one("siding"), [SCRAPE, COVER]),
]


@pytest.mark.parametrize(("order", "parts", "steps"), LEFT, ids=lambda v: v if isinstance(v, str) else "")
def test_a_careful_step_stays(order: str, parts: Any, steps: list[dict[str, Any]]) -> None:
    assert order not in needs(parts(), *steps)


@pytest.mark.parametrize(("order", "parts", "steps"), MOVED, ids=lambda v: v if isinstance(v, str) else "")
def test_the_plan_next_to_it_is_put_right(order: str, parts: Any, steps: list[dict[str, Any]]) -> None:
    assert order in needs(parts(), *steps)


def test_a_mat_under_the_new_floor_does_not_go_under_the_old_one() -> None:
    """What is laid with a mat is no cover against dust; a drop cloth is."""
    parts = {"floor": {"kind": "subfloor"}, "rug": {"kind": "wall"}}
    tear = step("tear", "demolish", "rug")
    mat = step("mat", "protect", "floor", using="felt")
    assert "covered-then-messy" in needs(parts, tear, step("mat", "protect", "floor"))
    assert "covered-then-messy" not in needs_with(parts, {"felt": {"kind": "sound mat"}}, tear, mat)


def test_what_was_mended_with_something_is_looked_at_afterwards() -> None:
    parts = {"thing": {"kind": "fence"}}
    filler = {"stuff": {"kind": "filler"}}
    mend = step("mend", "repair", "thing", using="stuff")
    assert "looked-at-then-mended" not in needs_with(parts, filler, mend, LOOK)
    assert "looked-at-then-mended" in needs(parts, step("mend", "repair", "thing"), LOOK)


def needs_with(parts: dict[str, Any], products: dict[str, Any], *steps: dict[str, Any]) -> set[str]:
    """As `needs`, of a plan with products."""
    import displacing

    placed = {name: {"room": "kitchen", **part} for name, part in parts.items()}
    rooms = {"kitchen": {"kind": "kitchen"}}
    plan = {"title": "orders", "house": {"built": "2003"}, "rooms": rooms, "parts": placed, "products": products}
    return {need for move in displacing.report_of({**plan, "steps": list(steps)}).moves for need in move.needs}
