"""The length of schedules against the optimum, which CP-SAT of `ortools`, a general solver, proves.

The solver gets a model written here from nothing but the definition: working hours listed one by one, a job in
one piece of working time, some jobs in one piece of a day, waits by the clock, people as a cumulative resource.
"""

from __future__ import annotations

import random

import pytest
from ortools.sat.python import cp_model

from advisor.review.days.activities import Activity
from advisor.review.days.schedule import schedule
from advisor.review.days.worktime import Calendar

_WEEKS = 30


def generated(seed: int) -> tuple[list[Activity], int, Calendar]:
    """Up to 15 jobs in whole hours, with waits up to two days, on weeks of two, five or six days."""
    chance = random.Random(seed)
    people = chance.choice((1, 1, 1, 2, 3))
    count = chance.randint(4, 15)
    work = []
    for i in range(count):
        tail = chance.choice((0, 0, 24, 48)) * 60
        one = Activity(f"s{i}", 0, chance.randint(1, 9) * 60, chance.randint(1, people), 0, tail, 0)
        for before in sorted(chance.sample(range(i), min(i, chance.choice((0, 1, 1, 2))))):
            one.before.append((before, chance.choice((0, 0, 4, 16, 24, 48)) * 60, "test"))
        work.append(one)
    for one in work:
        one.at_a_stretch = one.work * (seed % 3 == 0 and len(one.before) < 2)  # some jobs that no night cuts
    days = chance.choice(((0, 1, 2, 3, 4), (0, 1, 2, 3, 4), (5, 6), (0, 1, 2, 3, 4, 5)))
    return work, people, Calendar(chance.choice((4, 6, 8)) * 60, days)


def optimum(work: list[Activity], people: int, calendar: Calendar, known: int) -> int:
    """What no schedule can finish before [h of calendar time]: the optimum where the solver proves it in its time.

    `known` is a finish that was reached, so that later hours need not be looked at.
    """
    opening = min(8, 24 - calendar.minutes // 60)
    first = next(d for d in sorted(calendar.days) if (d - 1) % 7 not in calendar.days)
    slots = [
        24 * day + opening + hour
        for day in range(7 * _WEEKS)
        if (first + day) % 7 in calendar.days
        for hour in range(calendar.minutes // 60)
    ]
    slots = slots[: sum(slot < known for slot in slots) + 1]
    done = [slots[0]] + [slot + 1 for slot in slots[:-1]]  # when so many hours are done
    model = cp_model.CpModel()
    starts = [model.new_int_var(0, len(slots) - 1 - one.work // 60, "") for one in work]
    ends = [start + one.work // 60 for start, one in zip(starts, work, strict=True)]
    lengths = [one.work // 60 for one in work]
    for one, start in zip(work, starts, strict=True):
        hours = calendar.minutes // 60
        if 0 < one.at_a_stretch // 60 <= hours:
            whole = [k for k in range(len(slots)) if k % hours + one.at_a_stretch // 60 <= hours]
            model.add_allowed_assignments([start], [(k,) for k in whole])
    jobs = [model.new_fixed_size_interval_var(s, length, "") for s, length in zip(starts, lengths, strict=True)]
    model.add_cumulative(jobs, [one.people for one in work], people)
    finish = model.new_int_var(0, known, "")
    tables: dict[int, list[int]] = {}
    for one, start, end in zip(work, starts, ends, strict=True):
        over = model.new_int_var(0, slots[-1] + 1, "")
        model.add_element(end, done, over)
        model.add(finish >= over + one.tail // 60)
        for before, lag, _ in one.before:
            if lag not in tables:
                later = [next((k for k, s in enumerate(slots) if s >= t + lag // 60), len(slots)) for t in done]
                tables[lag] = later
            ready = model.new_int_var(0, len(slots), "")
            model.add_element(ends[before], tables[lag], ready)
            model.add(start >= ready)
    model.minimize(finish)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_deterministic_time = 1.5
    assert solver.solve(model) in (cp_model.OPTIMAL, cp_model.FEASIBLE, cp_model.UNKNOWN)
    return round(solver.best_objective_bound)


@pytest.mark.parametrize("seed", range(300))
def test_no_schedule_is_five_percent_longer_than_the_optimum(
    seed: int, record_property: pytest.RecordProperty, capsys: pytest.CaptureFixture[str]
) -> None:
    work, people, calendar = generated(seed)
    begin = calendar.begins(0) // 60

    found = schedule(work, people, calendar)
    least = optimum(work, people, calendar, found.finish // 60)
    gap = (found.finish / 60 - least) / (least - begin)
    record_property("gap", f"{gap:.4f}")
    with capsys.disabled():
        print(
            f" {len(work)} jobs, {people} people: {found.finish / 60 - begin:g} h, optimum {least - begin} h, {gap:.2%}"
        )

    assert found.bound / 60 <= least <= found.finish / 60
    assert gap <= 0.05
