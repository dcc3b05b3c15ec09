"""Order of work and calendar as plain data, for JSON: the contract of `order`, `moves`, `given_up` and `schedule`."""

from __future__ import annotations

from typing import Any

from advisor.review.days.model import Moment, NoTimetable, Spending, Timetable, Without, WorkRow
from advisor.review.order.told import MovedStep, NotKept, PlaceInOrder

Data = dict[str, Any]


def place_of_step(one: PlaceInOrder) -> Data:
    """A step of the order: place, line, and for a moved one why, past which steps and by which rule."""
    row: Data = {"step": one.step, "line": one.line, "place": one.place}
    if one.moved:
        row |= {"why": one.why, "moved": one.moved, "moved_past": list(one.moved_past), "rule": one.rule}
    if one.waits_for:
        waits = one.waits_for
        row["waits_for"] = {"what": waits.what, "days": waits.days, "hours": waits.time / 60}
    if one.holds:
        row["holds"] = list(one.holds)
    return row


def moved_data(one: MovedStep) -> Data:
    """A move: the step with those that belong to it, the step that it now stands before, and its needs."""
    return {
        "step": one.step,
        "before": one.before,
        "because": one.because,
        "needs": list(one.needs),
        "with": list(one.along),
    }


def not_kept_data(one: NotKept) -> Data:
    """A need that no order keeps, or a constraint that gave way."""
    first = {"first": one.first} if one.first else {}
    return {"step": one.step, **first, "rule": one.rule, "because": one.because}


def schedule_data(found: Timetable | NoTimetable | None) -> Data:
    """The calendar; empty where none was made."""
    if found is None:
        return {}
    if isinstance(found, NoTimetable):
        return {"impossible": found.why}
    return {
        "method": found.method,
        "start": found.start,
        "hours_per_day": found.hours_per_day,
        "days": list(found.days),
        "people": found.people,
        "presumed": list(found.presumed),
        "work_hours": found.work_hours,
        "presumed_hours": found.presumed_hours,
        "hired_hours": found.hired_hours,
        "budget_hours": found.budget_hours,
        "working_days": found.working_days,
        "calendar_days": found.calendar_days,
        "ready": _moment(found.ready) if found.ready else None,
        "ready_days": found.ready_days,
        "least_days": found.least_days,
        "late": found.late,
        "critical_chain": list(found.critical_chain),
        "without": list(map(_without, found.without)),
        "money": _money(found.money),
        "rows": list(map(_row, found.rows)),
        "uncounted": list(found.uncounted),
        "results": [{"what": w.what, "hours": w.hours, "days": w.days, "steps": list(w.steps)} for w in found.results],
    }


def _moment(at: Moment) -> Data:
    return {"day": at.day, "working_day": at.working_day, "date": at.date, "time": at.time}


def _row(row: WorkRow) -> Data:
    return {
        "step": row.step,
        "coat": row.coat,
        "from": _moment(row.begins),
        "to": _moment(row.ends),
        "free": _moment(row.free),
        "hours": row.hours,
        "people": row.people,
        "hired": row.hired,
        "by_itself_hours": row.by_itself_hours,
        "slack_hours": row.slack_hours,
        **({"at_once": True} if row.at_once else {}),
        **({"held_back": True} if row.held_back else {}),
        "critical": row.critical,
        "held_up_by": row.held_up_by,
        "held_up_why": row.held_up_why,
        "presumed": list(row.presumed),
        **({} if row.planned_day is None else {"planned_day": row.planned_day}),
        "wait_hours": row.wait_hours,
        **({"task": row.task} if row.task else {}),
    }


def _without(one: Without) -> Data:
    return {
        "what": one.what,
        "days": one.days,
        "from": _moment(one.begins),
        "to": _moment(one.ends),
        "first_step": one.first_step,
        "last_step": one.last_step,
        "brought_back": one.brought_back,
        "allowed": one.allowed,
        "too_long": one.too_long,
    }


def _money(money: Spending) -> Data:
    if money == Spending():
        return {}
    sums = money.costs
    own = {} if sums is None else {name: getattr(sums, name) for name in type(sums).__struct_fields__}
    beside = [{"unit": one.unit, "costs": one.costs, "of": list(one.of)} for one in money.others]
    return {**own, "unpriced": list(money.unpriced), **({"others": beside} if beside else {})}
