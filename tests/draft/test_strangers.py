"""Plain sentences of strangers that were misheard once, by the cause; beside each a sentence that is no trap."""

from __future__ import annotations

from advisor.draft.writing import as_yaml
from draft.heard import fact, hear, steps, value


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


def doubts(text: str) -> dict[str, str]:
    """What stays unsure, by its words."""
    draft = hear(text)
    return {draft.words(one.span): one.why for one in draft.unsure}


def test_what_is_there_today_makes_room() -> None:
    """`where a light hangs now`: it is not put up again, it does not stay, and is asked about."""
    text = "I put up a ceiling fan in the bedroom where a light hangs now."

    assert steps(text) == [("install", ["ceiling-fan"])]
    assert fact(text, "part", "light", "stays") == "no"
    assert "what do you do with it?" in doubts(text)["light"]


def test_where_something_is_worked_on_is_no_thing_of_today() -> None:
    """`where the paint is peeling` tells of the wall; nothing goes."""
    text = "Paint the wall where the paint is peeling."

    assert fact(text, "part", "wall", "has") == ["loose paint"]
    assert fact(text, "part", "wall", "stays") == "yes"  # it is painted


def test_what_is_wanted_and_in_no_step_is_put_in() -> None:
    """`I want a bath fan: run a duct` wants it put in, which is marked as inferred; `I want the tub gone` does not."""
    text = "I want a bath fan: run a duct and cut a hole in the ceiling."
    assert steps(text)[-1] == ("install", ["bath-fan"])
    assert hear(text).board.steps[-1].facts["do"].note == "inferred"
    assert steps("I put in a bath fan and run a duct.") == [("install", ["bath-fan"]), ("install", ["duct"])]
    assert not any("what do you do with it?" in why for why in doubts("I want to put in a new bath fan.").values())
    gone = "Paint the wall. I want the tub gone."
    assert steps(gone) == [("paint", ["wall"])]
    assert "what do you do with it?" in doubts(gone)["tub"]
    assert steps("We need a new outlet in the garage.") == [("install", ["outlet"])]
    for text in (
        "We do not want a new light.",
        "We want new countertops someday.",
        "Do I want a shelf?",
        "I need a drill.",
    ):
        assert steps(text) == [], text


def test_a_flame_of_a_room() -> None:
    """A gas water heater with a pilot light is a flame where it stands; of a water heater alone nothing is known."""
    text = "Sand the living room floor. There is a gas water heater with a pilot light in the closet."
    closet = next(r for r in hear(text).plan["rooms"].values() if r["kind"] == "closet")

    assert closet["ignition_sources"] == ["gas water heater"]
    assert fact(text, "part", "water heater", "pilot") == "yes"
    assert "ignition_sources" not in str(hear("Replace the water heater in the basement.").plan)
    unknown = hear("Paint the den wall. I dont know if there are wires in it.").plan
    assert [part["kind"] for part in unknown["parts"].values()] == ["wall"]


def test_windows_that_stay_closed() -> None:
    """No air comes in; a window that opens is no closed room."""
    assert value("Sand the den floor. The windows stay closed.", "rooms", "den", "ventilation") == "closed"
    assert value("Sand the den floor. The windows are stuck.", "rooms", "den", "ventilation") is None


def test_the_age_of_a_child_is_no_year() -> None:
    """`a 3 year old` is a child; of `a 3 year old roof` nothing is known of children."""
    text = "Sand the door. We have a 3 year old."

    assert value(text, "house", "children_under_6") == "1"
    assert "in which year?" not in doubts(text).values()
    assert value("Patch the roof. It is a 3 year old roof.", "house", "children_under_6") is None


def test_a_work_without_its_thing_is_told_at_the_top() -> None:
    """The second line says it; where the thing is told nothing is said."""
    told = as_yaml(hear("I tile the wall behind the tub. I cut with an angle grinder."))

    assert told.splitlines()[1].startswith("# Step cut: it is not known to what")
    assert "not known to what" not in as_yaml(hear("I cut tile with an angle grinder."))
