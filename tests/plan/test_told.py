"""What words tell besides themselves: a kind by what is said of it, gear by its use, wet by the method, rooms."""

from __future__ import annotations

from typing import Any

import pytest

from advisor.errors import InputError
from advisor.plan import make_facts, read_plan
from advisor.plan.model import Plan
from advisor.rulebase.base import load_rulebase
from advisor.rulebase.vocabulary_files import load_vocabulary

WORDS = load_rulebase().vocabulary


def read(parts: dict[str, Any], **step: Any) -> Plan:
    return read_plan({"parts": parts, "rooms": {"k": {"kind": "kitchen"}}, "steps": [{"do": "inspect", **step}]}, WORDS)


@pytest.mark.parametrize(
    ("said", "kind"),
    [
        ({"kind": "range", "fuel": "propane"}, "gas range"),
        ({"kind": "stove", "fuel": "gas"}, "gas range"),
        ({"kind": "range", "fuel": "electric"}, "electric range"),
        ({"kind": "range"}, "range"),
        ({"kind": "range", "fuel": "wood"}, "range"),
        ({"kind": "floor", "material": "white oak"}, "wood floor"),
        ({"kind": "floor", "material": "porcelain"}, "tile floor"),
        ({"kind": "floor", "material": "concrete"}, "floor"),
        ({"kind": "subfloor", "material": "pine"}, "subfloor"),
        ({"kind": "outlet", "protection": ["GFCI"]}, "outlet"),  # its breaker may give it
        ({"kind": "outlet", "outlet_type": "GFCI"}, "GFCI outlet"),
    ],
)
def test_a_kind_is_told_by_what_is_said(said: dict[str, Any], kind: str) -> None:
    """Only of the wider kind itself."""
    assert read({"it": said}).entities["part"]["it"].values["kind"].plain == kind


def test_gear_among_the_tools_is_worn_and_no_tool() -> None:
    """Owned gear is not worn gear: that of the crew stays theirs."""
    values = read({}, **{"with": ["goggles", "belt sander"], "wearing": "gloves"}).steps[0].values

    assert values["with"].plain == ("belt sander",)
    assert set(values["wearing"].plain) == {"gloves", "goggles"}  # type: ignore[arg-type]
    assert "with" not in read({}, **{"with": ["goggles"]}).steps[0].values


def test_a_wet_method_is_wet_unless_said_otherwise() -> None:
    """What is stated stays."""
    assert read({}, by="misting").steps[0].values["wet"].plain == "yes"
    assert read({}, by="misting", wet="no").steps[0].values["wet"].plain == "no"
    assert "wet" not in read({}, by="dry").steps[0].values


@pytest.mark.parametrize(
    "parts",
    [
        {"top": {"kind": "worktop", "against": ["wall"]}, "wall": {"kind": "wall", "room": "k"}},
        {"top": {"kind": "worktop"}, "wall": {"kind": "wall", "room": "k", "against": ["top"]}},
        {"top": {"kind": "worktop"}, "run": {"kind": "base cabinets", "room": "k", "supports": ["top"]}},
        {"top": {"kind": "hood", "above": ["it"]}, "it": {"kind": "range", "room": "k"}},
        {"top": {"kind": "hood"}, "it": {"kind": "range", "room": "k", "hood": "top"}},
    ],
)
def test_a_room_is_told_from_either_end(parts: dict[str, Any]) -> None:
    """Of a place that means the same both ways."""
    facts = make_facts(read(parts), WORDS).facts

    assert [fact.get("room") for fact in facts if fact.kind == "part" and fact.get("id") == "top"] == ["k"]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("kinds: {no_list: {a: {of: b}}}", "kinds of an unknown list 'no_list'"),
        ("kinds: {colour: {red: {of: blue, x: y}}}", "kind 'red' is told by an unknown 'x: y'"),
        ("kinds: {colour: {red: {of: blue}}}", "kind 'red' is told by nothing"),
        ("kinds: {colour: {}}\nsaid_too: {part: [{shade: red}]}", "says nothing"),
        ("kinds: {colour: {}}\nsaid_too: {part: [{shade: pink, wet: yes}]}", "'pink' is no word for 'shade'"),
    ],
)
def test_mistakes_in_the_file_are_named(tmp_path: Any, text: str, told: str) -> None:
    """As all of the vocabulary's are."""
    (tmp_path / "a.yaml").write_text("taxonomy: colour\nterms: {red: {}, blue: {}}\n", "utf-8")
    (tmp_path / "b.yaml").write_text(
        "sort: part\nattributes: {shade: {type: term, of: colour}, wet: {type: yes_no}}\n", "utf-8"
    )
    (tmp_path / "kinds.yaml").write_text(text, "utf-8")
    with pytest.raises(InputError, match=told):
        load_vocabulary([tmp_path])
