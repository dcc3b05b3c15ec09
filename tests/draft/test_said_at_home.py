"""Names, verbs and frames of everyday speech: each with a near miss that stays silent. Common usage, from English."""

from __future__ import annotations

import pytest

from draft.heard import hear, steps, value


def kinds(text: str) -> list[str]:
    """The kinds of part that a draft has."""
    return [str(part["kind"]) for part in hear(text).plan.get("parts", {}).values()]


def asked(text: str, why: str) -> list[tuple[str, str]]:
    """The choices of the offers with that question."""
    return [(c.attribute, c.value) for one in hear(text).unsure if one.why == why for c in one.candidates]


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("pot lights", "recessed light"), ("bath fan", "bath fan"), ("fence panels", "fence"),
        ("vanity countertop", "vanity top"), ("tub doors", "shower door"), ("floor vents", "register"),
        ("bi fold doors", "closet door"), ("peg board", "hardware"), ("hot water baseboard", "radiator"),
    ],
)  # fmt: skip
def test_names_at_home(name: str, kind: str) -> None:
    """A compound of everyday speech names its kind, whatever its last word means alone."""
    assert kinds(f"Clean the {name} with a rag.") == [kind]


def test_a_word_of_such_a_name_alone_is_no_such_thing() -> None:
    """The wall has panels of its own; a vent alone is no register."""
    assert kinds("Clean the panel.") != ["fence"]
    assert kinds("Clean the vent.") != ["register"]


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("make sure the outlet is really dead", ("prove dead", ["outlet"])),
        ("check the faucet for leaks", ("leak test", ["faucet"])),
        ("get the ceiling tested for asbestos", ("test for asbestos", ["ceiling"])),
        ("run the sander over the floor", ("sand", ["floor"])),
        ("slap some paint on the walls", ("paint", ["walls"])),
        ("three coats of poly on the floor", ("finish", ["floor"])),
        ("fill the holes in the wall", ("fill", ["wall"])),
        ("hose down the deck", ("rinse", ["deck"])),
        ("recaulk the tub", ("caulk", ["tub"])),
        ("the walls need painting", ("paint", ["walls"])),
        ("the carpet has to go", ("remove", ["carpet"])),
        ("the door frame is to be sanded", ("sand", ["door-frame"])),
        ("put in a new toilet", ("install", ["toilet"])),
        ("pull off the old caulk around the tub", ("cut caulk", ["tub"])),
        ("i prime it and ana paints the doors", ("paint", ["doors"])),
        ("the guy from work mounts it on the wall and i paint the wall", ("paint", ["wall"])),
    ],
)  # fmt: skip
def test_verbs_at_home(text: str, wanted: tuple[str, list[str]]) -> None:
    """What is done is told by words that stand apart, by a tool, a product, a piece of the thing."""
    assert wanted in steps(text)


@pytest.mark.parametrize(
    "text",
    [
        "the outlet is dead and nobody knows why",  # no test
        "the sander is over by the floor",
        "the paint on the walls is gray",
        "the holes in the wall are old",
        "the door sticks in the summer",
        "i get up on the ladder",
        "the caulk around the tub is moldy",
        "where is the carpet going",
        "the screws the store had were too long",
    ],
)
def test_no_verbs_at_home(text: str) -> None:
    """Near misses: the same words, and no work."""
    assert steps(text) == []


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("The carpet is already out. I paint the wall next.", ("remove", "yes")),
        ("The old vanity is gone.", ("remove", "yes")),
        ("I have the doors off. Now I sand them.", ("remove", "yes")),
        ("The walls were patched on Sunday.", ("fill", "yes")),
        ("Already removed the old faucet.", ("remove", "yes")),
        ("First the power is off, then the old fan is removed.", ("remove", None)),
        ("The new toilet hasn't been installed yet.", ("install", None)),
    ],
)
def test_what_is_told_as_done_or_still_to_do(text: str, wanted: tuple[str, str | None]) -> None:
    """`is out` is done, `then is removed` and `isn't painted yet` are to be."""
    told = [(s["do"], s.get("done")) for s in hear(text).plan.get("steps", [])]
    assert wanted in told


