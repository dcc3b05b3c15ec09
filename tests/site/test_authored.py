"""Careful ordinary plans by someone who read no rules hear next to nothing."""

from __future__ import annotations

from functools import cache

import pytest
from authored import GRAVE, line, plans, told

from advisor.reports.arrange import Entry
from advisor.rulebase.base import load_rulebase

FOLDERS = ("ordinary", *(f"ordinary-{number}" for number in range(2, 10)))
ORDINARY = [(folder, path.stem) for folder in FOLDERS for path in plans(folder)]


@cache
def said(folder: str, name: str) -> tuple[Entry, ...]:
    """What a reader of the report of that plan meets."""
    return tuple(told(next(path for path in plans(folder) if path.stem == name), load_rulebase()))


@pytest.mark.parametrize(("folder", "name"), ORDINARY)
def test_a_careful_ordinary_plan_hears_no_warning(folder: str, name: str) -> None:
    assert [line(entry) for entry in said(folder, name) if entry.finding.signal in GRAVE] == []


@pytest.mark.parametrize("folder", FOLDERS)
def test_careful_ordinary_plans_hear_at_most_three_findings_in_ten_plans(folder: str) -> None:
    counted = {path.stem: len(said(folder, path.stem)) for path in plans(folder)}

    assert len(counted) == 40
    assert sum(counted.values()) <= 0.3 * len(counted), {name: n for name, n in counted.items() if n}
