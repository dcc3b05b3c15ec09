"""Products, coats and people in a row of work: `wire brush it, rust primer, 2 coats of black`.

Sentences of our own, beside each one that must be heard otherwise. Source: common practice of speech.
"""

from __future__ import annotations

import pytest

from draft.heard import fact, hear, steps


def does(text: str) -> list[str]:
    """What is done, in order."""
    return [do for do, _ in steps(text)]


@pytest.mark.parametrize(
    ("text", "done"),
    [
        ("Patch the ceiling, stain blocker, ceiling paint flat.", ["fill", "prime", "paint"]),
        ("Sand the deck, then semi transp stain w a pad.", ["sand", "stain"]),
        ("Sand the sill, oil primer and two coats exterior latex.", ["sand", "prime", "paint"]),
        ("Sand the shelf 120, clear matte poly 2 coats.", ["sand", "finish"]),
        ("Clean the spindles, bonding primer, 2 coats of semi gloss on spindles.", ["clean", "prime", "paint"]),
        ("Sand the stairs. The treads get three coats of poly.", ["sand", "finish"]),
        ("Set the tub. New caulk at the tub after.", ["set", "caulk"]),
        ("Oil the shelf.", ["oil"]),
        ("Sand the shelf. The primer is oil.", ["sand"]),
        ("Sand the shelf. I got two gallons of paint after work.", ["sand"]),
        ("Sand the shelf, no primer.", ["sand"]),
    ],
)
def test_a_product_in_a_row_is_a_step(text: str, done: list[str]) -> None:
    """Where it is told what a product is like, or that it is at hand, or that there is none, nothing is done."""
    assert does(text) == done


def test_coats_in_a_row_are_no_layers() -> None:
    """`spackle 2 coats`: of the work; coats that are on a thing already are its layers."""
    filled = hear("Take down the shelf, spackle the wall 2 coats, sand it.").plan
    assert [step.get("coats") for step in filled["steps"] if step["do"] == "fill"] == ["2"]
    assert all("layers" not in part for part in filled["parts"].values())
    assert fact("Sand the door. There are two coats of paint on it.", "part", "door", "layers") == "2"


def test_what_is_said_of_a_product_stays_with_it() -> None:
    """`ceiling paint flat`, `oil primer`: of the product, and the coats of its step."""
    plan = hear("Patch the ceiling, oil primer, ceiling paint flat 2 coats w a roller.").plan
    primer, paint = plan["products"].values()
    last = plan["steps"][-1]
    assert (primer["binder"], paint["sheen"]) == ("oil-based", "flat")
    assert (last["do"], last["coats"], last["with"], last["by"]) == ("paint", "2", ["roller"], "roller")


def test_what_the_words_did_to_a_thing_may_be_done_to_it_again() -> None:
    """A bathtub is seldom painted: where the words sand it, what follows is done to it, too."""
    told = "I paint the bathtub. Sand it, prime w rust primer, paint navy blue enamel."
    assert {tuple(to) for do, to in steps(told) if do in ("sand", "prime")} == {("bathtub",)}
    assert dict(steps("Put in the bathtub. Then prime."))["prime"] == []
    assert dict(steps("The radiator is cast iron. Paint it."))["paint"] == ["radiator"]


@pytest.mark.parametrize(
    ("text", "people"),
    [
        ("Pull the oven out with a friend, unhook the wires.", ["2", None]),
        ("Hang the mirror with 2 friends.", ["3"]),
        ("The new vanity: my brother in law helps carry it in.", ["2"]),
        ("Two of us pull the mirror off.", ["2"]),
        ("Take the toilet off (me and my son).", ["2"]),
        ("My brother in law paints the wall.", [None]),
        ("Paint the wall with a roller.", [None]),
    ],
)
def test_who_lends_a_hand_with_a_step(text: str, people: list[str | None]) -> None:
    """How many do it is told of the step; who does it alone, or a tool, is none more."""
    assert [step.get("people") for step in hear(text).plan["steps"]] == people


def test_what_ails_a_thing_is_no_other_thing() -> None:
    """`fill the gouges`, `patch holes`: done to what was worked on; `undo the latch` to something else."""
    assert dict(steps("Wash the wall. Fill the gouges."))["fill"] == ["wall"]
    assert dict(steps("Paint the ceiling. Patch holes."))["fill"] == ["ceiling"]
    assert dict(steps("Paint the ceiling. Undo the gizmo."))["unfasten"] == []


def test_a_closet_told_by_its_room() -> None:
    """`doors on the hall closet` are in the closet; `paint the hall closet` is done to it."""
    told = hear("Hang the bifold doors on the hall closet.").plan
    assert [room["kind"] for room in told["rooms"].values()] == ["closet"]
    assert steps("Paint the hall closet.")[0][1] == ["closet"]


def test_grits_behind_a_pronoun() -> None:
    """`sand it 120 then 180`; another number is no grit."""
    step = hear("The door is oak. Sand it 120 then 180.").plan["steps"][0]
    assert (step["grits"], step["grit"]) == (["120", "180"], "180")
    assert "grit" not in hear("The door is oak. Sand it 2 times.").plan["steps"][0]


def test_a_slip_at_the_end_of_a_word_is_not_believed() -> None:
    """`electrican` is an electrician, though `electrical` is as near."""
    assert hear("Put in a light. An electrican wires the light.").plan["steps"][-1]["who"] == "licensed electrician"


@pytest.mark.parametrize(
    ("text", "done"),
    [
        ("Paint the door. Send paint chips to a lab.", ["paint", "test for lead"]),
        ("Scrape the popcorn ceiling. Send a piece of it to a lab.", ["scrape ceiling", "test for asbestos"]),
        ("Set the post. Call before you dig.", ["set", "locate services"]),
        ("Oil the shelf. Lay the rags flat outside.", ["oil", "set out rags"]),
        ("Hang the mirror outside.", ["hang"]),
        ("Take a pic of the wires. Hang the light.", ["photograph", "hang"]),
        ("Tarp down. Paint the wall.", ["protect", "paint"]),
        ("Take the paper down. Paint the wall.", ["remove", "paint"]),
        ("The main on our street broke. Paint the wall.", ["paint"]),
        ("Paint the door. There is no trace of lead.", ["paint"]),
        ("Scrape the wall with a butter knife.", ["scrape"]),
    ],
)
def test_works_that_are_told_in_a_phrase(text: str, done: list[str]) -> None:
    """Each beside what only sounds like it."""
    assert does(text) == done
