"""Values in a plan: words, quantities, yes and no, dates, lists; and what is said of wrong ones."""

# ruff: noqa: E501 -- messages stand whole on a line, so that they can be searched for

from __future__ import annotations

from datetime import date

import pytest

from plan.words import PLAIN, mistakes, part, read


def test_attributes_and_terms_come_under_their_canonical_names():
    assert part(**{"Made Of": "PINES", "uses": "outdoors"}) == {
        "kind": "door",
        "material": "pine",
        "uses": ("outdoors",),
    }


def test_quantities_are_in_si_units():
    """An inch is exactly 25.4 mm and a pound exactly 0.45359237 kg (international yard and pound, 1959)."""
    said = part(weight="10 lb", places=["1 ft", "1-1/2 in"])

    assert said["weight"] == pytest.approx(4.5359237, rel=1e-12)
    assert said["places"] == pytest.approx((0.3048, 0.0381), rel=1e-12)


@pytest.mark.parametrize("word", ["unknown", "Not known", "?", "", "~", "null", None, "not-known"])
def test_a_value_said_to_be_unknown_is_left_out(word):
    assert part(weight=word, coating=word, new=word) == {"kind": "door"}


def test_an_unknown_member_of_a_list_is_left_out():
    assert part(uses=["unknown", "food"], places=["?"]) == {"kind": "door", "uses": ("food",)}


def test_a_list_may_be_empty_or_none():
    assert part(uses=[], places="none") == {"kind": "door", "uses": (), "places": ()}


def test_none_stays_a_term_where_the_vocabulary_has_it():
    plan = read({**PLAIN, "house": {"pets": "none"}})

    assert plan.entities["house"]["house"].values["pets"].plain == ("none",)


@pytest.mark.parametrize(
    ("written", "kept"),
    [
        ("yes", "yes"),
        ("No", "no"),
        ("true", "yes"),
        ("off", "no"),
        (True, "yes"),
        (False, "no"),
        ("ON", "yes"),
    ],
)
def test_yes_and_no_in_all_their_forms(written, kept):
    assert part(new=written)["new"] == kept


def test_words_of_yaml_1_1_stay_what_the_author_wrote():
    """YAML 1.1 would make `on` and `no` truth values and 1:30 ninety; YAML 1.2.2, 10.3.2 does not."""
    text = "parts:\n  a: {kind: door, on: b, new: no, color: 1:30}\n  b: {kind: sink}\nsteps: [{do: sand}]\n"
    values = read(text).entities["part"]["a"].values

    assert {k: v.plain for k, v in values.items()} == {
        "kind": "door",
        "on": ("b",),
        "new": "no",
        "color": "1:30",
    }


def test_a_mapping_whose_keys_yaml_1_1_spoiled_is_understood():
    parts = {"a": {"kind": "door", True: ["b"], "new": False}, "b": {"kind": "sink"}}
    values = read({"parts": parts, "steps": [{"do": "sand"}]}).entities["part"]["a"].values

    assert {k: v.plain for k, v in values.items()} == {"kind": "door", "on": ("b",), "new": "no"}


def test_numbers_and_dates_of_python_are_read_as_written_ones():
    house = {"built": 1957, "children": 2.0, "start": date(2026, 5, 4), "remarks": ["a", 3]}
    values = read({**PLAIN, "house": house}).entities["house"]["house"].values

    assert {name: value.plain for name, value in values.items()} == {
        "built": 1957,
        "children": 2,
        "start": "2026-05-04",
        "remarks": ("a", "3"),
    }


def test_a_profile_is_in_order_of_place():
    said = part(drops={"3 ft": "1 in", "0 in": "2 in"})

    assert said["drops"] == ((0.0, pytest.approx(0.0508)), (pytest.approx(0.9144), pytest.approx(0.0254)))


def more(message: str) -> str:
    """Every mistake in a measure, a number or a text ends with the command that tells more of its attribute.

    One in a short list of words does not: the message itself lists them all.
    """
    name = message.split("'")[1]
    listed = message.startswith((" ", "'uses'"))
    return "" if listed else f" See 'advisor vocabulary {name}'."


@pytest.mark.parametrize(
    ("said", "message"),
    [
        ({"weight": "-1 lb"}, "'weight' is '-1 lb'. Expected 0 lb or more."),
        ({"weight": "1001 lb"}, "'weight' is '1001 lb'. Expected 1000 lb or less."),
        ({"weight": "1e999 lb"}, "'weight' is '1e999 lb'. Expected a weight, such as '24 lb'; that number is too large."),
        ({"weight": float("nan")}, "'weight' is 'nan'. Expected a weight, such as '24 lb'."),
        ({"weight": float("inf")}, "'weight' is 'inf'. Expected a weight, such as '24 lb'."),
        ({"weight": 24}, "'weight' is '24'. Expected a weight, such as '24 lb': a number needs its unit."),
        ({"weight": ["24 lb"]}, "'weight' is a list. Expected a weight, such as '24 lb'."),
        ({"new": "perhaps"}, "'new' is 'perhaps'. Expected yes or no."),
        ({"coating": "qqqq"}, " has an unknown coating, 'qqqq'. Expected a coating (bare, paint, varnish)."),
        ({"uses": ["food", "outdors"]}, "'uses' is 'outdors'. Expected a use (food, outdoors); nearest: 'outdoors'."),
        ({"color": "x" * 10_001}, "'color' has 10,001 letters. Expected at most 10,000."),
        ({"drops": {"0 in": "1 in", "0 ft": "2 in"}}, "'drops' names the place '0 ft' twice."),
        ({"drops": {"-1 ft": "1 in"}}, "'drops' has a place '-1 ft'. Expected places from 0 up."),
        ({"drops": "1 in"}, "'drops' is '1 in'. Expected places with measures, such as {0 ft: 1-1/4 in, 3 ft: 1/2 in}."),
        ({"made of": "pine", "material": "pine"}, " says 'material' twice, as 'made of' and as 'material'. Expected it once."),
        ({"on": ["door", "flor"]}, " names an unknown part, 'flor'. Expected the name of a part of this plan; there is 'door'."),
    ],
)  # fmt: skip
def test_a_value_that_cannot_be_used_is_named(said, message):
    joint = "" if message.startswith(" ") else ": "

    assert [f"plan: part 'door'{joint}{message}{more(message)}"] == mistakes(
        {**PLAIN, "parts": {"door": {"kind": "door", **said}}}
    )


@pytest.mark.parametrize(
    ("said", "message"),
    [
        ({"built": "57"}, "'built' is '57'. Expected a year, such as 1957."),
        ({"built": -1957}, "'built' is '-1957'. Expected a year, such as 1957."),
        ({"children": "-1"}, "'children' is '-1'. Expected 0 or more."),
        ({"children": "2.5"}, "'children' is '2.5'. Expected a whole number, such as 2."),
        ({"children": 31}, "'children' is '31'. Expected 30 or less."),
        ({"start": "2026-02-30"}, "'start' is '2026-02-30'. Expected a date, such as 2026-05-04."),
        ({"start": "4 May"}, "'start' is '4 May'. Expected a date, such as 2026-05-04."),
    ],
)
def test_years_counts_and_dates_are_checked(said, message):
    assert [f"plan: house: {message}{more(message)}"] == mistakes({**PLAIN, "house": said})