def test_states_of_years_are_no_work() -> None:
    """`replaced in 1990`, `is screwed to the wall`, `the light is off`: how things are."""
    assert steps("The window was replaced in 1990.") == []
    assert steps("The shelf is screwed to the wall.") == []
    assert steps("The light is off.") == []


def test_a_piece_is_of_the_thing_that_was_told() -> None:
    """`the pan` in a talk of a shower is the shower; alone it is nothing."""
    assert steps("The shower leaks. We clean the pan.") == [("clean", ["shower"])]
    assert kinds("We clean the pan.") == []


def test_painting_a_room_is_painting_its_walls() -> None:
    """The wall is inferred; a porch has its own boards."""
    told = hear("We paint the nursery.")
    assert [(p["kind"], p["room"]) for p in told.plan["parts"].values()] == [("wall", "nursery")]
    assert next(t for t in told.board.things["part"]).facts["kind"].note == "inferred"
    assert "wall" not in kinds("We paint the deck.")


def test_what_is_not_understood_takes_no_thing_from_before() -> None:
    """`the gizmo gets pulled` is not done to what was spoken of before."""
    assert ("remove", ["tile"]) not in steps("We clean the tile. The gizmo gets pulled.")


def test_offers_of_the_end() -> None:
    """How many work, which tools are at hand, the year, and what a fan may be; nothing where it is told."""
    assert ("people", "1") in asked("I paint the door.", "how many work on it?")
    assert asked("I paint the door by myself.", "how many work on it?") == []
    assert ("owns", "moisture meter") in asked("We paint the wall. The moisture meter tells how wet.", "at hand?")
    assert asked("Built around then, 1962. We tile the wall.", "built then?") in ([], [("built", "1962")])
    assert ("kind", "ceiling fan") in asked("Clean the fan.", "or is it?")
    assert asked("Clean the ceiling fan.", "or is it?") == []
    assert asked("The pool is here. Clean the faucet and the sink.", "does it stand so?") == [("on", "sink")]


def test_whoever_is_named_may_do_some_of_the_work() -> None:
    """A trade that does no step is asked about; one that does a step, or an inspector, is not."""
    question = "does some of the work?"
    assert ("who", "licensed plumber") in asked("I paint the door. The plumber is coming on Friday.", question)
    assert asked("The plumber replaces the faucet.", question) == []
    assert asked("I paint the door. The inspector is coming on Friday.", question) == []
    assert ("helpers", "1") in asked("I paint the door.", "how many work on it?")


def test_a_name_with_its_size_names_the_thing() -> None:
    """`a 4 inch duct` is a duct; of a hood alone it is the hood's; tile around a tub is there, not used."""
    assert value("Run a 4 inch duct.", "parts", "duct", "diameter") == "4 in"
    assert "screws" in hear("Fasten the shelf with 3 in screws.").plan["products"]
    assert "tile work" in kinds("Bathroom has a tub with tile around it. Regrout the tile.")
    assert "tile work" not in kinds("Cover the tub with tile adhesive.")


def test_sizes_without_a_unit_are_offered() -> None:
    """Inches are meant by a share and by what is too many for feet; the feet of a room are the room's."""
    text = "Paint the cabinet, it is 18 wide."
    assert value(text, "parts", "cabinet", "width") is None
    assert ("width", "18 in") in asked(text, "")
    assert ("length", "14 ft") in asked("Hang crown molding in our dining room, 12x14.", "")
    assert value("Lay laminate in the office, 10'6 x 9.", "rooms", "office", "width") == "9 ft"
    assert asked("Paint half of the fence, 1/2 of it.", "") == []


def test_who_tells_it_does_it() -> None:
    """`I paint it`: the owner; a plumber who does all of it leaves it open."""
    assert value("I paint the door.", "crew", "who") == ["owner"]
    assert value("The plumber replaces the faucet.", "crew", "who") != ["owner"]
