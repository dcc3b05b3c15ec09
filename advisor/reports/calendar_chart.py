"""The calendar of the work as bars, with its table; and the day on which each step starts."""

from __future__ import annotations

from advisor.reports.charts import Chart
from advisor.review.model import Report


def days_of(report: Report) -> dict[str, str]:
    """The day on which each step starts, where the report has a schedule."""
    return {}


def calendar_chart(report: Report) -> Chart | None:
    """The bars, or None where the report has no schedule."""
    return None
