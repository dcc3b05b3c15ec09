"""Needs that last through a step: in the calendar nothing comes between a state and what needs it, nor beside it."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parent))

import calendar_states
import displacing

import advisor.review.order.work_order as order_of_work
from advisor.rulebase.base import load_rulebase
from advisor.rulebase.model import State
from advisor.site.lasting import Lasting, lasting
from advisor.site.model import FIRM, Effect, Need, SimulatedSite

POWER = State("power", "part", ("live", "dead"), False, (), "")
KEY = ("power", "lamp")


def site(*steps: str) -> SimulatedSite:
    """Steps called off, on and work (any that ends in `work`): work needs the power dead."""
    made = SimulatedSite(list(steps), {"power": POWER}, effects=[[] for _ in steps], needs=[[] for _ in steps])
    for place, step in enumerate(steps):
        if step.startswith("off"):
            made.effects[place].append(Effect(place, KEY, "dead", "brings", (), "off"))
        elif step.startswith("on"):
            made.effects[place].append(Effect(place, KEY, "live", "puts_back", (), "on"))
        elif step.endswith("work"):
            made.needs[place].append(Need(place, ((KEY, frozenset({"dead"})),), (), "isolate", FIRM, ""))
    return made


def pairs(made: SimulatedSite) -> set[tuple[str, str]]:
    """The steps that stay in order."""
    return {(k.first, k.then) for k in lasting(made, made.order(), ()).kept}


def test_what_brings_a_state_what_needs_it_and_what_ends_it_stay_in_order() -> None:
    made = site("off", "work", "paint", "other-work", "on")

    assert pairs(made) == {("off", "work"), ("off", "other-work"), ("off", "on"), ("work", "on"), ("other-work", "on")}


def test_a_second_time_off_comes_after_the_first_time_on() -> None:
    """Else the second shut-off could slip before the switching on, and its work would find the power live."""
    made = site("off", "work", "on", "off-again", "late-work", "on-again")

    assert {("on", "off-again"), ("off-again", "late-work"), ("late-work", "on-again")} <= pairs(made)
    assert ("off", "late-work") not in pairs(made)


def test_a_need_that_does_not_hold_keeps_nothing() -> None:
    assert pairs(site("work", "off")) == set()


@pytest.mark.parametrize("path", displacing.CAREFUL, ids=lambda p: p.stem)
def test_every_need_holds_through_its_step_in_the_calendar_of_four_hands(path: Path) -> None:
    """Told by the times alone. Four hands do at once whatever the schedule allows."""
    assert calendar_states.broken(calendar_states.with_people(displacing.read(path), 4)) == []


def test_oily_rags_are_set_out_at_once_and_not_after_the_oil_is_dry() -> None:
    """Wet rags in a heap heat up within hours (common practice), so no wait of the oil counts for them."""
    at = calendar_states.times(displacing.careful("butcher-block-top")[1])

    assert at["rags-first"][0] == at["oil-first"][1]
    assert at["rags-away"][0] == at["oil-second"][1]


def test_without_what_lasts_the_calendar_of_a_careful_plan_breaks_a_need(monkeypatch: pytest.MonkeyPatch) -> None:
    """So the test above can fail: one takes the new disposer's plug out while the other is still switching off."""
    monkeypatch.setattr(order_of_work, "lasting", lambda *_: Lasting())
    plan = displacing.read(Path(__file__).parent / "careful" / "swap-disposer.yaml")

    found = calendar_states.broken(calendar_states.with_people(plan, 4))

    assert ("knock-plug", "power-off-then-opened") in found


def _closed_off(room: str) -> dict[str, tuple[int, int]]:
    """Old paint is scraped in the kitchen, with the room closed off first; somebody else sands a new shelf."""
    plan: dict[str, Any] = {
        "house": {"built": "1950", "occupied": "yes", "children_under_6": "1"},
        "rooms": {"kitchen": {"kind": "kitchen"}, "shop": {"kind": "workshop"}},
        "parts": {
            "trim": {"kind": "trim", "room": "kitchen", "coating": "oil paint", "installed": "1950"},
            "shelf": {"kind": "shelf", "room": room, "new": "yes", "material": "pine"},
        },
        "steps": [
            {"id": "away", "do": "evacuate", "in": "kitchen", "for": "10 min"},
            {"id": "shut", "do": "contain", "to": "trim", "in": "kitchen", "for": "1 h"},
            {"id": "scrape", "do": "scrape", "to": "trim", "for": "4 h"},
            {"id": "cut", "do": "cut", "to": "shelf", "for": "2 h"},
        ],
    }
    return calendar_states.times(calendar_states.with_people(plan, 4))


def test_nobody_works_beside_in_a_room_that_is_closed_off() -> None:
    assert "contain" in load_rulebase().vocabulary.members("action", "sends others away")
    here, elsewhere = _closed_off("kitchen"), _closed_off("shop")

    assert here["cut"][0] >= here["scrape"][1]
    assert elsewhere["cut"][0] < elsewhere["scrape"][1]
