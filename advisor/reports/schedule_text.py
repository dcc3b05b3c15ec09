"""The schedule in words: moments, hours, and the few lines that stand in the report."""

from __future__ import annotations

import shlex
from collections import Counter
from collections.abc import Sequence
from datetime import date
from math import floor

from advisor.reports.wrapped import wrapped
from advisor.review.days.model import Moment, NoTimetable, Spending, Timetable, Without, WorkRow
from advisor.review.model import Report

MOST_LINES = 8
_WHOLE_FROM, _QUARTER = 20, 0.25  # hours
_MOST_KINDS = 3  # of advised work, named
_MOST_STEPS = 6  # of the chain, named in the report
_LEAST_PRESSING = (
    "A delay at any of these delays the end:",
    "You do without at least:",
    "Later than you planned:",
)


def moment(at: Moment) -> str:
    """`Mon 2026-05-04 08:00`, or `day 1 08:00` where no start is known."""
    if at.date is None:
        return f"day {at.day} {at.time}"
    return f"{date.fromisoformat(at.date):%a} {at.date} {at.time}"


def day(at: Moment) -> str:
    """`Mon 2026-05-04`, or `day 1`."""
    return moment(at).rsplit(" ", 1)[0]


def hours(value: float) -> str:
    """`5 h`, `30 min`, `2.5 days` for waits of more than two days; a dash for none."""
    if not value:
        return "-"
    if value < 1:
        return f"{round(value * 60)} min"
    return f"{value / 24:.3g} days" if value >= 72 else f"{value:.3g} h"


def slip(row: WorkRow) -> str:
    """How late a piece of work may be: some hours, none, or not to be put off at all."""
    return "at once" if row.at_once and not row.holds_up else hours(row.slack_hours)


def count(number: int, noun: str) -> str:
    """`1 day`, `2 days`."""
    return f"{number} {noun}{'s' * (number != 1)}"


def without(one: Without) -> str:
    """`kitchen sink for 3 days (at most 2 wanted)`."""
    text = f"{one.what.removeprefix('room ')} for {count(one.days, 'day')}"
    if not one.brought_back:
        text += " and on: no step brings it back"
    return text + (f" (at most {one.allowed} wanted)" if one.too_long else "")


def money_line(money: Spending) -> str:
    """Costs, reserve and total against the budget; empty where the plan names no cost."""
    beside = [f"{one.costs:,.0f} {one.unit} ({_few(one.of)})" for one in money.others]
    apart = f"Not added, being another money: {', '.join(beside)}." if beside else ""
    own = money.costs
    if own is None:
        return apart
    presumed = ", presumed" if own.reserve_presumed else ""
    text = f"{own.costs:,.0f} {own.unit}, with {own.reserve_share:.0%} for surprises{presumed}: "
    text += f"{own.total:,.0f} {own.unit}"
    if own.left is not None:
        over = f"{-own.left:,.0f} {own.unit} short" if own.left < 0 else f"{own.left:,.0f} {own.unit} left"
        text += f" of {own.budget:,.0f} {own.unit} ({over})"
    if money.unpriced:
        text += f"; no price for {_few(money.unpriced)}"
    return f"{text}. {apart}".rstrip()


def summary(schedule: Timetable | NoTimetable | None) -> list[str]:
    """What the schedule comes to, one statement an item, the same for every format."""
    if schedule is None:
        return []
    if isinstance(schedule, NoTimetable):
        return [schedule.why]
    said = [_total(schedule), _calendar(schedule), _uncounted(schedule), *(one.told() for one in schedule.results)]
    if schedule.critical_chain:
        said.append(f"A delay at any of these delays the end: {_few(schedule.critical_chain)}.")
    if schedule.without:
        said.append(f"You do without at least: {'; '.join(map(without, schedule.without))}.")
    said.append(money_line(schedule.money))
    if schedule.late:
        said.append(f"Too late: {schedule.late}.")
    moved = [f"{r.step} (planned for day {r.planned_day})" for r in schedule.rows if r.planned_day is not None]
    if moved:
        said.append(f"Later than you planned: {_few(moved)}.")
    return [one for one in said if one]


def argument(report: Report) -> str:
    """What to type for the plan in a command: its file as it was given, or `-` for what came from standard input."""
    return "-" if report.plan.file == "<stdin>" else shlex.quote(report.plan.file)


