"""The scorer itself: what it holds to be the same, and what not."""

from __future__ import annotations

from typing import Any

import pytest

from advisor.rulebase.base import load_rulebase
from benchmarks.draft.score import score


@pytest.mark.parametrize(("room", "right"), [("yard", 1), ("garage", 0)])
def test_outside_is_in_the_yard(room: str, right: int) -> None:
    """Rules read `outside: yes` and a room outdoors alike (rules/packs/permits-and-trades.yaml); no other room."""
    plan: dict[str, Any] = {
        "rooms": {room: {"kind": room}},
        "parts": {"fence": {"kind": "fence", "room": room}},
        "steps": [{"do": "paint", "to": "fence"}],
    }
    counts = score({"text": "we paint the fence", "plan": plan}, load_rulebase())

    assert counts["facts"] == 5  # kind of the room; kind and room of the fence; what is done, to what
    assert counts["right"] == 3 + right


@pytest.mark.parametrize(("kind", "offered"), [("ceiling fan", 1), ("dishwasher", 0)])
def test_a_kind_that_is_offered_makes_it_the_same_thing(kind: str, offered: int) -> None:
    """`the fan`: asked whether it is another kind; of a kind that nobody asks about it is another thing."""
    plan: dict[str, Any] = {"parts": {"it": {"kind": kind}}, "steps": [{"do": "clean", "to": "it"}]}
    counts = score({"text": "we clean the fan", "plan": plan}, load_rulebase())

    assert counts["facts"] == 3
    assert counts["offered"] == offered
    assert counts["right"] == (2 if offered else 1)  # the work, and to what
    assert counts["wrong"] == offered  # what is written is not it


@pytest.mark.parametrize(("do", "offered"), [("install", 2), ("caulk", 0)])
def test_a_step_that_is_offered_is_offered(do: str, offered: int) -> None:
    """Of a faucet that nothing is done with it is asked whether it is put in, and not whether it is caulked."""
    plan: dict[str, Any] = {
        "parts": {"sink": {"kind": "sink"}, "tap": {"kind": "faucet"}},
        "steps": [{"do": "clean", "to": "sink"}, {"do": do, "to": "tap"}],
    }
    counts = score({"text": "We clean the sink. The faucet is chrome.", "plan": plan}, load_rulebase())

    assert counts["facts"] == 6
    assert counts["right"] == 4  # two kinds, cleaning, the sink
    assert counts["offered"] == offered


@pytest.mark.parametrize(
    ("text", "plan", "offered"),
    [
        # a room that is asked about: its kind, and that the worktop is there
        (
            "We oil the worktop.",
            {"rooms": {"k": {"kind": "kitchen"}}, "parts": {"t": {"kind": "worktop", "room": "k"}}},
            2,
        ),
        (
            "We oil the worktop.",
            {"rooms": {"k": {"kind": "attic"}}, "parts": {"t": {"kind": "worktop", "room": "k"}}},
            0,
        ),
        # the product that a step is done with is offered with the step that uses it
        ("We oil the worktop.", {"parts": {"t": {"kind": "worktop"}}, "products": {"o": {"kind": "oil finish"}}}, 2),
        ("We oil the worktop.", {"parts": {"t": {"kind": "worktop"}}, "products": {"o": {"kind": "bleach"}}}, 0),
    ],
)
def test_a_thing_that_is_offered_is_offered(text: str, plan: dict[str, Any], offered: int) -> None:
    """What an answer would add with its kind; nothing of what nobody asks about."""
    used = {"using": "o"} if "products" in plan else {}
    counts = score({"text": text, "plan": {**plan, "steps": [{"do": "oil", "to": "t", **used}]}}, load_rulebase())

    assert counts["offered"] == offered


def test_an_old_one_that_is_offered_is_offered() -> None:
    """Kind and leaving of the old one, and the step that takes it out."""
    plan: dict[str, Any] = {
        "parts": {"old": {"kind": "faucet", "stays": "no"}, "tap": {"kind": "faucet", "new": "yes"}},
        "steps": [{"do": "remove", "to": "old"}, {"do": "install", "to": "tap"}],
    }
    counts = score({"text": "Install a new faucet.", "plan": plan}, load_rulebase())

    assert counts["offered"] == 4
    assert counts["right"] == counts["facts"] - 4
