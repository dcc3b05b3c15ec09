"""What can be taken away: files for paper, for a shop, for a calendar."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from advisor.errors import InputError, Problem
from advisor.review.model import Report

if TYPE_CHECKING:
    from advisor.review.order.work_order import WorkOrder

Maker = Callable[[Report, str], str]


def _checklist(form: str) -> Maker:
    def make(report: Report, text: str) -> str:
        from advisor.reports.checklist import as_checklist_html

        return as_checklist_html([report], form=form)

    return make


def _whole(report: Report, text: str) -> str:
    from advisor.reports.html import as_html

    return as_html([report])


def _summary(report: Report, text: str) -> str:
    from advisor.reports.html import as_brief_html

    return as_brief_html(report)


def _supplies(report: Report, text: str) -> str:
    from advisor.reports.supplies import as_supplies_csv

    return "\ufeff" + as_supplies_csv(report)


def _hazards(report: Report, text: str) -> str:
    from advisor.reports.hazards import as_hazards_html

    return as_hazards_html(report)


def _order(report: Report, text: str) -> str:
    from advisor.reports.order_html import as_order_html

    return as_order_html(report, _worked(report))


def _calendar(report: Report, text: str) -> str:
    from advisor.reports.calendar import as_calendar, start_of

    work = _worked(report)
    if start_of(report) is None:
        message = "A calendar file needs a first day. Say in the plan: crew: {start: 2027-03-01}, with your own day."
        raise InputError([Problem(report.plan.file, 0, 0, message)])
    return as_calendar(report, work).decode()


def _worked(report: Report) -> WorkOrder:
    from advisor.review.days.timetable import Options
    from advisor.review.planned_work import replan
    from advisor.rulebase.base import load_rulebase

    work, impossible = replan(report, load_rulebase(), Options())
    if impossible:
        raise InputError([Problem(report.plan.file, 0, 0, impossible)])
    return work


def _plan(report: Report, text: str) -> str:
    return text


# By the word in the address: the file's name, its kind, and what makes it. HTML opens in a tab, for printing.
SHEETS: dict[str, tuple[str, str, Maker]] = {
    "checklist": ("checklist.html", "text/html", _checklist("list")),
    "summary": ("summary.html", "text/html", _summary),
    "supplies": ("supplies.csv", "text/csv", _supplies),
    "hazards": ("hazards.html", "text/html", _hazards),
    "exercise": ("exercise.html", "text/html", _checklist("exercise")),
    "key": ("key.html", "text/html", _checklist("answers")),
    "order": ("order.html", "text/html", _order),
    "calendar": ("calendar.ics", "text/calendar", _calendar),
    "review": ("review.html", "text/html", _whole),
    "plan": ("plan.yaml", "application/yaml", _plan),
}
