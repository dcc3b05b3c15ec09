"""The order of work on the calendar."""

from __future__ import annotations

from datetime import date

from msgspec import Struct
from msgspec.structs import replace

from advisor.plan.model import Entity, Plan
from advisor.plan.said import action_of, number, words
from advisor.review.days.activities import Activity, activities
from advisor.review.days.asked_work import asked_work, uncounted
from advisor.review.days.critical_path import find_chain
from advisor.review.days.held_back import hold_back
from advisor.review.days.hours import Hours, step_hours
from advisor.review.days.model import Before, Moment, Timetable, Without, WorkRow
from advisor.review.days.money import money
from advisor.review.days.outages import Outage, outages
from advisor.review.days.schedule import Placed, Schedule, schedule
from advisor.review.days.worktime import DAY, WEEKDAYS, Calendar, NoWorkingTime, usual_days
from advisor.review.finding import Finding
from advisor.review.order.constraints import own_waits
from advisor.review.order.lab_results import WaitTold, waits_told
from advisor.review.order.work_order import WorkOrder
from advisor.rulebase.vocabulary import Vocabulary

_EIGHT_HOURS, _FIVE_DAYS, _ALONE = 8 * 60, 5, 1  # presumed where the plan does not say
METHOD = (
    "serial scheme over lists: order of work, longest rest first, single moves; "
    "coats and glue by the clock, work by working hours"
)


class Options(Struct, frozen=True):
    """What the command line says of the calendar; what it leaves out comes from the plan."""

    start: date | None = None
    hours_per_day: float | None = None
    days: tuple[int, ...] | None = None  # Monday is 0


class _Basis(Struct, frozen=True):
    calendar: Calendar
    people: int
    presumed: tuple[str, ...]


def timetable(
    plan: Plan, order: WorkOrder, findings: list[Finding], vocabulary: Vocabulary, options: Options | None = None
) -> Timetable:
    """The schedule of an order of work. Raises NoWorkingTime where nobody works, or never."""
    basis = _basis(plan, options or Options())
    hours = step_hours(
        replace(plan, steps=order.steps),
        vocabulary,
        own_waits(findings),
        basis.people,
        {c.first for c in order.constraints if c.lag},
    )
    if basis.people < 1 and any(h.work and not h.hired for h in hours.values()):
        raise NoWorkingTime("Nobody is there to work: the crew has 0 people. Say how many: 'crew: {people: 1}'.")
    work = activities(
        plan, order, hours, vocabulary, asked_work(findings, {step.id: action_of(step) for step in order.steps})
    )
    result = schedule(work, max(basis.people, 1), basis.calendar)
    hold_back(work, result.placed, basis.people, basis.calendar)
    find_chain(work, result, max(basis.people, 1), basis.calendar)
    times: dict[str, tuple[int, int]] = {}
    for one, place in zip(work, result.placed, strict=True):
        start = times.get(one.step, (place.start, 0))[0]
        times[one.step] = (start, max(place.free_at, times.get(one.step, (0, 0))[1]))
    missing = outages(plan, order.steps, times, vocabulary)
    found = _data(plan, basis, hours, work, result, missing, waits_told(order.results), vocabulary)
    return replace(found, uncounted=uncounted(findings, set(times)))


def _basis(plan: Plan, options: Options) -> _Basis:
    crew = plan.entities.get("crew", {}).get("crew")
    presumed = []
    per_day, per_week, people = (number(crew, name) for name in ("hours_per_day", "days_per_week", "people"))
    minutes = _EIGHT_HOURS if per_day is None else round(per_day / 60)
    if options.hours_per_day is not None:
        minutes = round(options.hours_per_day * 60)
    elif per_day is None:
        presumed.append("8 h a day")
    days = options.days if options.days is not None else usual_days(_FIVE_DAYS if per_week is None else int(per_week))
    if options.days is None and per_week is None:
        presumed.append("Monday to Friday")
    if people is None:
        presumed.append("1 person")
    started = words(crew, "start") if crew else ()
    start = options.start or (date.fromisoformat(started[0]) if started else None)
    return _Basis(Calendar(minutes, days, start), _ALONE if people is None else int(people), tuple(presumed))


