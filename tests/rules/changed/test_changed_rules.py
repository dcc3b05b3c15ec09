"""The table of changed rules names rules that exist, with cases that make them speak and near misses."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import pytest
import yaml

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from rules.harness import cases

from advisor.rulebase.base import load_rulebase

TABLE: list[dict[str, Any]] = yaml.safe_load(Path(__file__).with_name("changed_rules.yaml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("row", TABLE, ids=[row["rule"] for row in TABLE])
def test_a_changed_rule_has_its_cases(row: dict[str, Any]) -> None:
    """It exists, and every case that the row names is there and is about it."""
    assert row["rule"] in {rule.id for rule in load_rulebase().rules}
    assert len(row["was"].split()) > 4
    assert row["source"].strip()
    by_name = {case.name: case for case in cases(row["pack"])}
    spoken = {name: {one["rule"] for one in by_name[name].spec.get("speaks", [])} for name in row["speaks"]}
    quiet = {name: set(by_name[name].spec.get("silent", [])) for name in row["silent"]}

    assert spoken
    assert quiet
    assert [name for name, rules in spoken.items() if row["rule"] not in rules] == []
    assert [name for name, rules in quiet.items() if row["rule"] not in rules] == []


def test_no_rule_stands_in_the_table_twice() -> None:
    names = [row["rule"] for row in TABLE]

    assert len(names) == len(set(names))


def test_no_danger_of_the_table_rests_on_memory() -> None:
    """A rule of the table that can say danger names a work that it was read in, not common practice alone."""
    grave = {r.id for r in load_rulebase().rules if any(c.signal == "danger" for c in r.conclusions)}
    rows = {row["rule"]: row["source"] for row in TABLE if row["rule"] in grave}

    assert [rule for rule, source in rows.items() if source.startswith("common practice") or "memory" in source] == []
