"""Say → hear → the same plan: every attribute with each of its words, every kind and action, and all scenarios.

A usual run takes a share of the words by a hash; `DRAFT_FULL=1` takes all.
"""

from __future__ import annotations

import copy
import os
import zlib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from advisor.draft.draft import draft
from advisor.draft.say import say
from advisor.errors import InputError
from advisor.plan import read_plan
from advisor.plan.model import Plan
from advisor.rulebase.base import load_rulebase
from advisor.rulebase.vocabulary import Attribute
from advisor.units import DIMENSIONS

SCENARIOS = sorted((Path(__file__).parents[2] / "scenarios").glob("*.yaml"))
SHARE = 1.0 if os.environ.get("DRAFT_FULL") else 0.1
BASE: dict[str, Any] = {
    "rooms": {"r1": {"kind": "kitchen"}, "r2": {"kind": "garage"}},
    "parts": {"p1": {"kind": "wall"}, "p2": {"kind": "sink"}},
    "products": {"q1": {"kind": "paint"}, "q2": {"kind": "caulk"}},
    "steps": [{"id": "s1", "do": "test for lead", "to": "p1"}, {"id": "s2", "do": "paint", "to": "p1"}],
}
SECTIONS = {"room": ("rooms", "r1"), "part": ("parts", "p1"), "product": ("products", "q1")}
SAMPLES = {"text": ["dark brown"], "date": ["2026-05-04"], "yes_no": ["yes", "no"],
           "profile": [{"0 ft": "1-1/4 in", "3 ft": "1/2 in"}]}  # fmt: skip


def facts(plan: Plan) -> dict[tuple[str, str, str], Any]:
    """What a plan says, as the reader reads it."""
    return {(s, o, n): v.plain for s, es in plan.entities.items() for o, e in es.items() for n, v in e.values.items()}


def values(attribute: Attribute) -> list[Any]:
    """Values to try: every word of a list, an example of the others."""
    if attribute.type == "term":
        taxonomy = load_rulebase().vocabulary.taxonomies[attribute.of]
        return [term for term in taxonomy.terms if term not in taxonomy.groups]
    if attribute.type == "ref":
        return [{"room": "r2", "part": "p2", "product": "q1", "step": "s1"}[attribute.of]]
    if attribute.type == "year":
        return ["1957", *(["about 1920", "1930s", "before 1978"] if attribute.cautious else [])]
    if attribute.type in SAMPLES:
        return SAMPLES[attribute.type]
    example = attribute.example.partition(": ")[2].strip("[]").split(", ")[0]
    return [example or ("3" if attribute.type == "count" else DIMENSIONS[attribute.type][3])]


def plans() -> Iterator[tuple[str, dict[str, Any]]]:
    """A plan for each attribute and value."""
    for sort, attributes in load_rulebase().vocabulary.attributes.items():
        for attribute in attributes.values():
            for value in values(attribute):
                plan = copy.deepcopy(BASE)
                content = [value] if attribute.many else value
                if sort in SECTIONS:
                    section, own = SECTIONS[sort]
                    plan[section][own][attribute.name] = content
                elif sort == "step":
                    plan["steps"][1][attribute.name] = content
                else:
                    plan[sort] = {attribute.name: content}
                yield f"{sort}.{attribute.name}: {value}", plan


def heard_again(plan: Plan) -> bool:
    """Whether a plan that is said and heard says the same, in the same order."""
    rulebase = load_rulebase()
    again = read_plan(draft(say(plan, rulebase.vocabulary), rulebase).plan, rulebase.vocabulary, "heard")
    return facts(plan) == facts(again) and [s.id for s in plan.steps] == [s.id for s in again.steps]


def test_what_is_said_of_anything_is_heard_again(record_property: Any) -> None:
    """Each attribute, each word of each list: kinds, actions, materials, tools …"""
    vocabulary = load_rulebase().vocabulary
    tried, lost = 0, []
    total = 0
    for name, mapping in plans():
        total += 1
        if zlib.crc32(name.encode()) % 1000 >= SHARE * 1000:
            continue
        try:
            plan = read_plan(mapping, vocabulary, "said")
        except InputError:
            continue  # a value that no plan may say of this thing
        tried += 1
        if not heard_again(plan):
            lost.append(name)
    record_property("looked at", f"{tried} of {total} attributes with a value, said and heard")

    assert tried > 300
    assert lost == []


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda path: path.stem)
def test_a_scenario_is_heard_as_it_was_said(path: Path) -> None:
    """All of its facts and the order of its steps."""
    assert heard_again(read_plan(path, load_rulebase().vocabulary))
