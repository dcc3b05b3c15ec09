"""Facts of a plan: one for each thing and pairing, presumptions marked, unknowns with their question."""

from __future__ import annotations

from typing import Any

import pytest

from advisor.plan import make_facts
from advisor.plan.facts import question
from advisor.plan.model import Basis, FactBase, PlanFact
from advisor.rulebase.base import load_rulebase
from plan.words import read, small_vocabulary

KITCHEN = {
    "rooms": {"kitchen": {"kind": "kitchen"}, "garage": {"kind": "garage"}},
    "parts": {
        "door": {"kind": "door", "room": "kitchen"},
        "base": {"kind": "floor", "room": "garage", "coating": "bare"},
        "sink": {"kind": "sink"},
    },
    "products": {"undercoat": {"kind": "primer"}, "gloss": {"kind": "varnish"}},
}


def facts(source: dict[str, Any]) -> FactBase:
    return make_facts(read(source), small_vocabulary())


def door(**said: Any) -> FactBase:
    return facts({"parts": {"door": {"kind": "door", **said}}, "steps": [{"do": "paint"}]})


def of(base: FactBase, kind: str, **wanted: Any) -> list[PlanFact]:
    return [f for f in base.facts if f.kind == kind and all(f.get(k) == v for k, v in wanted.items())]


def steps(*written: dict[str, Any]) -> list[dict[str, Any]]:
    return [dict(f.values) for f in of(facts({**KITCHEN, "steps": list(written)}), "step")]


def test_house_code_crew_and_budget_are_there_even_when_the_plan_does_not_name_them():
    base = facts({"steps": [{"do": "paint"}]})

    assert [(f.kind, f.get("id")) for f in base.facts if f.kind != "step"] == [
        ("budget", "budget"),
        ("code", "code"),
        ("crew", "crew"),
        ("house", "house"),
    ]


def test_an_unknown_year_is_presumed_and_marked():
    base = facts({"steps": [{"do": "paint"}]})
    (house,) = of(base, "house")

    assert (1900, frozenset({"built"})) == (house.get("built"), house.presumed)
    assert base.presumptions[("house", "house", "built")] == Basis(
        "house", "house", "built", "1900", "unknown counts as old", "When was the house built?"
    )


def test_a_stated_year_is_not_marked():
    (house,) = of(facts({"house": {"built": 1999}, "steps": [{"do": "paint"}]}), "house")

    assert (1999, frozenset()) == (house.get("built"), house.presumed)


def test_a_year_said_to_be_unknown_is_presumed_like_one_left_out():
    left_out = facts({"house": {}, "steps": [{"do": "paint"}]})

    assert facts({"house": {"built": "unknown"}, "steps": [{"do": "paint"}]}) == left_out


@pytest.mark.parametrize(
    ("said", "coating"),
    [
        ({}, "paint"),  # a door is a wood part
        ({"kind": "floor"}, "varnish"),  # the first presumption that fits
        ({"kind": "sink"}, None),  # neither a floor nor a wood part
        ({"new": "no"}, "paint"),
        ({"new": "yes"}, None),
        ({"kind": "floor", "new": "yes"}, None),
        ({"material": "pine"}, "paint"),
        ({"material": "metal"}, None),
        ({"material": "steel"}, None),  # steel is a metal
        ({"uses": ["food"]}, "paint"),
        ({"uses": ["food", "outdoors"]}, None),
        ({"material": "unknown"}, "paint"),
    ],
)
def test_a_presumption_holds_for_its_kinds_unless_the_author_said_otherwise(said, coating):
    base = door(**said)
    (part,) = of(base, "part")
    key = ("part", "door", "coating")

    assert (coating, coating is not None) == (part.get("coating"), "coating" in part.presumed)
    assert (coating is not None, coating is None) == (key in base.presumptions, key in base.unknowns)


def test_what_is_left_out_and_not_presumed_is_unknown_with_its_question():
    base = door(new="yes", material="pine")

    asked = {name: basis.ask for (sort, own, name), basis in base.unknowns.items() if (sort, own) == ("part", "door")}
    assert asked == {
        "room": "Where is door?",
        "on": "What does door stand on?",
        "coating": "What is on door?",
    }
    assert {("", "")} == {(basis.value, basis.because) for basis in base.unknowns.values()}


def test_a_presumption_of_a_step_goes_by_its_action():
    sand, prime = steps({"do": "sand", "to": "sink"}, {"do": "prime", "to": "sink"})

    assert (sand["wet"], prime.get("wet")) == ("no", None)


def test_a_step_is_one_fact_for_each_pairing_of_part_and_product():
    found = steps({"do": "prime", "to": ["sink", "door"], "using": ["undercoat", "gloss"]})

    assert [(f["to"], f["using"]) for f in found] == [
        ("door", "gloss"),
        ("door", "undercoat"),
        ("sink", "gloss"),
        ("sink", "undercoat"),
    ]
    assert {("prime", 0, "prime")} == {(f["id"], f["place"], f["do"]) for f in found}