def _data(
    plan: Plan,
    basis: _Basis,
    hours: dict[str, Hours],
    work: list[Activity],
    result: Schedule,
    missing: list[Outage],
    results: tuple[WaitTold, ...],
    vocabulary: Vocabulary,
) -> Timetable:
    calendar = basis.calendar
    waits = _waits(work, result.placed)
    prompt = vocabulary.members("action", "clears the place")
    # What hangs together up to the end, but may slip over a night or a Sunday, delays nothing.
    result.chain = [i for i in result.chain if not result.placed[i].slack]
    busy = [p for a, p in zip(work, result.placed, strict=True) if a.work]
    # The days of waiting for a laboratory are days of the work: the sample goes out on the first morning.
    starts = [calendar.begins(0)] * any(a.result is not None for a in work)
    first = min([*starts, *(p.start for p in result.placed)], default=0)
    last = max((p.end for p in busy), default=result.finish)
    worked = {day for p in busy for day in range(calendar.working_day(p.start), calendar.working_day(p.end - 1) + 1)}
    budget = plan.entities.get("budget", {}).get("budget")
    calendar.moment(max((p.end + w for p, w in zip(result.placed, waits, strict=True)), default=0))  # waits end too
    return Timetable(
        method=METHOD,
        start=calendar.start.isoformat() if calendar.start else None,
        hours_per_day=calendar.minutes / 60,
        days=tuple(WEEKDAYS[d] for d in sorted(set(calendar.days))),
        people=basis.people,
        presumed=basis.presumed,
        work_hours=_hours(sum(h.man_minutes for h in hours.values())),
        presumed_hours=_hours(sum(h.man_minutes for h in hours.values() if any("takes" in p for p in h.presumed))),
        hired_hours=_hours(sum(h.work for h in hours.values() if h.hired)),
        asked_hours=_hours(sum(one.work for one in work if one.task)),
        budget_hours=number(budget, "hours"),
        clock_hours=_hours(sum(h.work for h in hours.values() if h.people)),
        working_days=len(worked),
        calendar_days=(max(last - 1, first) // DAY) - first // DAY + 1,
        ready=_moment(result.finish, calendar),
        ready_days=(max(result.finish - 1, first) // DAY) - first // DAY + 1,
        least_days=(max(result.bound - 1, first) // DAY) - first // DAY + 1,
        late=_late(plan, budget, calendar, result.finish),
        critical_chain=tuple(dict.fromkeys(work[i].step for i in result.chain)),
        without=tuple(_without(one, calendar) for one in missing),
        money=money(plan, hours),
        rows=tuple(
            _row(i, work, result, hours[work[i].step], plan, calendar, _hours(waits[i]), prompt)
            for i in _by_time(work, result)
        ),
        results=results,
    )


def _by_time(work: list[Activity], result: Schedule) -> list[int]:
    return sorted(range(len(work)), key=lambda i: (result.placed[i].start, result.placed[i].end, i))


def _row(
    i: int,
    work: list[Activity],
    result: Schedule,
    hours: Hours,
    plan: Plan,
    calendar: Calendar,
    wait: float,
    prompt: frozenset[str],
) -> WorkRow:
    one, place = work[i], result.placed[i]
    step = plan.entities["step"][one.step] if "step" in plan.entities else None
    planned = number(step, "day")
    at_once = step is not None and not one.task and action_of(step) in prompt
    later = planned is not None and not one.task and one.coat in (0, 1) and calendar.working_day(place.start) > planned
    return WorkRow(
        step=one.step,
        coat=one.coat or None,
        begins=_moment(place.start, calendar),
        ends=_moment(place.end, calendar),
        free=_moment(place.free_at, calendar),
        hours=_hours(one.work),
        people=hours.asked if hours.hired else one.people,
        hired=hours.hired,
        by_itself_hours=_hours(one.by_itself),
        slack_hours=0.0 if at_once else _hours(place.slack),
        critical=i in result.chain,
        held_up_by=work[place.cause].step if place.cause >= 0 else None,
        held_up_why=place.why or None,
        presumed=(
            *(hours.presumed if one.coat in (0, 1) and not one.task else ()),
            *([one.result.told()] if one.result else []),
        ),
        planned_day=int(planned) if planned is not None and later else None,
        wait_hours=wait,
        task=one.task,
        at_once=at_once,
        held_back=place.held_back or one.waits_along,
        before=tuple(
            Before(work[k].step, _hours(lag), _moment(result.placed[k].end + lag, calendar), why)
            for k, lag, why in one.before
            if work[k].step != one.step
        ),
    )


def _waits(work: list[Activity], placed: list[Placed]) -> list[int]:
    """For each activity the hands-off time that something waits after it, its own included: not that of which the most
    runs after another activity anyway, as the days before furniture comes back run from the last coat; nor that of what
    comes behind other work which waits less and is not over sooner, as a shelf comes behind the paint on the primer."""
    after: list[dict[int, int]] = [{} for _ in work]
    for i, one in enumerate(work):
        for before, lag, _ in one.before:
            after[before][i] = max(lag, after[before].get(i, 0))
    behind = _behind(after)
    waits = []
    for i, (one, own) in enumerate(zip(work, after, strict=True)):
        lags = [
            lag
            for then, lag in own.items()
            if not any(after[other].get(then, -1) >= lag for other in own)
            and not (
                placed[then].start > placed[i].end + lag
                and any(0 < least < lag and behind[other] >> then & 1 for other, least in own.items())
            )
        ]
        waits.append(max([one.tail, *lags]))
    return waits


def _behind(after: list[dict[int, int]]) -> list[int]:
    """For each activity all that come behind it, at once or by way of others, as bits by their numbers: sets of a
    thousand steps on one part would take hundreds of megabytes. None comes before its number."""
    found = [0] * len(after)
    for i in range(len(after) - 1, -1, -1):
        for then in after[i]:
            found[i] |= found[then] | 1 << then
    return found


def _without(one: Outage, calendar: Calendar) -> Without:
    return Without(
        what=one.name,
        days=one.days,
        begins=_moment(one.start, calendar),
        ends=_moment(one.end, calendar),
        first_step=one.first,
        last_step=one.last,
        brought_back=one.back,
        allowed=one.allowed,
        too_long=one.allowed is not None and (one.days > one.allowed or not one.back),
    )


def _late(plan: Plan, budget: Entity | None, calendar: Calendar, finish: int) -> str | None:
    """How the schedule misses the days or the deadline of the budget; None where it does not."""
    allowed = number(budget, "days")
    days = max(finish - 1, 0) // DAY + 1
    if allowed is not None and days > allowed:
        return f"{days} days from start to end; the plan allows {allowed:.0f}"
    until = words(budget, "deadline") if budget else ()
    end = calendar.moment(max(finish - 1, 0))
    if until and end and end.date() > date.fromisoformat(until[0]):
        return f"done on {end.date().isoformat()}; the deadline is {until[0]}"
    return None


def _moment(at: int, calendar: Calendar) -> Moment:
    day, into = divmod(at, DAY)
    when = calendar.moment(at)
    date_known = when.date().isoformat() if when else None
    return Moment(day + 1, calendar.working_day(at), date_known, f"{into // 60:02d}:{into % 60:02d}")


def _hours(minutes: int) -> float:
    return round(minutes / 60, 2)


__all__ = ["Options", "Placed", "timetable"]
