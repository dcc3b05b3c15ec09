"""`to_get` and `to_find_out`: read, checked, no facts; what the engine hears before and after the thing is there."""

from __future__ import annotations

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from advisor.errors import InputError
from advisor.plan import make_facts, read_plan
from advisor.plan.supposed import as_got, as_it_is
from advisor.rulebase.base import load_rulebase

PLAN = """house: {built: 1990}
rooms: {kitchen: {kind: kitchen}}
parts:
  tap: {kind: faucet, room: kitchen, lead_free: no}
  doors: {kind: cabinet doors, room: kitchen}
crew: {people: 1, owns: [drill]}
steps:
  - {id: sand, do: sand, to: doors, wearing: [goggles], people: 3}
  - {id: fit, do: install, to: tap}
"""


def read(more: str):
    return read_plan(PLAN + more, load_rulebase().vocabulary, "x.yaml")


def facts(plan):
    return make_facts(plan, load_rulebase().vocabulary).facts


def test_an_entry_states_no_fact() -> None:
    """The facts are those of the plan without it."""
    with_them = read("""to_get: [{what: HEPA vacuum, for: sand}, {what: tap, as: {lead_free: yes}, for: [fit]}]
to_find_out: [{of: house, attribute: water_shutoff_known, by: fit}]
""")

    assert facts(as_it_is(with_them)) == facts(read(""))


def test_once_got_it_is_owned_and_as_it_should_be() -> None:
    """The tap is lead-free, the vacuum owned, the fan blows at the one step that it is for."""
    plan = as_got(
        read("""to_get:
  - {what: HEPA vacuum, for: sand}
  - {what: tap, as: {lead_free: yes}, for: [fit]}
  - {what: fan, as: {airflow: 100 cfm}, for: [fit]}
""")
    )
    crew, tap = plan.entities["crew"]["crew"], plan.entities["part"]["tap"]
    flows = [(s.id, "airflow" in s.values) for s in plan.steps]

    assert crew.values["owns"].plain == ("drill", "HEPA vacuum", "fan")
    assert tap.values["lead_free"].plain == "yes"
    assert flows == [("sand", False), ("fit", True)]


def test_gear_that_is_still_to_get_is_not_worn_and_a_helper_not_there() -> None:
    """The step counts on goggles and three people; the crew is one person without goggles."""
    plan = as_it_is(read("to_get: [{what: goggles, for: [sand]}, {what: helper, for: [sand]}]\n"))
    values = plan.steps[0].values

    assert ("wearing" in values, values["people"].plain) == (False, 1)
    assert plan.entities["step"]["sand"] is plan.steps[0]


def test_a_question_left_out_is_that_of_the_vocabulary() -> None:
    """The attribute's own."""
    (entry,) = read("to_find_out: [{of: house, attribute: built, by: fit}]\n").to_find_out

    assert (entry.ask, entry.sort, entry.attribute, entry.by) == (
        "In which year was the house built?", "house", "built", "fit",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ("to_get: [{what: HEPA vacum}]", "x.yaml:10: 'to_get' names an unknown thing, 'HEPA vacum'"),
        ("to_get: [{what: scafold}]", "nearest: 'scaffold'"),
        ("to_get: [{what: tap, for: [fitt]}]", "unknown step, 'fitt'. Expected the name of a step of this plan; nea"),
        ("to_get: [{wat: tap}]", "has no 'wat'. Expected one of what, for, as, note; nearest: 'what'"),
        ("to_get: [{what: tap, as: {led_free: yes}}]", "'tap' to get has an unknown attribute, 'led_free'"),
        ("to_get: [{what: tap, as: {lead_free: maybe}}]", "lead_free"),
        ("to_get: {what: tap}", "'to_get' is a mapping. Expected a list of entries"),
        ("to_get: [tap]", "an entry of 'to_get' is 'tap'. Expected a mapping"),
        ("to_get: [{for: fit}]", "needs 'what'"),
        ("to_find_out: [{of: hose, attribute: built}]", "of an unknown thing, 'hose'. Expected 'house' or a name"),
        ("to_find_out: [{of: house, attribute: bilt}]", "'to_find_out' has an unknown attribute, 'bilt'"),
        ("to_find_out: [{of: house}]", "needs 'ask' or 'attribute'"),
        ("to_find_out: [{of: house, attribute: built, by: fitt}]", "unknown step, 'fitt'"),
    ],
)  # fmt: skip
def test_a_mistake_is_one_message_with_its_line_and_the_nearest_name(more: str, said: str) -> None:
    """And there is no other."""
    with pytest.raises(InputError) as caught:
        read(more + "\n")

    assert said in str(caught.value.problems[0])
    assert len(caught.value.problems) == 1
    assert caught.value.problems[0].line == 10


SCALARS = st.sampled_from(
    ["tap", "HEPA vacuum", "fit", "house", "built", "lead_free", "yes", "unknown", "", "x" * 90, "1"]
)
KEYS = st.sampled_from(["what", "for", "as", "ask", "of", "attribute", "by", "note", "wat", "lead_free"])
TREES = st.recursive(SCALARS, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=4))


@given(st.sampled_from(["to_get", "to_find_out"]), TREES)
def test_any_entry_is_read_or_answered_with_messages(section: str, tree: object) -> None:
    """No traceback: mistakes are messages, and what is read gives facts before and after."""
    plan = yaml.safe_load(PLAN) | {section: tree}
    words = load_rulebase().vocabulary
    try:
        found = read_plan({k: v for k, v in plan.items() if k != "house"}, words, "x.yaml")
    except InputError:
        return

    assert make_facts(as_got(found), words).facts
    assert make_facts(found, words).facts
