"""What is left out and matters is asked for; with what answers it the practice is open no more."""

from __future__ import annotations

import copy
from pathlib import Path
from typing import Any

import pytest
import yaml
from completions import Plain
from deletions import deletions, named
from lifted import lifted
from test_promises import by_name, judged

from advisor.plan import make_facts, read_plan
from advisor.rulebase.base import load_rulebase
from advisor.site.standing import Practice, standing, unknowns

ROWS = yaml.load((Path(__file__).parent / "left_out.yaml").read_text(encoding="utf-8"), Loader=Plain)


def _open(plan: dict[str, Any], rule: str, step: str) -> list[Practice]:
    """The practice at that step where it is open; it must not speak, or there would be nothing to ask."""
    rulebase = load_rulebase()
    read = read_plan(copy.deepcopy(plan), rulebase.vocabulary)
    found = standing(read, make_facts(read, rulebase.vocabulary), rulebase)
    assert (rule, step) not in found.spoken
    return [one for one in found.open if (one.rule.id, one.step) == (rule, step)]


def _changed(plan: dict[str, Any], paths: dict[str, Any]) -> dict[str, Any]:
    made = copy.deepcopy(plan)
    for path, value in paths.items():
        section, own, *name = path.split(".")
        if section == "steps":
            target = next(step for step in made["steps"] if step["id"] == own)
        else:
            target = made.setdefault(section, {})
            if name:
                target = target[own]
        target[name[0] if name else own] = value
    return made


@pytest.mark.parametrize("row", ROWS, ids=[row["name"] for row in ROWS])
def test_what_is_left_out_is_asked(row: dict[str, Any]) -> None:
    practices = _open(row["plan"], *row["open"])
    assert len(practices) == 1
    assert tuple(row["asks"]) in unknowns(practices[0].ways)


@pytest.mark.parametrize("row", ROWS, ids=[row["name"] for row in ROWS])
def test_what_answers_it_closes_it(row: dict[str, Any]) -> None:
    assert _open(_changed(row["plan"], row["quiet"]), *row["open"]) == []


PLAN = {
    "parts": {"pit": {"kind": "junction box"}, "lamp": {"kind": "light", "room": "den"}},
    "rooms": {"den": {"kind": "living room"}},
    "house": {"occupied": "yes"},
    "steps": [
        {"id": "off", "do": "shut off power", "to": "lamp"},
        {"id": "pull", "do": "unplug", "to": "lamp"},
        {"id": "swap", "do": "replace", "to": "pit"},
    ],
}


def _lost(plan: dict[str, Any], rule: str, step: str, what: str) -> list[bool]:
    """Of each finding that goes with what is taken out, whether that had lifted an exemption."""
    words = load_rulebase().vocabulary
    whole = named(plan, words)
    before = judged(whole)
    gone = next(one for one in deletions(whole, words) if str(one) == what)
    after = judged(gone.plan)
    assert (rule, step) not in by_name(after)
    return [lifted(one, gone, before.memory, after.memory) for one in by_name(before)[rule, step]]


def test_a_step_that_had_lifted_an_exemption_is_told_from_one_that_had_not() -> None:
    """What is unplugged needs no lock on its breaker, unless wires are touched too."""
    assert _lost(PLAN, "lock-breaker-off", "off", "step.swap") == [True]
    # nothing else is exempt: the step that is warned of went itself
    assert _lost(PLAN, "isolate-power", "swap", "step.swap") == [False]


def test_a_thing_may_lift_an_exemption_of_what_was_deduced() -> None:
    """A dial of 24 V is harmless, unless a heater of the house's voltage hangs in the same room."""
    dial = {
        "rooms": {"den": {"kind": "living room"}},
        "parts": {
            "dial": {"kind": "thermostat", "room": "den", "voltage": "24 V"},
            "heat": {"kind": "electric baseboard heater", "room": "den", "voltage": "240 V"},
        },
        "steps": [{"id": "swap", "do": "replace", "to": "dial"}],
    }
    assert _lost(dial, "power-shutoff-known", "swap", "part.heat") == [True]
