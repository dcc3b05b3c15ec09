"""Rule ids are for life: one that goes stands in `rules/retired.yaml` with its reason, and no other rule takes it.

`old_rule_ids.txt` are the ids of the rule base at ff9a061, those that only deduce among them.
"""

from __future__ import annotations

from pathlib import Path

import yaml

from advisor.rulebase.base import load_rulebase
from advisor.tables import rules_folder

RETIRED = yaml.safe_load((rules_folder() / "retired.yaml").read_text(encoding="utf-8"))["retired"]
OLD = (Path(__file__).parent / "old_rule_ids.txt").read_text(encoding="utf-8").split()


def _ids() -> set[str]:
    return {rule.id for rule in load_rulebase().rules}


def test_every_old_id_is_a_rule_or_retired() -> None:
    """None went without a word."""
    assert len(OLD) == 872
    assert set(OLD) - _ids() == {one["id"] for one in RETIRED}


def test_no_retired_id_is_used_again() -> None:
    """And none is listed twice."""
    ids = [one["id"] for one in RETIRED]

    assert sorted(set(ids)) == ids
    assert set(ids) & _ids() == set()


def test_each_has_its_reason_and_what_tells_it_now() -> None:
    """The rules that are named instead are rules of today."""
    assert [one["id"] for one in RETIRED if set(one) != {"id", "since", "instead", "reason"}] == []
    assert [one["id"] for one in RETIRED if len(one["reason"].split()) < 8 or not one["since"]] == []
    assert {rule for one in RETIRED for rule in one["instead"]} <= _ids()