def test_a_step_without_part_or_product_says_neither():
    assert steps({"do": "paint"}) == [{"do": "paint", "id": "paint", "place": 0}]


def test_a_step_is_in_the_room_of_its_part_unless_it_says_another():
    found = steps(
        {"do": "paint", "to": ["door", "base", "sink"]}, {"id": "away", "do": "paint", "to": "door", "in": "garage"}
    )

    assert [(f["to"], f.get("in")) for f in found] == [
        ("base", "garage"),
        ("door", "kitchen"),
        ("sink", None),
        ("door", "garage"),
    ]


def test_the_room_of_a_step_is_asked_for_only_where_no_part_tells_it():
    written = [{"id": "a", "do": "paint", "to": "door"}, {"id": "b", "do": "paint", "to": ["door", "sink"]}]
    base = facts({**KITCHEN, "steps": written})

    assert [
        (own, basis.ask) for (sort, own, name), basis in base.unknowns.items() if (sort, name) == ("step", "in")
    ] == [("b", "Where is b done?")]
    assert not any("in" in fact.presumed for fact in base.facts)


def test_lists_are_sorted_tuples_with_a_fact_for_each_member():
    base = facts({**KITCHEN, "steps": [{"do": "paint", "to": "door", "with": ["paint brush", "clamp", "brush"]}]})
    (step,) = of(base, "step")

    assert step.get("with") == ("brush", "clamp")
    assert [dict(f.values) for f in of(base, "item", sort="step")] == [
        {"sort": "step", "of": "paint", "attribute": "with", "value": "brush"},
        {"sort": "step", "of": "paint", "attribute": "with", "value": "clamp"},
    ]


def test_a_list_of_sizes_and_of_parts_has_members_too():
    parts = {
        "a": {"kind": "door", "on": ["c", "b"], "places": ["2 in", "1 in"]},
        "b": {"kind": "sink"},
        "c": {"kind": "sink"},
    }
    base = facts({"parts": parts, "steps": [{"do": "paint"}]})

    assert [("on", "b"), ("on", "c"), ("places", pytest.approx(0.0254)), ("places", pytest.approx(0.0508))] == [
        (f.get("attribute"), f.get("value")) for f in of(base, "item", of="a")
    ]


def test_parts_and_products_of_a_step_and_a_profile_have_no_members():
    parts = {"a": {"kind": "door", "drops": {"0 in": "1 in", "1 ft": "0 in"}}}
    written = [{"do": "prime", "to": "a", "using": "p"}]
    base = facts({"parts": parts, "products": {"p": {"kind": "primer"}}, "steps": written})

    assert of(base, "item") == []


def test_steps_stand_at_their_place_in_the_order_of_after():
    found = steps({"id": "late", "do": "paint", "after": "early"}, {"id": "early", "do": "sand"})

    assert [(f["id"], f["place"]) for f in found] == [("early", 0), ("late", 1)]
    assert found[1]["after"] == ("early",)


def test_facts_do_not_hang_on_the_order_in_which_things_are_listed():
    written = [{"do": "prime", "to": ["door", "sink"], "using": ["undercoat", "gloss"], "with": ["brush", "clamp"]}]
    turned = [{name: v[::-1] if isinstance(v, list) else v for name, v in reversed(written[0].items())}]
    backwards = {
        section: {own: dict(reversed(said.items())) for own, said in reversed(things.items())}
        for section, things in reversed(KITCHEN.items())
    }
    one, other = facts({**KITCHEN, "steps": written}), facts({"steps": turned, **backwards})

    assert one.facts == other.facts
    assert list(one.presumptions.items()) == list(other.presumptions.items())
    assert list(one.unknowns.items()) == list(other.unknowns.items())


def test_a_fact_has_the_line_of_its_thing():
    base = facts("parts:\n  door:\n    kind: door\n    uses: [food]\nsteps:\n  - do: sand\n    to: door\n")

    assert {("part", 2), ("item", 2), ("step", 6)} == {(f.kind, f.line) for f in base.facts if f.line}


def test_values_of_a_fact_are_sorted_by_attribute():
    base = facts({**KITCHEN, "steps": [{"do": "prime", "using": "gloss", "to": "door", "for": "2 h"}]})

    assert all(list(f.values) == sorted(f.values) for f in base.facts)


@pytest.mark.parametrize(
    ("name", "asked"),
    [("doors", "Are doors new?"), ("upper-shelves", "Are upper-shelves new?"), ("glass", "Is glass new?"),
     ("door", "Is door new?"), ("door-2", "Is door-2 new?")],
)  # fmt: skip
def test_a_question_agrees_with_a_name_for_several_things(name: str, asked: str) -> None:
    attribute = load_rulebase().vocabulary.attributes["part"]["new"]

    assert question(attribute, name) == asked
