"""Many plans at a glance: one line each, gravest count first, and what they come to together."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.errors import Problem
from advisor.reports.text import first_thing, headline
from advisor.review.model import Report

WORDS = ("danger", "warning", "caution", "notice")


def totals_line(reports: Sequence[Report], problems: Sequence[Problem]) -> str:
    """What all plans come to, in one sentence."""
    counts = [(sum(report.count(word) for report in reports), word) for word in WORDS]
    said = [f"{count} {word}{'s' * (count != 1)}" for count, word in counts if count] or ["no findings"]
    accepted = sum(len(report.accepted) for report in reports)
    broken = len({problem.file for problem in problems})
    read = sum(bool(report.plan.steps) or bool(report.looked_at) for report in reports)
    text = f"{read} plan{'s' * (read != 1)} reviewed: {', '.join(said)}"
    text += f"; {accepted} accepted" if accepted else ""
    return text + (f"; {broken} could not be read." if broken else ".")


def plan_line(report: Report) -> str:
    """One plan: its file and what was found there."""
    accepted = f"; {len(report.accepted)} accepted" if report.accepted else ""
    return f"{report.plan.file}: {headline(report)}{accepted}."


def plan_row(report: Report) -> tuple[str, ...]:
    """One plan as cells: file, counts from danger to notice, accepted, the first thing to do."""
    first = first_thing(report)
    counts = [str(report.count(word)) for word in WORDS]
    return (report.plan.file, *counts, str(len(report.accepted)), first.what if first else "")
