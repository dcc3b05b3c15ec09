"""What is chosen among the things of a text, what is offered, and where a text without stops begins anew."""

from __future__ import annotations

import pytest

from draft.heard import fact, hear, steps, value


def offered(text: str) -> set[tuple[str, str]]:
    """What a draft offers: attribute and value."""
    return {(c.attribute, c.value) for one in hear(text).unsure for c in one.candidates}


def test_power_is_shut_off_for_what_has_power() -> None:
    """Of the vanity and the light that were spoken of, the light; what has neither gets none, and is asked."""
    text = "the bathroom has a light over the vanity. shut off the power."

    assert ("to", "light") in offered(text)
    assert ("to", "vanity") not in offered(text)
    assert steps("paint the vanity. shut off the power.")[1] == ("shut off power", [])


def test_what_is_not_told_is_offered_beside_what_was_taken() -> None:
    """`sand` after two things: one is written as inferred, the other is offered."""
    text = "we paint the doors and the trim. then clean the trim. then sand."
    draft = hear(text)
    last = draft.board.steps[-1]

    assert last.facts["to"].note == "inferred"
    assert {("to", "doors"), ("to", "trim")} - {("to", one) for one in last.facts["to"].value} <= offered(text)


def test_a_pronoun_points_at_one_or_at_several() -> None:
    """`them` are the hinges, `it` is the door."""
    assert steps("take the hinges off the door and clean them.")[-1] == ("clean", ["hinges"])
    assert steps("the door has two hinges. sand it.")[-1] == ("sand", ["door"])


def test_what_was_taken_off_for_good_is_not_worked_on() -> None:
    """After the carpet is gone the stairs are sanded; doors that are only taken off are."""
    assert steps("paint the stairs. first rip the carpet off the stairs, then sand.")[-1][1] != ["carpet"]
    assert steps("take the doors off, then sand.")[-1] == ("sand", ["doors"])


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("nine boxes no eight of laminate floor", ("laminate floor", "boxes", None)),
        ("the shelf is a foot no ten inches deep", ("shelf", "depth", "10 in")),
        ("three doors no four and they are oak", ("door", "count", "4")),
        ("three doors and no windows", ("door", "count", "3")),
    ],
)
def test_what_is_said_anew_takes_the_place(text: str, wanted: tuple[str, str, str | None]) -> None:
    """`no four` is no denial; `no windows` is."""
    kind, name, said = wanted
    assert fact(text, "part", kind, name) == said


def test_an_answering_no_denies_nothing() -> None:
    """`no i want to paint it`."""
    assert ("paint", ["doors"]) in steps("the doors stay? no i want to paint the doors.")
    assert steps("no sanding of the doors.") == []


def test_a_text_without_stops_is_cut_where_somebody_begins_anew() -> None:
    """Steps, a fact of the house and what is unknown keep apart."""
    text = (
        "we take the old vinyl floor up in the kitchen then put down cement board and set the tile house is from 1962"
        " dont know if the vinyl has asbestos i own a wet saw two kids 3 and 7"
    )
    draft = hear(text)

    assert [do for do, _ in steps(text)][:2] == ["remove", "install"]
    assert draft.plan["house"]["built"] == "1962"
    assert draft.plan["house"]["children_under_6"] == "1"
    assert draft.plan["crew"]["owns"] == ["wet tile saw"]
    assert "asbestos_test" not in str(draft.plan)


def test_a_condition_hangs_over_what_follows_at_once() -> None:
    """`if it is dry i paint it, then hang the door`: to hang stays; painting is set aside."""
    assert steps("if the wall is dry i paint it, then hang the door.") == [("hang", ["door"])]


def test_old_and_new_by_themselves() -> None:
    """Short notes: the old one goes, the new one comes; an old door stays where nothing moves it."""
    text = "Vanity swap\n- old 30 in wide, new 36 in wide\n- water off, old out, new in"
    done = [(do, len(to)) for do, to in steps(text)]

    assert [do for do, _ in done] == ["shut off water", "remove", "install"]
    assert [t.facts["new"].value for t in hear(text).board.things["part"] if t.age == "new"] == ["yes"]


def test_a_name_with_a_capital_that_does_something_is_a_person() -> None:
    """`Theo drills` is a step of a helper; `Oak doors` are none."""
    draft = hear("Shelf in the den.\n- Theo drills the wall, I hang the shelf")
    by = {step["do"]: step.get("who") for step in draft.plan["steps"]}

    assert by == {"drill": "helper", "hang": "owner"}
    assert "who" not in str(hear("Oak drills are what I own. paint the shelf.").plan.get("steps"))


def test_whether_a_helper_only_comes_for_a_lift_is_asked() -> None:
    """Helpers and people are not the same: both are offered where no word tells."""
    assert {("helpers", "1"), ("people", "2")} <= offered("my brother lifts the sink out. i set the new sink.") | {
        ("people", str(value("my brother lifts the sink out. i set the new sink.", "crew", "people")))
    }


def test_what_is_put_where_none_was() -> None:
    """`there is no outlet … put one in` adds one; `there is no outlet` alone adds none."""
    assert fact("there is no outlet under the sink so i put one in.", "part", "outlet", "added") == "yes"
    assert "outlet" not in str(hear("there is no outlet under the sink. paint the wall.").plan.get("parts"))


def test_tools_are_offered_not_given() -> None:
    """A heat gun that is owned is not said to be used: that is asked."""
    text = "i own a heat gun. strip the door."

    assert "with" not in hear(text).plan["steps"][0]
    assert ("with", "heat gun") in offered(text)


def test_is_it_leaking_i_dont_know_is_unknown() -> None:
    """Asked and not known: nothing is written."""
    assert fact("is the pipe leaking i dont know. paint the wall.", "part", "wall", "has") is None
    assert "leak" not in str(hear("is the faucet leaking i dont know. replace the faucet.").plan["parts"])
