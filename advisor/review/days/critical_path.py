"""What the finish hangs on: how much each piece of work may slip, and the chain that may not."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from advisor.review.days.activities import Activity
from advisor.review.days.schedule import Schedule, hand_out
from advisor.review.days.worktime import Calendar


def find_chain(work: Sequence[Activity], result: Schedule, people: int, calendar: Calendar) -> None:
    """Fill in slack, people and causes of the placed activities, and the critical chain of the schedule.

    Slack counts with the people as they are given out: the next job of the same person waits too.
    """
    diary = hand_out(work, result, people)
    next_jobs: list[list[int]] = [[] for _ in work]
    last_jobs: list[list[int]] = [[] for _ in work]
    for jobs in diary.values():
        for (_, before), (_, after) in pairwise(jobs):
            next_jobs[before].append(after)
            last_jobs[after].append(before)
    _slack(work, result, next_jobs, calendar)
    _causes(work, result, last_jobs, calendar)
    end = max(range(len(work)), key=lambda i: (result.placed[i].free_at, -i), default=-1)
    while end >= 0:
        result.chain.append(end)
        end = result.placed[end].cause
    result.chain.reverse()


def _slack(work: Sequence[Activity], result: Schedule, next_jobs: list[list[int]], calendar: Calendar) -> None:
    placed = result.placed
    after: list[list[tuple[int, int]]] = [[] for _ in work]
    for i, one in enumerate(work):
        for before, lag, _ in one.before:
            after[before].append((i, lag))
    latest = [0] * len(work)  # calendar time at which an activity may start at the latest
    for i in sorted(range(len(work)), key=lambda k: (placed[k].start, placed[k].end, k), reverse=True):
        one = work[i]
        due = min([result.finish - one.tail, *(latest[a] - lag for a, lag in after[i])])
        due = min([due, *(latest[job] for job in next_jobs[i])])
        if one.work:
            begin = calendar.uncut_before(calendar.worked(due) - one.work, one.at_a_stretch)
            latest[i] = calendar.begins(max(begin, placed[i].work))
            placed[i].slack = max(0, begin - placed[i].work)
        else:
            latest[i] = max(due - one.by_itself, placed[i].start)
            placed[i].slack = max(0, calendar.worked(latest[i]) - calendar.worked(placed[i].start))


def _causes(work: Sequence[Activity], result: Schedule, last_jobs: list[list[int]], calendar: Calendar) -> None:
    """For each activity the one whose end held it up: what is free last, a wait before a busy hand."""
    placed = result.placed
    for i, one in enumerate(work):
        found = [(placed[b].end + lag, lag > 0, -b, why) for b, lag, why in one.before]
        found += [(placed[b].end, False, -b, "the same hands") for b in last_jobs[i]]
        ready = max(found, default=None)
        day = calendar.begins(one.not_before * calendar.minutes) if one.not_before else -1
        answered = calendar.begins(0) + one.result.time if one.result is not None else -1
        if one.result is not None and answered > day and (ready is None or answered >= ready[0]):
            placed[i].why = one.result.what
            continue
        if ready is None or day >= ready[0]:
            continue
        # Early enough for its place means that something else decided; nothing held it up then.
        placed[i].cause, placed[i].why = -ready[2], ready[3]
