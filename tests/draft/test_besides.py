"""What is asked of what a text leaves out, and what is not asked because no person would."""

from __future__ import annotations

import pytest

from advisor.draft.asking import MOST_ASKED
from tests.draft.heard import hear


def choices(text: str, why: str) -> list[tuple[str, str]]:
    """The choices of the questions with that why: where it would be written, and what."""
    return [(c.path(), c.value) for one in hear(text).unsure if one.why == why for c in one.candidates]


@pytest.mark.parametrize(
    ("text", "rooms"),
    [
        ("We oil the worktop.", ["kitchen", "bathroom", "laundry"]),
        ("We oil the worktop in the laundry.", []),  # told
        ("We cut the hole for the dishwasher and paint the wall.", []),  # a dishwasher tells a kitchen
        ("We paint the siding.", []),  # in no room
    ],
)
def test_where_is_it(text: str, rooms: list[str]) -> None:
    """Asked only where no word tells the room and the things tell none for sure."""
    assert [value for _, value in choices(text, "where is it?")] == rooms


@pytest.mark.parametrize(
    ("text", "asked"),
    [
        ("Install a new faucet in the kitchen.", [("steps.remove-old-faucet.do", "remove")]),
        ("Replace the faucet in the kitchen.", []),
        ("Remove the old faucet and install a new faucet in the kitchen.", []),
        ("Install a new ledger on the wall.", []),  # nothing of that sort was there
    ],
)
def test_does_an_old_one_come_out(text: str, asked: list[tuple[str, str]]) -> None:
    """What is put in mostly comes for another; where both are told nobody asks."""
    assert choices(text, "does an old one come out?") == asked


def test_what_comes_in_its_place() -> None:
    """What is taken off goes back, or a new one comes; where something else makes it go, nothing is asked."""
    why = "what comes in its place?"
    ways = [
        ("steps.install-new-baseboard.do", "install"),
        ("steps.reinstall-baseboard.do", "reinstall"),
    ]
    assert choices("Take off the baseboard in the den.", why) == ways
    assert choices("I put up a ceiling fan in the bedroom where a light hangs now.", why) == []


@pytest.mark.parametrize(
    ("text", "asked"),
    [
        (
            "Prime and paint the door.",  # a primer and a paint are written: which sort?
            ["stain-blocking primer", "bonding primer", "porch and floor paint"],
        ),
        ("Fill the hole in the wall.", ["filler", "joint compound", "epoxy filler"]),
        ("Paint the door with latex paint.", []),
        ("I painted the door last year. Hang the door.", []),  # done
    ],
)
def test_with_what(text: str, asked: list[str]) -> None:
    """Work that puts something on, where no product is told."""
    assert sorted(value for _, value in choices(text, "with what?")) == sorted(asked)


def test_a_verb_names_its_product() -> None:
    """Nobody primes without a primer: it is written, marked as inferred; what is told to be there is used."""
    plan = hear("Prime the door, then caulk the trim.")
    assert [product["kind"] for product in plan.plan["products"].values()] == ["primer", "caulk"]
    assert {fact.note for step in plan.board.steps for name, fact in step.facts.items() if name == "using"} == {
        "inferred"
    }
    assert {product.facts["kind"].note for product in plan.board.things["product"]} == {"inferred"}
    told = hear("Prime the door. I have a shellac primer.").plan
    assert len(told["products"]) == 1
    assert "products" not in hear("Fill the hole in the wall. Sand the door.").plan
    assert "products" not in hear("I never painted the door.").plan


def test_what_work_is_done_to_may_not_be_told() -> None:
    """`shut off the water`, and nothing of the plumbing is named; of a drain that is named it is asked first."""
    why = "done to what?"
    assert [value for _, value in choices("Paint the door. Shut off the water.", why)] == [
        "shutoff valve",
        "water main",
        "water line",
    ]


def test_what_else_is_done_to_it() -> None:
    """A new light is wired; one that is told to be wired is not asked about."""
    why = "is more done to it?"
    assert ("steps.wire-light.do", "wire") in choices("Install a new light in the den.", why)
    assert ("steps.wire-light.do", "wire") not in choices("Install a new light in the den. Wire the light.", why)


def test_what_always_stands_so_is_not_asked() -> None:
    """Nobody asks whether pulls are on doors."""
    assert choices("Install the pulls. Paint the cabinet doors.", "does it stand so?") == []


def test_nobody_is_asked_more_than_so_many() -> None:
    """Questions of what is left out end, however much is named."""
    kinds = ["faucet", "sink", "light", "mirror", "vanity", "toilet", "bathtub", "window", "door", "outlet", "switch"]
    text = f"I paint the wall in the hall. There is a {', a '.join(kinds)}, a radiator, a railing and a shelf."
    left_out = [one for one in hear(text).unsure if one.why.startswith("nothing is done with it")]
    assert 5 < len(left_out) <= MOST_ASKED


@pytest.mark.parametrize(
    ("text", "way"),
    [
        ("Drill into the door with a 3/8 in bit.", ("steps.drill.diameter", "3/8 in")),
        ("The mirror is 20 x 30.", ("parts.mirror.height", "30 in")),
        ("The garage door is 16 x 7.", ("parts.garage-door.width", "16 ft")),
    ],
)
def test_what_a_measure_is_of(text: str, way: tuple[str, str]) -> None:
    """A hole is that of the drilling; a mirror is told by width and height; a garage door in feet."""
    assert way in choices(f"Paint the wall in the garage. {text}", "")


def test_a_fan_in_the_attic_tells_no_bathroom() -> None:
    """Where a thing is told to be counts before what such things tell."""
    plan = hear("The vent fan in the attic is loud. Replace the fan.").plan
    assert [room["kind"] for room in plan["rooms"].values()] == ["attic"]


def test_a_tool_told_by_a_verb_is_one_tool() -> None:
    """`pry` names the bar."""
    assert hear("Pry off the baseboard, and pry the trim.").plan["steps"][0].get("with", ["pry bar"]) == ["pry bar"]
    assert not any("unknown tool" in one.why for one in hear("Carefully pry the baseboard off.").unsure)


def test_what_is_painted_last_of_all_stays() -> None:
    """It is marked as inferred; of what is new, taken out, or only spoken of nothing is known."""
    stays = {
        t.kind: t.facts["stays"] for t in hear("Sand the door and paint it.").board.things["part"] if "stays" in t.facts
    }
    assert [(kind, fact.value, fact.note) for kind, fact in stays.items()] == [("door", "yes", "inferred")]
    for text in (
        "Paint the new door.",
        "Install a door and paint it.",
        "Paint the door. Then take the door out.",
        "Paint the wall. The door is brown.",
        "I painted the door last year.",
    ):
        parts = [t for t in hear(text).board.things["part"] if t.kind == "door"]
        assert [t.facts["stays"].value for t in parts if "stays" in t.facts] in ([], ["no"]), text
