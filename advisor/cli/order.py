"""`advisor order`: the order of work with reasons, its calendar, and both as files."""

from __future__ import annotations

import sys
from datetime import date
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from advisor.review.days.timetable import Options
    from advisor.review.model import Report
    from advisor.review.order.work_order import WorkOrder

Rules = Annotated[list[Path] | None, typer.Option("--rules", metavar="DIR", help="A folder of rule packs of your own.")]
_MOST_HOURS = 24


class OrderFormat(StrEnum):
    """Forms of the order of work."""

    text = "text"
    json = "json"
    ics = "ics"
    svg = "svg"
    html = "html"


def order(
    plan: Annotated[Path, typer.Argument(metavar="PLAN", help="A plan file; - reads standard input.")],
    start: Annotated[str | None, typer.Option(metavar="DATE", help="First day, such as 2026-05-04.")] = None,
    hours_per_day: Annotated[float | None, typer.Option(help="Working hours in a day.")] = None,
    days: Annotated[str | None, typer.Option(metavar="mon,sat,…", help="Days of the week that are worked.")] = None,
    form: Annotated[OrderFormat, typer.Option("--format", help="text, json, ics, svg or html.")] = OrderFormat.text,
    rules: Rules = None,
    output: Annotated[Path | None, typer.Option(help="Write to this file; - is the screen.")] = None,
) -> None:
    """Show the order of work, why it is so, and on which days it comes out."""
    from advisor.cli.files import put

    options = _options(start, hours_per_day, days)
    text = _rendered(plan, options, form.value, rules or [])
    put(text, output, form.value)


def _options(start: str | None, hours_per_day: float | None, days: str | None) -> Options:
    from advisor.errors import clip
    from advisor.review.days.timetable import Options
    from advisor.review.days.worktime import WEEKDAYS

    first = None
    if start is not None:
        try:
            first = date.fromisoformat(start)
        except ValueError:
            raise _mistake(f"--start is '{clip(start)}'. Expected a date, such as 2026-05-04.") from None
    if hours_per_day is not None and not 0 < hours_per_day <= _MOST_HOURS:
        raise _mistake(f"--hours-per-day is {hours_per_day:g}. Expected more than 0 and at most 24.")
    worked = None
    if days is not None:
        names = [word.strip().lower()[:3] for word in days.split(",") if word.strip()]
        unknown = [name for name in names if name not in WEEKDAYS]
        if unknown or not names:
            said = f"'{clip(unknown[0])}' is no day" if unknown else "no day is named"
            raise _mistake(f"--days: {said}. Expected some of {', '.join(WEEKDAYS)}.")
        worked = tuple(sorted({WEEKDAYS.index(name) for name in names}))
    return Options(first, hours_per_day, worked)


def _rendered(plan: Path, options: Options, form: str, rules: list[Path]) -> str:
    from advisor.plan import read_plan
    from advisor.review.planned_work import replan
    from advisor.review.reviewing import review_plan
    from advisor.rulebase.base import load_rulebase

    rulebase = load_rulebase(rules)
    report = review_plan(read_plan(plan, rulebase.vocabulary), rulebase)
    work, impossible = replan(report, rulebase, options)
    if impossible:
        raise _mistake(impossible)
    return _in_form(report, work, form)


def _in_form(report: Report, work: WorkOrder, form: str) -> str:
    if form == "json":
        return _json(report, work)
    if form == "ics":
        from advisor.reports.calendar import as_calendar, start_of

        if start_of(report) is None:
            raise _mistake("a calendar file needs a first day. Give one: --start 2026-05-04.")
        return as_calendar(report, work).decode("utf-8")
    if form == "svg":
        from advisor.reports.calendar_chart import calendar_chart

        chart = calendar_chart(report)
        if chart is None:
            raise _mistake("the plan has no steps, so that there is nothing to draw.")
        return chart.svg + "\n"
    if form == "html":
        from advisor.reports.order_html import as_order_html

        return as_order_html(report, work)
    from advisor.reports.order_text import as_order_text

    return as_order_text(report, work)


def _json(report: Report, work: WorkOrder) -> str:
    import json

    from advisor.reports.data import SCHEMA
    from advisor.reports.order_data import moved_data, not_kept_data, schedule_data
    from advisor.reports.order_text import entries

    constraints = [
        {
            "first": c.first,
            "then": c.then,
            "wait_hours": c.lag / 60,
            "rule": c.rule,
            "why": c.reason,
            "finding": c.finding or None,
        }
        for c in work.constraints
    ]
    data = {
        "schema": SCHEMA,
        "plan": {"file": report.plan.file, "title": report.plan.title},
        "order": entries(work),
        "turned_pairs": work.turned,
        "fewest": work.exact,
        "moves": list(map(moved_data, report.moves)),
        "given_up": list(map(not_kept_data, report.given_up)),
        "constraints": constraints,
        "schedule": schedule_data(report.schedule),
        "cautions": list(report.cautions),
    }
    return json.dumps(data, ensure_ascii=False, indent=2) + "\n"


def _mistake(message: str) -> typer.Exit:
    print(message[:1].upper() + message[1:] if not message.startswith("--") else message, file=sys.stderr)
    return typer.Exit(2)
