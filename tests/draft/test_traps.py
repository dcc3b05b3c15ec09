"""Traps that a trial of hearing fell into: each told as people tell it, with a sentence beside it that is no trap."""

from __future__ import annotations

import pytest

from draft.heard import fact, hear, steps, value

THE_PANTRY = (
    "want to put shelves in our pantry, three of them, melamine, 40 inches wide more or less. walls are plaster i"
    " guess, the house is from the thirties. they go on cleats, ill paint those white first, got half a quart left"
    " over."
    " no wait, the old hooks come out before that. my neighbor has a stud finder."
)


def test_the_pantry_of_the_brief() -> None:
    """Decade, hedges, measures, leftovers, a second thought about the order, what the neighbor has."""
    plan = hear(THE_PANTRY).plan

    assert plan["house"] == {"built": "1930s"}
    assert plan["rooms"]["pantry"]["walls"] == "plaster"
    shelves = plan["parts"]["shelves"]
    assert (shelves["count"], shelves["material"], shelves["length"]) == ("3", "melamine", "40 in")
    assert plan["crew"]["owns"] == ["stud finder"]
    assert [step["do"] for step in plan["steps"]] == ["remove", "paint", "install"]
    assert next(iter(plan["products"].values()))["amount"] == "1/2 qt"


def test_unknown_is_left_out_and_asked() -> None:
    """`dont know if its load bearing` is neither yes nor no."""
    text = "we take out the wall to the den. dont know if its load bearing."
    draft = hear(text)

    assert "load_bearing" not in str(draft.plan)
    assert any("carries load" in question for question in draft.questions)
    assert fact("we open the wall. it is not load bearing.", "part", "wall", "load_bearing") == "no"


def test_no_test_is_no_step() -> None:
    """`didnt test for lead` is a fact of the part, and no step."""
    text = "sand the windows. didnt test for lead."

    assert steps(text) == [("sand", ["windows"])]
    assert fact(text, "part", "window", "lead_test") == "not tested"
    assert ("test for lead", ["windows"]) in steps("we test the windows for lead, then sand them") or steps(
        "test for lead, then sand the windows"
    )[0][0] == "test for lead"


def test_bought_is_not_built() -> None:
    """The year of moving in is not the year of building."""
    assert value("we bought in 2015. paint the doors.", "house", "built") is None
    assert value("We bought the place in 2015, it was built in 1955. paint the doors.", "house", "built") == "1955"


def test_built_in_a_year_is_no_built_in() -> None:
    """`built in 1955` makes no bookcase."""
    draft = hear("the house was built in 1955. paint the doors.")

    assert draft.plan["house"] == {"built": "1955"}
    assert list(draft.plan["parts"]) == ["doors"]


def test_a_rented_machine_is_no_rented_home() -> None:
    """The crew has it; the home is not let."""
    text = "i have a rented drum sander. sand the floor."

    assert value(text, "house", "tenure") is None
    assert "drum sander" in value(text, "crew", "owns")
    assert value("renting a blower from the store. insulate the attic.", "house", "tenure") is None
    assert value("i rent this apartment. paint the doors.", "house", "tenure") == "rented"


def test_looking_for_leaks_is_no_leak() -> None:
    """`look for leaks` is a step; the faucet does not leak."""
    text = "swap the faucet, then look for leaks."

    assert [do for do, _ in steps(text)] == ["replace", "leak test"]
    assert fact(text, "part", "faucet", "has") is None


def test_off_the_hinges_turns_no_talk_to_hinges() -> None:
    """What follows is still about the door."""
    text = "take the door off the hinges. then sand it."

    assert [to for _, to in steps(text)] == [["door"], ["door"]]


@pytest.mark.parametrize("word", ["off", "on", "no"])
def test_words_that_yaml_takes_for_truth_values_are_words(word: str) -> None:
    """They are read as text from the language files."""
    from advisor.draft.language import load_language

    assert load_language().has("little", word)


def test_no_twins() -> None:
    """*the doors* after *cabinet doors* are the same doors."""
    assert steps("take off the cabinet doors and sand the doors") == [
        ("remove", ["cabinet-doors"]),
        ("sand", ["cabinet-doors"]),
    ]


def test_an_age_in_years_is_not_turned_into_a_year() -> None:
    """`20 years old` needs today's date."""
    text = "the deck is 20 years old. sand the deck."

    assert "installed" not in str(hear(text).plan)
    assert "built" not in str(hear("the house is about 20 years old. sand the deck.").plan)


