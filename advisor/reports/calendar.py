"""The schedule as a calendar file (RFC 5545), for any calendar program.

Times are floating: local wall-clock time without a zone, so that eight in the morning stays eight in the
morning over a change to or from daylight saving time. A wait that runs over the change in spring is an hour
shorter on the clock than by the hour-glass; labels do not go by the hour there. UIDs come from the plan's title
and the step's name, so that a second import moves the events instead of doubling them. No clock is read:
DTSTAMP is the first day of the work.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from uuid import NAMESPACE_URL, uuid5

from icalendar import Calendar, Event

from advisor.reports.calendar_chart import rows_of
from advisor.reports.clean import legible
from advisor.review.days.model import Moment, Timetable, WorkRow
from advisor.review.model import Report
from advisor.review.order.work_order import WorkOrder
from advisor.review.told_once import untwinned

PRODUCT = "-//prework advisor//order of work//EN"


def start_of(report: Report) -> str | None:
    """The first day of the calendar; None where it has none."""
    return report.schedule.start if isinstance(report.schedule, Timetable) else None


def as_calendar(report: Report, work: WorkOrder) -> bytes:
    """The calendar file: an event for each piece of work and, marked as free time, one for each wait.

    Raises ValueError where the schedule has no start.
    """
    start = start_of(report)
    if start is None:
        raise ValueError("a calendar file needs a start")
    stamp = datetime.combine(date.fromisoformat(start), time(), UTC)
    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    title = legible(report.plan.title or report.plan.file)
    for row in rows_of(report):
        begin, end = _local(row.begins), _local(row.ends)
        about = "" if row.coat not in (None, 1) else _before(row.step, work)
        notes = [about, *(f"Presumed: {text}." for text in row.presumed)]
        calendar.add_component(
            _event(title, row, "", begin, end, stamp, "\n".join(n for n in notes if n), row.by_itself_hours > 0)
        )
        if row.wait_hours:
            over = end + timedelta(hours=row.wait_hours)
            calendar.add_component(_event(title, row, "wait", end, over, stamp, "Hands off until this is over.", True))
    return bytes(calendar.to_ical())


def uid(title: str, row: WorkRow, kind: str) -> str:
    """The name of an event that stays the same from one schedule to the next."""
    return str(uuid5(NAMESPACE_URL, "\n".join(("prework-advisor", title, row.step, str(row.task or row.coat), kind))))


def _event(
    title: str,
    row: WorkRow,
    kind: str,
    begin: datetime,
    end: datetime,
    stamp: datetime,
    notes: str,
    free: bool,
) -> Event:
    event = Event()
    event.add("uid", uid(title, row, kind))
    event.add("dtstamp", stamp)
    event.add("dtstart", begin)
    event.add("dtend", max(begin, end))
    event.add("summary", legible(f"{kind}: {row.name}" if kind else row.name))
    if notes:
        event.add("description", "\n".join(legible(line) for line in notes.split("\n")))
    event.add("transp", "TRANSPARENT" if free else "OPAQUE")
    return event


def _local(at: Moment) -> datetime:
    assert at.date is not None  # a calendar with a start has dates
    return datetime.combine(date.fromisoformat(at.date), time.fromisoformat(at.time))


def _before(step: str, work: WorkOrder) -> str:
    held = [f"[ ] {finding.signal.upper()}: {finding.what}" for finding in untwinned(work.holds.get(step, []))]
    return "\n".join(["Before this step:", *held]) if held else ""
