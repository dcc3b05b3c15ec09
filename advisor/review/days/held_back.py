"""What the house would do without for nothing: a step that begins an outage does not stand days before the next one.

The schedule places each piece of work as soon as it may be done. That takes the only toilet out on the first morning,
though the floor under it waits a week for a laboratory. So what begins an outage, with all that hangs on such a step
alone, moves to the last place before what follows it, where that spares the house a day at least.
"""

from __future__ import annotations

from collections.abc import Sequence

from advisor.review.days.activities import Activity
from advisor.review.days.schedule import Crew, Placed
from advisor.review.days.worktime import DAY, Calendar


def hold_back(work: Sequence[Activity], placed: list[Placed], people: int, calendar: Calendar) -> None:
    """Place what starts an outage anew where it stands a day or more before what waits for it; no other work moves."""
    after: list[list[tuple[int, int]]] = [[] for _ in work]
    for i, one in enumerate(work):
        for before, lag, _ in one.before:
            after[before].append((i, lag))
    crew = Crew(people)
    for one, place in zip(work, placed, strict=True):
        if one.people and one.work and not place.overtime:
            crew.take(place.work, one.work, one.people)
    for i in sorted(range(len(work)), key=lambda k: (placed[k].start, k), reverse=True):
        one, place = work[i], placed[i]
        if not one.starts_outage or not one.work or not after[i] or place.overtime:
            continue
        due = min(placed[a].start - lag for a, lag in after[i])
        if one.people:
            crew.take(place.work, one.work, -one.people)
        begin = _last_place(one, calendar.worked(due), place.work, crew, calendar)
        start = calendar.begins(begin)
        if start // DAY > place.start // DAY:
            end = calendar.ends(begin + one.work)
            placed[i] = Placed(start, end, begin, end + one.tail, held_back=True)
        if one.people:
            crew.take(placed[i].work, one.work, one.people)


def _last_place(one: Activity, due: int, now: int, crew: Crew, calendar: Calendar) -> int:
    """The last minute of work from which it is done by `due` with the people who are free; `now` if none is later."""
    for end in sorted({due, *(time for time in crew.times if time < due)}, reverse=True):
        begin = calendar.uncut_before(end - one.work, one.at_a_stretch)
        if begin <= now:
            break
        if not one.people or crew.earliest(begin, one.work, one.people) == begin:
            return begin
    return now
