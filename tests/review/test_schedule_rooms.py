"""The schedule in rooms: fixed work keeps its order there, loose pieces fill the waits."""

from __future__ import annotations

from typing import Any

import pytest
from review.test_schedule import rows, worked

BATH = {
    "wall": {"kind": "wall", "room": "bath"},
    "board": {"kind": "backer board", "room": "bath"},
    "splash": {"kind": "tile work", "room": "bath"},
    "door": {"kind": "cabinet doors", "room": "bath"},
    "lamp": {"kind": "light", "room": "hall"},
    "panel": {"kind": "panel", "room": "cellar"},
}
BATH_ROOMS = {"bath": {"kind": "bathroom"}, "hall": {"kind": "hallway"}, "cellar": {"kind": "basement"}}


def _starts(steps: list[dict[str, Any]], **rest: Any) -> list[str]:
    found = rows(worked(steps, parts=BATH, rooms=BATH_ROOMS, **rest))
    return [r.step for r in sorted(found, key=lambda r: (r.begins.day, r.begins.time))]


def test_fixed_work_in_a_room_keeps_its_order_and_loose_pieces_fill_the_waits() -> None:
    """By hand: nothing links framing, board and tile but the room; the door fits into the day that the tile sets.

    Without the room's order the long wait would be started first: tile, and then the frame behind it.
    """
    steps = [
        {"id": "frame", "do": "assemble", "to": "wall", "for": "8 h"},
        {"id": "hang", "do": "install", "to": "board", "for": "4 h"},
        {"id": "tile", "do": "tile", "to": "splash", "for": "4 h", "wait": "24 h"},
        {"id": "grout", "do": "grout", "to": "splash", "for": "2 h"},
        {"id": "door", "do": "adjust", "to": "door", "for": "2 h"},
    ]

    assert _starts(steps) == ["frame", "hang", "tile", "door", "grout"]


@pytest.mark.parametrize("guard", ["shut off power", "get inspected"])
def test_what_makes_safe_or_inspects_keeps_its_place_among_the_fixed_work_of_all_rooms(guard: str) -> None:
    steps = [
        {"id": "open", "do": "open wall", "to": "wall", "for": "2 h"},
        {"id": "guard", "do": guard, "to": "panel", "for": "1 h"},
        {"id": "light", "do": "replace", "to": "lamp", "for": "2 h", "wait": "48 h"},
        {"id": "back", "do": "restore power", "to": "panel", "for": "1 h"},
    ]

    assert _starts(steps) == ["open", "guard", "light", "back"]


def test_rags_are_set_out_at_once_and_the_next_coat_still_waits() -> None:
    """By hand: coat 8 to 9, rags 9 to 10, and the second product 24 h after the coat, not after the rags."""
    steps = [
        {"id": "oil", "do": "oil", "to": "splash", "for": "1 h", "wait": "24 h"},
        {"id": "rags", "do": "set out rags", "for": "1 h"},
        {"id": "wax", "do": "wax", "to": "splash", "for": "1 h"},
    ]
    found = [(r.step, r.begins.day, r.begins.time) for r in rows(worked(steps, parts=BATH, rooms=BATH_ROOMS))]

    assert found == [("oil", 1, "08:00"), ("rags", 1, "09:00"), ("wax", 2, "09:00")]