def report_lines(report: Report, width: int) -> list[str]:
    """The lines of the report, eight at most; the last one names the command that shows all.

    Where there is more to say, whole statements go, the least pressing first; none is cut in the middle.
    """
    if report.schedule is None:
        return []
    said = summary(report.schedule)
    more = f"All of it, hour by hour: advisor order {argument(report)}"

    def lines() -> list[str]:
        return wrapped(" ".join([*said, more]), width, "  ", "  ")

    for least in _LEAST_PRESSING:
        if len(lines()) > MOST_LINES:
            said = [one for one in said if not one.startswith(least)]
    return lines()


def _total(schedule: Timetable) -> str:
    work, presumed = schedule.work_hours, schedule.presumed_hours
    text = f"{hours_of_work(work)} of work"
    if presumed:
        # Taken from the hours as shown, so that a reader's sum comes out.
        step = 1 if work >= _WHOLE_FROM else _QUARTER
        stated = round((work - presumed) / step) * step
        rest = _rounded(work) - stated
        shown = hours_of_work(rest) if rest > 0 else "a little"
        text += f", {hours_of_work(stated)} as stated and {shown} by common rates" if stated else ", by common rates"
    if schedule.hired_hours:
        text += f", and {hours_of_work(schedule.hired_hours)} by others"
    if schedule.asked_hours:
        text += f", and {hours_of_work(schedule.asked_hours)} more for work that is asked for here"
    budget, over = schedule.budget_hours, _over(schedule)
    if budget is not None and over:
        clock = _by_clock(schedule)
        together = f" {hours_of_work(clock)} by the clock," if _rounded(clock) != _rounded(work) else ""
        text += f";{together} {hours_of_work(over)} more than the {hours_of_work(budget)} at hand"
    return text + "."


def _uncounted(schedule: Timetable) -> str:
    """The advised work that no row of the calendar has; empty where there is none."""
    kinds = list(dict.fromkeys(word for word, _ in Counter(schedule.uncounted).most_common()))
    if not kinds:
        return ""
    more = f" and {len(kinds) - _MOST_KINDS} other kinds" if len(kinds) > _MOST_KINDS + 1 else ""
    named = ", ".join(kinds[:_MOST_KINDS] if more else kinds)
    many = len(schedule.uncounted)
    return f"Advised work that is not counted in it: {many} piece{'s' * (many != 1)} ({named}{more})."


def _over(schedule: Timetable) -> float:
    """Hours by the clock beyond those at hand, as shown; 0 where there is time enough or no limit."""
    budget = schedule.budget_hours
    return max(0.0, _rounded(_by_clock(schedule)) - budget) if budget is not None else 0.0


def _by_clock(schedule: Timetable) -> float:
    """Hours as those count them who give a job ten hours: two who work together are there at the same time."""
    return schedule.work_hours if schedule.clock_hours is None else schedule.clock_hours


def tight(schedule: Timetable | NoTimetable | None) -> str:
    """What does not fit though no rule may speak of it: `3.75 h too few for the work`; empty where all fits."""
    if schedule is None:
        return ""
    if isinstance(schedule, NoTimetable):
        return "no calendar can be made"
    over, own = _over(schedule), schedule.money.costs
    said = [
        f"{hours_of_work(over)} too few for the work" if over else "",
        f"{-own.left:,.0f} {own.unit} short" if own is not None and own.left is not None and own.left < 0 else "",
        "done too late" if schedule.late else "",
    ]
    return ", ".join(one for one in said if one)


def _rounded(value: float) -> float:
    """Hours as one says them: quarters, from twenty on whole ones. No plan is known to the minute."""
    return float(floor(value + 0.5)) if value >= _WHOLE_FROM else round(value / _QUARTER) * _QUARTER


def hours_of_work(value: float) -> str:
    """Hours as one says them, less than one in minutes."""
    shown = _rounded(value)
    return f"{shown:,.10g} h" if shown >= 1 else f"{round((shown or value) * 60)} min"


def _calendar(schedule: Timetable) -> str:
    text = f"{count(schedule.working_days, 'working day')}, {count(schedule.calendar_days, 'day')} on the calendar"
    rows = schedule.rows
    if schedule.start and rows:
        text += f", {day(rows[0].begins)} to {day(max((r.ends for r in rows), key=_order))}"
    if schedule.ready is not None and schedule.ready_days > schedule.calendar_days:
        text += f"; dry and cured {'on' if schedule.start else 'by'} {day(schedule.ready)}"
    if schedule.presumed:
        text += f" (presumed: {', '.join(schedule.presumed)})"
    return text + "."


def _order(at: Moment) -> tuple[int, str]:
    return at.day, at.time


def _few(names: Sequence[str]) -> str:
    more = f" and {len(names) - _MOST_STEPS} more" if len(names) > _MOST_STEPS else ""
    return ", ".join(names[:_MOST_STEPS]) + more
