"""Names, needed values and the order of steps; the core plans are read."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from advisor.plan import read_plan
from advisor.rulebase.vocabulary_files import load_vocabulary
from plan.words import PLAIN, ids, mistakes, read

CORE = sorted((Path(__file__).parent / "core").glob("*.yaml"))
RULES = Path(__file__).parents[2] / "rules" / "vocabulary"


@pytest.mark.parametrize("path", CORE, ids=lambda p: p.stem)
def test_core_plans_are_read_without_a_mistake(path):
    plan = read_plan(path, load_vocabulary([RULES]))

    assert path.read_text(encoding="utf-8").count("{id: ") == len(plan.steps)


def test_there_are_core_plans():
    assert len(CORE) == 21


def test_a_name_may_be_used_in_another_case_or_spelling():
    plan = read({"parts": {"top-door": {"kind": "door"}}, "steps": [{"do": "sand", "to": "Top Door"}]})

    assert plan.steps[0].values["to"].plain == ("top-door",)


def test_one_name_may_stand_for_a_part_and_a_product():
    plan = {"parts": {"x": {"kind": "door"}}, "products": {"x": {"kind": "primer"}}}
    step = read({**plan, "steps": [{"do": "prime", "to": "x", "using": "x"}]}).steps[0]

    assert (step.values["to"].plain, step.values["using"].plain) == (("x",), ("x",))


def test_steps_without_an_id_are_named_by_what_they_do():
    assert ids({"do": "rub down"}, {"do": "sand"}, {"id": "sand-2", "do": "paint"}, {"do": "prove dead"}) == [
        "sand",
        "sand-3",
        "sand-2",
        "prove-dead",
    ]


def test_a_generated_id_never_takes_one_written_further_down():
    assert ids({"do": "sand"}, {"id": "sand", "do": "paint"}) == ["sand-2", "sand"]


@pytest.mark.parametrize("name", ["a/b", "x" * 61, "", " a", "unknown", "<script>", "a\nb"])
def test_a_name_that_cannot_be_used_is_refused(name):
    (message,) = mistakes({"parts": {name: {"kind": "door"}}, "steps": [{"do": "sand"}]})

    assert message.startswith("plan: the part name '")


@pytest.mark.parametrize("section", ["parts", "rooms", "products"])
def test_a_section_that_is_a_list_is_one_mistake(section):
    said = mistakes({**PLAIN, section: [{"kind": "door"}]})

    assert [f"plan: '{section}' is a list. Expected names"] == [line.split(",")[0] for line in said]


def test_a_thing_without_a_kind_and_a_step_without_an_action_are_named():
    plan = {"rooms": {"r": None}, "parts": {"p": {"kind": "unknown"}}, "steps": [{"to": "p"}]}

    assert mistakes(plan) == [
        "plan: part 'p' has no 'kind'. Expected a kind of part, as in 'kind: door'.",
        "plan: room 'r' has no 'kind'. Expected a kind of room, as in 'kind: kitchen'.",
        "plan: step 'step-1' has no 'do'. Expected an action, as in 'do: sand'.",
    ]


@pytest.mark.parametrize("steps", [None, [], "unknown"])
def test_a_plan_without_steps_is_refused(steps):
    assert mistakes({"steps": steps}) == [
        "plan: the plan has no steps. Expected 'steps', a list such as '- {do: sand, to: doors}'."
    ]


@pytest.mark.parametrize("text", ["- a\n- b\n", "just words", "42\n"])
def test_a_text_that_is_no_mapping_is_one_mistake(text):
    (message,) = mistakes(text)

    assert message.startswith("plan:1: is not a plan. Expected a mapping with 'parts' and 'steps'")


def test_notes_and_title_are_kept():
    plan = read({**PLAIN, "title": "Door", "note": "why", "units": "metric", "house": {"note": "old"}})

    assert (plan.title, plan.note, plan.units, plan.entities["house"]["house"].note) == (
        "Door",
        "why",
        "metric",
        "old",
    )


def test_values_keep_the_authors_words_and_place():
    text = "parts:\n  door:\n    kind: door\n    weight: 10 lb\nsteps:\n  - do: sand\n"
    plan = read(text)
    weight = plan.entities["part"]["door"].values["weight"]

    assert (weight.text, weight.line, weight.column) == ("10 lb", 4, 13)
    assert (plan.entities["part"]["door"].line, plan.steps[0].line) == (2, 6)


def step(own: str, *after: str) -> dict[str, Any]:
    return {"id": own, "do": "sand", **({"after": list(after)} if after else {})}


@pytest.mark.parametrize(
    ("steps", "order"),
    [
        ([step("a"), step("b"), step("c")], "abc"),
        ([step("a", "c"), step("b"), step("c"), step("d")], "bcad"),
        ([step("a", "c"), step("b", "a"), step("c"), step("d")], "cabd"),
        ([step("a"), step("b"), step("c", "a")], "abc"),
        ([step("a", "b", "d"), step("b"), step("c"), step("d"), step("e")], "bcdae"),
    ],
)
def test_a_step_moves_just_behind_what_it_follows_and_nothing_else_moves(steps, order):
    assert list(order) == ids(*steps)


def test_each_ring_of_steps_is_one_message():
    steps = [step("a", "b"), step("b", "a"), step("c", "c"), step("d", "a"), step("e", "f"), step("f", "e")]

    assert mistakes({"steps": steps}) == [
        "plan: step 'c' comes 'after' itself. Expected the name of an earlier step.",
        "plan: steps 'a' and 'b' wait for each other in a ring ('after'). Expected an order: take one 'after' out.",
        "plan: steps 'e' and 'f' wait for each other in a ring ('after'). Expected an order: take one 'after' out.",
    ]
