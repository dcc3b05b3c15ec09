"""An offer that adds a step to the plan."""

from __future__ import annotations

import pytest

from advisor.review.asking.walk import Offered, Walk
from advisor.rulebase.base import load_rulebase
from advisor.site.hanging import CAUTION


@pytest.mark.parametrize(
    ("action", "order", "told"),
    [("install", ["clean", "install-tap"], "new"), ("remove", ["remove-tap", "clean"], "stays")],
)
def test_an_answer_may_add_a_step(action: str, order: list[str], told: str) -> None:
    """What nothing is done with: put in it is new and comes last, taken out it goes and comes first."""
    plan = "parts:\n  tap: {kind: faucet}\n  sink: {kind: sink}\nsteps:\n  - {id: clean, do: clean, to: sink}\n"
    ways = tuple((("step", f"{one}-tap", "do"), one) for one in ("install", "remove"))
    walk = Walk.begin(plan, "x", load_rulebase(), least=CAUTION, offers=(Offered("The faucet", ways),))

    assert walk.asked is not None
    assert [one.said for one in walk.asked.choices] == ["install the tap", "remove the tap"]
    after = walk.answer("1" if action == "install" else "2")

    assert [step.id for step in after.plan.steps] == order
    assert {"new", "stays"} & set(after.plan.entities["part"]["tap"].values) == {told}


def _after(plan: str, key: tuple[str, str, str], value: str) -> Walk:
    walk = Walk.begin(
        plan, "x", load_rulebase(), least=CAUTION, offers=(Offered("It", ((key, value),), "where is it?"),)
    )
    assert walk.asked is not None
    assert walk.asked.ask == "You said 'It'. Where is it?"
    return walk.answer("1")


def test_an_answer_may_add_a_room() -> None:
    """All parts of which no room is told are in it, but what is in no room at all."""
    plan = "parts:\n  tap: {kind: faucet}\n  wall: {kind: siding}\nsteps:\n  - {id: clean, do: clean, to: tap}\n"
    parts = _after(plan, ("room", "kitchen", "kind"), "kitchen").plan.entities

    assert list(parts["room"]) == ["kitchen"]
    assert parts["part"]["tap"].values["room"].plain == "kitchen"
    assert "room" not in parts["part"]["wall"].values


def test_an_answer_may_add_the_old_one() -> None:
    """Beside the new one, in its room; it goes, and comes out before the other work."""
    plan = "rooms:\n  bath: {kind: bathroom}\nparts:\n  tap: {kind: faucet, room: bath, new: yes}\n"
    plan += "steps:\n  - {id: install, do: install, to: tap}\n"
    after = _after(plan, ("step", "remove-old-faucet", "do"), "remove").plan

    old = after.entities["part"]["old-faucet"].values
    assert {name: value.text for name, value in old.items()} == {"kind": "faucet", "room": "bath", "stays": "no"}
    assert [step.id for step in after.steps] == ["remove-old-faucet", "install"]


def test_what_goes_back_is_not_new() -> None:
    """A baseboard that is put back is the one that was there."""
    plan = "parts:\n  base: {kind: baseboard}\nsteps:\n  - {id: off, do: remove, to: base}\n"
    after = _after(plan, ("step", "reinstall-base", "do"), "reinstall").plan

    assert [step.id for step in after.steps] == ["off", "reinstall-base"]
    assert "new" not in after.entities["part"]["base"].values
