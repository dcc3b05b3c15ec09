"""Careful ordinary plans by someone who read no rules hear next to nothing."""

from __future__ import annotations

from functools import cache

import pytest
from authored import GRAVE, line, plans, told

from advisor.reports.arrange import Entry
from advisor.rulebase.base import load_rulebase

ORDINARY = plans("ordinary")


@cache
def said(name: str) -> tuple[Entry, ...]:
    """What a reader of the report of that plan meets."""
    return tuple(told(next(path for path in ORDINARY if path.stem == name), load_rulebase()))


@pytest.mark.parametrize("name", [path.stem for path in ORDINARY])
def test_a_careful_ordinary_plan_hears_no_warning(name: str) -> None:
    assert [line(entry) for entry in said(name) if entry.finding.signal in GRAVE] == []


def test_careful_ordinary_plans_hear_at_most_three_findings_in_ten_plans() -> None:
    counted = {path.stem: len(said(path.stem)) for path in ORDINARY}

    assert len(counted) == 40
    assert sum(counted.values()) <= 0.3 * len(counted), {name: n for name, n in counted.items() if n}
