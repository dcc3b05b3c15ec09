"""The order of work as one HTML file, with the calendar as bars and as a table."""

from __future__ import annotations

from msgspec import Struct

from advisor.reports.calendar_chart import calendar_chart, days_told, rows_of
from advisor.reports.data import made_by_words
from advisor.reports.html import plan_title, render
from advisor.reports.order_text import bans_at, moved_words, told_holds, words_of_order
from advisor.reports.schedule_text import hours, summary
from advisor.review.model import Report
from advisor.review.order.work_order import WorkOrder


class _Step(Struct, frozen=True):
    name: str
    day: str
    why: str
    bans: tuple[str, ...]
    holds: tuple[tuple[str, str], ...]


def as_order_html(report: Report, work: WorkOrder) -> str:
    """The page; every string of the plan is escaped by the template."""
    days, bans = days_told(report), bans_at(report)
    steps = [
        _Step(
            row.step,
            days.get(row.step, ""),
            " ".join(t for t in (row.why, row.waiting) if t),
            tuple(ban.said for ban in bans.get(row.step, ())),
            tuple((f.signal, f.what) for f in told_holds(work, row.step)),
        )
        for row in work.entries()
    ]
    return render(
        "order.html.j2",
        title=plan_title(report),
        rings=[ring.told() for ring in work.rings],
        moved=moved_words(work, report),
        steps=steps,
        calendar=calendar_chart(report),
        summary=summary(report.schedule),
        presumed=[f"{row.step} {text}." for row in rows_of(report) for text in row.presumed],
        constraints=[
            f"{c.first} before {c.then}{f', {hours(c.lag / 60)} later' if c.lag else ''}: {c.reason} ({c.rule})"
            for c in work.constraints
        ],
        words=words_of_order(report, work),
        cautions=report.cautions,
        made_by=made_by_words(report),
    )