def test_what_is_asked_or_only_might_be_is_no_step() -> None:
    """Questions and conditions are set aside, and said."""
    draft = hear("sand the doors. do i need to prime them? if they look bad we strip them.")

    assert [step["do"] for step in draft.plan["steps"]] == ["sand"]
    assert any(one.path == "question" for one in draft.heard)
    assert any(one.why == "only if" for one in draft.unsure)


@pytest.mark.parametrize(
    ("text", "order"),
    [
        ("before painting, sand the doors", ["sand", "paint"]),
        ("paint the doors after sanding them", ["sand", "paint"]),
        ("sand the doors before you paint them", ["sand", "paint"]),
        ("paint the doors. but before that sand them.", ["sand", "paint"]),
        ("first take the doors off, then sand them, then paint them", ["remove", "sand", "paint"]),
        ("once the doors are sanded, paint them", ["sand", "paint"]),
    ],
)
def test_order_words(text: str, order: list[str]) -> None:
    """Whatever is told first, what comes first stands first."""
    assert [do for do, _ in steps(text)] == order


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("two kids, 3 and 7", "1"), ("we have a toddler", "1"), ("no kids", "0"), ("kids are 4 and 5", "2"),
        ("our son is 12 years old", "0"),
    ],
)  # fmt: skip
def test_children_by_their_age(text: str, count: str) -> None:
    """Only those under six are counted."""
    assert value(f"sand the doors. {text}.", "house", "children_under_6") == count


def test_children_without_an_age_are_offered() -> None:
    """Nothing that touches a hazard is guessed."""
    draft = hear("sand the doors. we have two kids.")

    assert "house" not in draft.plan
    (one,) = [u for u in draft.unsure if u.why == "how old?"]
    assert [c.value for c in one.candidates] == ["2", "0"]


def test_a_hedge_on_what_touches_a_hazard_is_offered() -> None:
    """`i think its not load bearing` is not written."""
    draft = hear("we take out the wall. i think its not load bearing.")

    assert "load_bearing" not in str(draft.plan)
    assert any(c.attribute == "load_bearing" for u in draft.unsure for c in u.candidates)


@pytest.mark.parametrize(
    "text",
    ["there is no lead paint on the windows. sand the windows.", "the windows dont have lead paint. sand the windows.",
     "im worried about lead. sand the windows.", "sand the windows. is there lead in the paint?",
     "if there is lead paint we stop. sand the windows.", "not sure if the windows have lead paint. sand the windows.",
     "the windows might have lead paint. sand the windows."],
)  # fmt: skip
def test_lead_is_not_guessed(text: str) -> None:
    """A test has a result where somebody tells it."""
    assert "lead_test" not in str(hear(text).plan)
    assert "material" not in str(hear(text).plan)


@pytest.mark.parametrize(
    ("text", "result"),
    [
        ("the windows tested negative for lead. sand the windows.", "negative"),
        ("sand the windows. the lead test came back positive.", "positive"),
        ("the windows were never tested for lead. sand the windows.", "not tested"),
        ("we sand the windows. they have lead paint.", "positive"),
    ],
)  # fmt: skip
def test_lead_is_heard(text: str, result: str) -> None:
    """Where it is told."""
    assert fact(text, "part", "window", "lead_test") == result


def test_what_is_over_is_done() -> None:
    """Past steps hold from the start; those to come do not."""
    plan = hear("we already took the carpet out. now we sand the floor.").plan

    assert [step.get("done") for step in plan["steps"]] == ["yes", None]


@pytest.mark.parametrize(
    ("text", "done"),
    [
        ("we are having the floor sanded next week", None), ("i will have the floor sanded", None),
        ("we had the floor sanded last year", "yes"), ("i have already sanded the floor", "yes"),
        ("the floor needs to be sanded", None), ("once the floor is sanded we oil it", None),
        ("the plumber moved the valve", "yes"), ("the doors get painted", None), ("we sanded the floor", "yes"),
    ],
)  # fmt: skip
def test_done_only_where_it_is_over(text: str, done: str | None) -> None:
    """A step that is taken for over asks for no care: what is to come is never taken for it."""
    assert hear(text).plan["steps"][0].get("done") == done


def test_what_is_not_to_be_done_is_no_step() -> None:
    """Denied work is heard as such."""
    assert steps("we wont paint the ceiling. paint the walls.") == [("paint", ["walls"])]
    assert steps("sand the floor instead of ripping it up") == [("sand", ["floor"])]
