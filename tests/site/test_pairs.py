"""Plans that differ only in how a place or a work is said hear the same.

The pairs were written from the trade's view by someone who had read the vocabulary, and no rules, cases or findings.
Of the 151 pairs that both read, 95 said the same with the old rules, 101 with the mechanism of places and works alone,
and 145 now; the six others stand in `pairs_differ.yaml`, each with its reason.
"""

from __future__ import annotations

import copy
from pathlib import Path
from typing import Any

import pytest
import yaml
from said_pairs import Pair, Plain, Said, findings, pairs

HERE = Path(__file__).parent
DIFFER, CAREFUL = (
    yaml.load((HERE / name).read_text(encoding="utf-8"), Loader=Plain)
    for name in ("pairs_differ.yaml", "pairs_careful.yaml")
)


def _name(pair: Pair) -> str:
    return f"{pair.topic}: {pair.name}"


def _rules(said: Said) -> set[str]:
    return {rule for rule, _, _ in said}


def test_enough_pairs_are_looked_at() -> None:
    """All that the author wrote and the vocabulary takes, each under a name of its own."""
    assert len(pairs()) == 151
    assert len({_name(pair) for pair in pairs()}) == 151


@pytest.mark.parametrize("pair", pairs(), ids=_name)
def test_a_pair_says_the_same(pair: Pair) -> None:
    """Same practices, signal words and steps; where it may not be, the rules that differ are those of the entry."""
    one, other = pair.said()
    entries = [e for e in DIFFER if (e["topic"], e["name"]) == (pair.topic, pair.name)]

    assert len(entries) <= 1
    assert sorted(_rules(one ^ other)) == sorted(rule for entry in entries for rule in entry["rules"])


def test_each_entry_is_of_a_pair_and_has_its_reason() -> None:
    """An entry of a pair that went would hide nothing, and one without a reason would hide anything."""
    names = {(pair.topic, pair.name) for pair in pairs()}

    assert [e["name"] for e in DIFFER if (e["topic"], e["name"]) not in names] == []
    assert [e["name"] for e in DIFFER if set(e) != {"topic", "name", "rules", "reason"} or not e["rules"]] == []
    assert [e["name"] for e in DIFFER if len(e["reason"].split()) < 8] == []


def _careful() -> list[Pair]:
    return [pair for pair in pairs() if "careful" in pair.spec]


def test_each_complaint_is_known() -> None:
    """Every careful pair names one of the complaints, and every complaint is named."""
    assert {pair.spec["careful"] for pair in _careful()} == {entry["complaint"] for entry in CAREFUL}


def careless(plan: dict[str, Any], how: dict[str, Any]) -> dict[str, Any]:
    """The plan without what makes it careful."""
    plan = copy.deepcopy(plan)
    plan["steps"] = [step for step in plan["steps"] if step["id"] not in how.get("drop", [])]
    for step in plan["steps"]:
        for word in how.get("unsaid", []):
            step.pop(word, None)
        instead = how.get("instead", {})
        if "with" in step:
            step["with"] = [instead.get(tool, tool) for tool in step["with"]]
        if "who" in step:
            step["who"] = instead.get(step["who"], step["who"])
    plan["products"] = {own: one for own, one in plan.get("products", {}).items() if own not in how.get("drop", [])}
    if "crew" in how:
        plan["crew"] = {**plan.get("crew", {}), **how["crew"]}
    return plan


@pytest.mark.parametrize("pair", _careful(), ids=_name)
def test_careful_work_hears_no_complaint(pair: Pair) -> None:
    """The rules that would say it are silent, in both wordings; done carelessly, the same plans hear one of them."""
    (entry,) = [one for one in CAREFUL if one["complaint"] == pair.spec["careful"]]
    for side in ("one", "other"):
        plan = pair.spec[side]
        without = careless(plan, entry["careless"])

        assert _rules(findings(plan, {})) & set(entry["rules"]) == set()
        assert _rules(findings(without, {})) & set(entry["rules"]) != set()
