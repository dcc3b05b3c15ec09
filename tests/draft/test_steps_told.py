"""Steps as people tell them: who does what was told before, what is gone over, put on, looked for; what is no step.

Sentences of our own, beside each one that must be heard otherwise. Source: common practice of speech.
"""

from __future__ import annotations

import pytest

from draft.heard import fact, hear, steps


def does(text: str) -> list[str]:
    """What is done, in order."""
    return [do for do, _ in steps(text)]


@pytest.mark.parametrize(
    ("text", "who"),
    [
        ("Floor: sand, stain, finish.\n\nDana sands, I stain.", ["helper", "owner", None]),
        ("Floor: sand, stain, finish.\n\n- me: sanding\n- my dad: staining", ["owner", "helper", None]),
    ],
)
def test_who_does_it_is_told_behind_the_steps(text: str, who: list[str | None]) -> None:
    """No step is made twice for it."""
    assert [step.get("who") for step in hear(text).plan["steps"]] == who


def test_again_is_a_step_of_its_own() -> None:
    """`then I sand again` is done once more."""
    assert does("We sand the doors and prime them. Then I sand again.") == ["sand", "prime", "sand"]


@pytest.mark.parametrize(
    ("text", "do"),
    [
        ("Go over the floor with a drum sander.", "sand"),
        ("Hit the doors with 120 grit.", "sand"),
        ("Give the doors a good cleaning.", "clean"),
        ("Brush on the stain.", "stain"),
        ("Then I apply two coats of poly to the floor.", "finish"),
        ("Haul the old tub out.", "remove"),
        ("Roll the stove out.", "move"),
        ("Get the mirror up on the wall.", "install"),
        ("My dad will pull the new fan in.", "install"),
    ],
)
def test_what_is_done_is_told_by_what_stands_with_it(text: str, do: str) -> None:
    """By a tool, a grit, a noun, a product, a particle."""
    assert does(text) == [do]


@pytest.mark.parametrize(
    "text",
    [
        "My dad gave us a drill.",
        "I got the paint at the store.",
        "Repoint the brick.",
        "Wallpaper in the hall, label gone.",
        "Wall is brick with plaster over it.",
        "Buying a new pull-down faucet.",
        "my nephew runs the drill",
        "Sink is stainless, drop in, 33 by 22 inches.",
        "The wall (drywall) is ours.",
    ],
)
def test_no_step(text: str) -> None:
    """Names, how a thing is, and who works with which tool."""
    assert does(text) == []


def test_what_is_new_and_in_no_step_goes_in_once() -> None:
    """`drop in` is how the sink is made, and no second step; that it goes in is inferred, and said so."""
    found = hear("New sink is stainless, drop in, 33 by 22 inches.")

    assert [step["do"] for step in found.plan["steps"]] == ["install"]
    assert [step.facts["do"].note for step in found.board.steps] == ["inferred"]


def test_removal_is_not_hanging() -> None:
    """`wallpaper removal` takes it off."""
    assert does("Wallpaper removal in the dining room.") == ["remove"]


@pytest.mark.parametrize(
    ("text", "order"),
    [
        ("Carpet out, planks in. Baseboards off first.", ["remove", "remove", "install"]),
        ("Take the doors off first, then sand them.", ["remove", "sand"]),
        ("I sand the doors and paint them. My wife covers the floor before.", ["protect", "sand", "paint"]),
        ("We put laminate down. Carpet up first, then the laminate goes down.", ["remove", "install"]),
    ],
)
def test_first_told_last(text: str, order: list[str]) -> None:
    """What is done first may be told at the end; a first sentence may only sum up."""
    assert does(text) == order


def test_looked_for_is_not_there() -> None:
    """`check the floor for rot` says of no rot; `the floor has rot` does."""
    assert fact("Check the floor for rot.", "part", "floor", "has") is None
    assert fact("The floor has rot. Sand the floor.", "part", "floor", "has") == ["rot"]


def test_what_is_under_a_thing_is_not_of_it() -> None:
    """`under the carpet is concrete`."""
    assert fact("Take out the carpet. Under the carpet is concrete.", "part", "carpet", "material") != "concrete"
    assert fact("The wall is concrete. Paint the wall.", "part", "wall", "material") == "concrete"


def test_if_looked_at_hangs_on_nothing() -> None:
    """`see if the box is ok` is no condition of what follows; `if the box is ok` is."""
    told = "Take the light down, see if the box is ok, wire the new light."
    assert does(told) == ["remove", "wire"]
    assert "wire" not in does("Take the light down. If the box is ok wire the new light.")


def test_a_seen_thing_is_there_though_it_is_asked_of() -> None:
    """`is wall behind rotten?` tells of a wall and not of rot; `stud there?` tells of nothing."""
    plan = hear("Sand the door. Is wall behind rotten? No idea.").plan
    assert [part["kind"] for part in plan["parts"].values()] == ["door", "wall"]
    assert "has" not in plan["parts"]["wall"]
    assert [part["kind"] for part in hear("Sand the door. Stud there?").plan["parts"].values()] == ["door"]


@pytest.mark.parametrize("text", ["the tub is cast iron, 5 ft, white", "paint the tub white", "tub, white", "white"])
def test_a_text_may_end_with_a_color(text: str) -> None:
    """The last word of a text has none behind it."""
    assert hear(text).text == text


def test_inches_before_a_name() -> None:
    """`an 18 in cabinet` is so wide; `2 in stock` is how many there are."""
    assert fact("Pull the 18 in vanity.", "part", "vanity", "width") == "18 in"
    assert fact("Pull the vanity. 18 in the garage.", "part", "vanity", "width") is None
