"""A folder of plans with one hazard each: what was asked of them, how the first try was judged, what is said now."""

from __future__ import annotations

from collections import Counter
from functools import cache, cached_property
from pathlib import Path
from typing import Any

from yaml import load

from advisor.plan import read_plan
from advisor.review.model import Report
from advisor.review.reviewing import review
from advisor.rulebase.base import load_rulebase
from scenarios.test_probes import _Plain


class Judged:
    """The set: `expected.yaml` and `judged.yaml` have a row for each plan."""

    def __init__(self, name: str) -> None:
        self.folder = Path(__file__).parent / name
        self.asked, self.rows = self._table("expected"), self._table("judged")

    def _table(self, name: str) -> dict[str, dict[str, Any]]:
        rows = load((self.folder / f"{name}.yaml").read_text(encoding="utf-8"), Loader=_Plain)
        return {row["plan"]: row for row in rows}

    @cached_property
    def verdicts(self) -> dict[str, int]:
        """How many plans came to which verdict at the first try."""
        return dict(Counter(row["verdict"] for row in self.rows.values()))

    def at_first(self, *verdicts: str) -> list[str]:
        """The plans of these verdicts."""
        return [plan for plan, row in self.rows.items() if row["verdict"] in verdicts]

    def told_since(self) -> set[str]:
        """The plans of which another finding tells now than at the first try."""
        return {plan for plan, row in self.rows.items() if "last" in row}

    def without_steps(self) -> list[str]:
        """The plans of which nothing is read; InputError for one that has a mistake."""
        vocabulary = load_rulebase().vocabulary
        return [plan for plan in self.asked if not read_plan(self.folder / f"{plan}.yaml", vocabulary).steps]

    @cache  # noqa: B019  # a set lives as long as the tests
    def said(self, plan: str) -> Report:
        """The review of a plan."""
        return review(self.folder / f"{plan}.yaml")
