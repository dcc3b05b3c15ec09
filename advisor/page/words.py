"""Short lines of the page: how many findings, how much can be judged, what a change did."""

from __future__ import annotations

from advisor.reports.comparison import changes
from advisor.reports.schedule_text import count
from advisor.review.compare import Comparison
from advisor.review.model import Report


def counts(report: Report) -> dict[str, int]:
    """Findings by signal word, and what is open."""
    return report.counts() | {"open": len(report.open)}


def gauge(report: Report) -> str:
    """How much of the plan can be judged."""
    speak = len({finding.rule for finding in report.findings})
    left = len({one.rule for one in report.open})
    met = len({rule for step in report.account for rule in step.met} - {f.rule for f in report.findings})
    return f"{speak + left + met} practices concern this plan; {speak} speak, {met} are met, {left} cannot be told yet."


def changed(found: Comparison) -> str:
    """What a change did to the findings, and how much still cannot be told."""
    still = f" {count(len(found.open), 'practice')} cannot be told yet." if found.open else ""
    return changes(found) + still
