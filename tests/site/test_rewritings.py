"""Plans that mean the same get the same findings, however they are said.

A tenth of all pairs of operator and plan, by a hash of the pair; `make rewritings` takes them all. What differs today
stands in `rewritings_differ.yaml`, by operator and rule.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
import yaml

sys.path.insert(0, str(Path(__file__).parent))

import rewriting
import rewritings  # noqa: F401  registers the operators
from rewriting import OPERATORS, Told, chosen, differences, look, stored

SHARE = float(os.environ.get("REWRITINGS", "0.1"))
PARTS = 8  # so that several processes share the work
KNOWN: dict[str, list[str]] = yaml.safe_load((Path(__file__).parent / "rewritings_differ.yaml").read_text("utf-8"))
PLAN = "scenario/galley-kitchen-faulty"


@pytest.mark.parametrize("part", range(PARTS))
def test_a_rewritten_plan_gets_the_same_findings(part: int, record_property: Callable[[str, object], None]) -> None:
    """No rule says otherwise, save those that are known to."""
    pairs = list(chosen(SHARE, OPERATORS).items())[part::PARTS]
    rows = [row for key, names in pairs for row in look(key, names)]
    told = f"{len(rows)} rewritten plans, part {part + 1} of {PARTS} of {SHARE:.0%} of all pairs of operator and plan"
    record_property("looked at", told)

    new = [
        f"{name} | {key} | {text}"
        for name, key, found in rows
        for text in found
        if text.split(" ")[1] not in KNOWN.get(name, ())
    ]

    assert rows
    assert new == []


@pytest.mark.skipif(SHARE < 1, reason="only all plans can show that a rule no longer differs")
def test_what_is_known_to_differ_does() -> None:
    """A rule that was mended leaves the list."""
    wanted = chosen(1, KNOWN)
    rows = [row for key, names in wanted.items() for row in look(key, names)]
    seen = {(name, text.split(" ")[1]) for name, _, found in rows for text in found}

    assert {(name, rule) for name, rules in KNOWN.items() for rule in rules} - seen == set()


def test_each_operator_says_what_it_does() -> None:
    """And the list of known differences names operators and rules that there are."""
    ids = {rule.id for rule in rewriting.load_rulebase().rules}

    assert set(KNOWN) <= set(OPERATORS)
    assert {rule for rules in KNOWN.values() for rule in rules} <= ids
    assert len(OPERATORS) >= 50


def test_a_plan_that_means_something_else_is_told_apart() -> None:
    """A step taken out, another material, other hours: the comparison is not blind."""
    plan = stored()[PLAN]
    fewer = {**plan, "steps": plan["steps"][1:]}
    young = {**plan, "house": {**plan["house"], "built": "2015"}}

    assert differences(plan, Told(plan)) == []
    assert any(text.startswith("goes") for text in differences(plan, Told(fewer)))
    assert any(text.startswith(("goes", "numbers")) for text in differences(plan, Told(young)))


def test_other_numbers_are_told_apart() -> None:
    """Beyond rounding."""
    assert rewriting._close((("area", 1.0),), (("area", 1.0 + 1e-9),))
    assert not rewriting._close((("area", 1.0),), (("area", 1.01),))
    assert not rewriting._close((("area", 1.0),), (("weight", 1.0),))
