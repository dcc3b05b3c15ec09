"""The calendar of the work as bars, with its table; and the day on which each step starts."""

from __future__ import annotations

from datetime import date, timedelta

from advisor.reports import svg
from advisor.reports.charts import Chart
from advisor.reports.schedule_text import day, hours, moment, slip, summary
from advisor.review.days.model import Moment, Timetable, WorkRow
from advisor.review.model import Report

_LEFT, _RIGHT, _TOP, _ROW = 8.0, 352.0, 48.0, 32.0
_MOST_DATES = 7
_LETTER = 7.0  # the width of a letter, at most on the average
_DAY = 24 * 60
_LEGEND = ("filled: work; dashes: wait", "bold edge and *: a delay here delays the end")  # a line fits the picture
FILLS_A_WAIT = "A row that starts before the one above it fills a wait there; no rule is broken."
HEADER = ("Step", "From", "To", "Work", "Then wait", "May slip", "Held up by")


def days_of(report: Report) -> dict[str, str]:
    """The day on which each step starts, where the report has a schedule."""
    days: dict[str, str] = {}
    for row in _rows(report):  # by time, and so are the days
        days.setdefault(row.step, day(row.begins))
    return days


def days_told(report: Report) -> dict[str, str]:
    """The same for a list in the order of work: a word where a step starts on an earlier day than one above it."""
    days = days_of(report)
    latest = 0
    for row in rows_of(report):
        if row.begins.day < latest and days[row.step] == day(row.begins):
            days[row.step] += ", in a wait of the steps above"
        latest = max(latest, row.begins.day)
    return days


def rows_of(report: Report) -> list[WorkRow]:
    """The rows of the schedule in the order of work, as every list has them; none where there is no schedule."""
    place = {row.step: k for k, row in enumerate(report.order)}
    return sorted(_rows(report), key=lambda row: place.get(row.step, len(place)))


def _rows(report: Report) -> tuple[WorkRow, ...]:
    return report.schedule.rows if isinstance(report.schedule, Timetable) else ()


def runs_back(rows: list[WorkRow]) -> list[bool]:
    """For each row whether it starts before the one above it: where it fills a wait, dates do not run forward."""
    begun = [starts(row.begins) for row in rows]
    return [k > 0 and start < begun[k - 1] for k, start in enumerate(begun)]


def calendar_chart(report: Report) -> Chart | None:
    """The bars, or None where the report has no schedule."""
    rows = rows_of(report)
    if not rows:
        return None
    said = " ".join([*summary(report.schedule), *([FILLS_A_WAIT] if any(runs_back(rows)) else [])])
    return Chart("calendar", "Calendar", said, _drawing(rows, said), HEADER, tuple(map(cells, rows)))


def cells(row: WorkRow) -> tuple[str, ...]:
    """A row of the table that says what its bar shows."""
    work = hours(row.hours) if not row.by_itself_hours else f"{hours(row.by_itself_hours)} by itself"
    work += f" x {row.people}" if row.people > 1 else ""
    work += " (hired)" if row.hired else ""
    late = "no, a delay here delays the end" if row.holds_up else slip(row)
    why = ": ".join(one for one in (row.held_up_by, row.held_up_why) if one) or "-"
    return (row.name, moment(row.begins), moment(row.ends), work, hours(row.wait_hours), late, why)


def starts(at: Moment) -> int:
    """A moment in minutes from the midnight of the first day."""
    return (at.day - 1) * _DAY + int(at.time[:2]) * 60 + int(at.time[3:])


def _drawing(rows: list[WorkRow], said: str) -> str:
    first = min(row.begins.day for row in rows) - 1
    spans = [(starts(r.begins), starts(r.ends), starts(r.ends) + round(r.wait_hours * 60)) for r in rows]
    days = max(1, (max(s[2] for s in spans) - 1) // _DAY + 1 - first)

    def across(minutes: float) -> float:
        return float(_LEFT + (minutes / _DAY - first) / days * (_RIGHT - _LEFT))

    bottom = _TOP + _ROW * len(rows)
    step = -(-days // _MOST_DATES)
    shapes = [svg.text(_LEFT, 12 + 14 * k, line) for k, line in enumerate(_LEGEND)]
    for number in range(0, days, step):
        x = across((first + number) * _DAY)
        label = _date(rows, first + number)
        shapes.append(svg.line([(x, _TOP - 4), (x, bottom)], "1 3"))
        if x + 2 + _LETTER * len(label) <= svg.WIDTH:  # the last one may have no room
            shapes.append(svg.text(x + 2, _TOP - 6, label))
    for k, (row, (start, end, free)) in enumerate(zip(rows, spans, strict=True)):
        y = _TOP + _ROW * k
        shapes.append(svg.text(_LEFT, y + 13, ("* " if row.holds_up else "") + row.name))
        # A short job on a long calendar still has to be seen.
        left, right = across(start), max(across(end), across(start) + 2)
        shapes.append(svg.box(left, y + 17, right - left, 9, "#555" if row.holds_up else "#d9d9d9"))
        if row.holds_up:
            shapes.append(svg.line([(left, y + 27), (right, y + 27)], width=2))
        if free > end:
            shapes.append(svg.line([(right, y + 21.5), (max(across(free), right + 1), y + 21.5)], "4 3", 2))
    return svg.picture(bottom + 6, shapes, said)


def _date(rows: list[WorkRow], number: int) -> str:
    at = rows[0].begins
    if at.date is None:
        return f"day {number + 1}"
    that = date.fromisoformat(at.date) + timedelta(days=number - (at.day - 1))
    return f"{that.month}/{that.day}"
