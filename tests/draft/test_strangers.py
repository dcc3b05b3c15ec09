"""Plain sentences of strangers that were misheard once, by the cause; beside each a sentence that is no trap."""

from __future__ import annotations

from draft.heard import hear, steps


def test_a_room_word_before_a_thing_makes_the_room() -> None:
    """`off the kitchen cabinet doors`, `at the kitchen sink`: the thing is there, and in that room."""
    text = (
        "I want to strip the old paint off the kitchen cabinet doors. Then I put in a new faucet at the kitchen sink."
    )
    plan = hear(text).plan

    assert {room["kind"] for room in plan["rooms"].values()} == {"kitchen"}
    assert {part["kind"]: part["room"] for part in plan["parts"].values()} == {
        "cabinet doors": "kitchen",
        "faucet": "kitchen",
        "sink": "kitchen",
    }
    assert steps(text)[0] == ("strip", ["kitchen-cabinet-doors"])
    light = hear("Paint the bathroom ceiling and take down the bedroom light.").plan
    assert {part["kind"]: part["room"] for part in light["parts"].values()} == {
        "ceiling": "bathroom",
        "light": "bedroom",
    }


def test_what_something_comes_off_is_not_worked_on() -> None:
    """`take the handles off the cabinets`: the handles come off; a sink that only says where is made no part."""
    assert steps("Take the handles off the kitchen cabinets.") == [("remove", ["handles"])]
    assert [p["kind"] for p in hear("Put a new faucet at the sink.").plan["parts"].values()] == ["faucet"]
