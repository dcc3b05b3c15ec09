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


def test_the_object_of_a_cut() -> None:
    """`I cut tile dry with an angle grinder`: the tile, dry, by that tool, and no second step."""
    text = "I tile the bathroom wall. I cut tile dry with an angle grinder in the bathroom."
    cut = next(step for step in hear(text).plan["steps"] if step["do"] == "cut")

    assert [do for do, _ in steps(text)] == ["tile", "cut"]
    assert (cut["to"], cut["with"], cut["wet"]) == (["tile"], ["angle grinder"], "no")


def test_wet_and_dry_are_how_or_when() -> None:
    """`cut the tile wet` is how; `sand it when dry` is when; `measure, cut, tile the wall` cuts no wall."""
    (wet,) = hear("Cut the tile wet with a tile saw.").plan["steps"]
    (when,) = hear("Sand the wall when dry.").plan["steps"]

    assert wet["wet"] == "yes"
    assert "wet" not in when
    assert dict(steps("Measure, cut, tile the wall."))["cut"] == []
    assert dict(steps("Cut a hole in the wall and patch it."))["cut out"] == ["wall"]


def test_a_room_at_the_head_of_a_clause_holds() -> None:
    """`in the upstairs bathroom I want a bath fan: cut a hole in the ceiling` is the ceiling of the bathroom."""
    text = (
        "I put up a ceiling fan in the bedroom, and in the upstairs bathroom I want a bath fan:"
        " cut a hole in the ceiling, run a duct and cut a hole through the roof."
    )
    plan = hear(text).plan

    assert plan["parts"]["ceiling"]["room"] == plan["parts"]["duct"]["room"] == "bathroom"
    assert "room" not in plan["parts"]["roof"]
    assert ("install", ["duct"]) in steps(text)
    two = hear("I paint the bedroom ceiling. In the bathroom I patch the ceiling.").plan["parts"]
    assert [part["room"] for part in two.values()] == ["bedroom", "bathroom"]


def test_where_something_is_done_moves_nothing() -> None:
    """`I sand it in the garage`: the wall that follows is still in the bedroom."""
    parts = hear("I paint the bedroom door. I sand it in the garage. I fill the wall.").plan["parts"]

    assert {part["room"] for part in parts.values()} == {"bedroom"}
