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
