"""What can be taken away: files for paper, for a shop, for a calendar."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import TYPE_CHECKING

from advisor.errors import InputError, Problem
from advisor.reports.pointing import ON_PAGE
from advisor.review.model import Report

if TYPE_CHECKING:
    from advisor.review.order.work_order import WorkOrder

Maker = Callable[[Report, str], str]


def _checklist(form: str) -> Maker:
    def make(report: Report, text: str) -> str:
        from advisor.reports.checklist_text import as_checklist_html

        return as_checklist_html([report], form=form)

    return make


def _whole(report: Report, text: str) -> str:
    from advisor.reports.html import as_html

    return as_html([report], points=ON_PAGE)


def _summary(report: Report, text: str) -> str:
    from advisor.reports.html import as_brief_html

    return as_brief_html(report, ON_PAGE)


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
        message = "A calendar file needs a first day. Go back and choose it beside the button."
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


# By the word in the address: its kind, and what makes it. HTML opens in a tab, for printing.
SHEETS: dict[str, tuple[str, Maker]] = {
    "checklist": ("text/html", _checklist("list")),
    "summary": ("text/html", _summary),
    "supplies": ("text/csv", _supplies),
    "hazards": ("text/html", _hazards),
    "exercise": ("text/html", _checklist("exercise")),
    "key": ("text/html", _checklist("answers")),
    "order": ("text/html", _order),
    "calendar": ("text/calendar", _calendar),
    "review": ("text/html", _whole),
    "plan": ("application/yaml", _plan),
}
_ENDINGS = {"text/html": "html", "text/csv": "csv", "text/calendar": "ics", "application/yaml": "yaml"}


def file_name(title: str, what: str, kind: str) -> str:
    """What a file is called: by the title of its plan, in letters that every system takes."""
    short = re.sub(r"[^a-z0-9]+", "-", title.lower()).strip("-")[:40].strip("-")
    own = [one for one in (short, "" if short and what == "plan" else what) if one]
    return f"{'-'.join(own)}.{_ENDINGS[kind]}"
