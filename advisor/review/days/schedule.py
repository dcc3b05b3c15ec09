"""When each piece of work is done: the shortest calendar that was found for it.

Method: activities are taken from a list one by one, and each starts as soon as what it waits for is over and
enough people are free for the whole of it (the serial scheme of project scheduling; for lists that respect the
constraints some list always gives an optimum). Lists tried are the order of work itself, three sorted by what
still hangs on an activity, and then walks of lists in which an activity or two are moved at random (fixed seed),
each step no worse than the last. It stops at a lower bound or when its number of tries is used up. The order of work
wins over any list that is not shorter. How far this is from the optimum is measured in the tests.
"""

from __future__ import annotations

import heapq
from bisect import bisect_right, insort
from collections.abc import Sequence
from typing import TYPE_CHECKING

from msgspec import Struct, field

from advisor.review.days.activities import Activity
from advisor.review.days.worktime import DAY, Calendar

if TYPE_CHECKING:
    import random

_TRIES = 60_000  # activities placed in all while searching
_MOST_TRIES = 4_000  # lists
_WALKS = 5


class Placed(Struct):
    """Where an activity stands. `start` and `end` are calendar time, `work` its first minute of work time [min]."""

    start: int
    end: int
    work: int
    free_at: int  # end and the hands-off time after it
    slack: int = 0  # minutes of work time by which it may slip
    people: tuple[int, ...] = ()
    cause: int = -1  # the activity that it had to wait for
    why: str = ""
    overtime: bool = False  # done in the evening, by the clock
    held_back: bool = False  # could be done sooner, and would only begin an outage sooner


class Schedule(Struct):
    """All activities placed; times in minutes of calendar time from midnight of the first day."""

    placed: list[Placed]
    finish: int  # all work done and all waits over
    bound: int  # no schedule finishes sooner than this
    chain: list[int] = field(default_factory=list)  # what the finish hangs on, first to last


class Crew:
    """How many people are busy at any minute of work time, as steps of a staircase."""

    def __init__(self, people: int) -> None:
        self.people = people
        self.times, self.busy = [0], [0]

    def earliest(self, moment: int, work: int, people: int) -> int:
        """First minute from `moment` on at which so many are free for that long."""
        times, busy, most = self.times, self.busy, self.people - people
        i = bisect_right(times, moment) - 1
        start = moment
        while True:
            if busy[i] > most:
                i += 1
                start = times[i]
            elif i + 1 == len(times) or times[i + 1] >= start + work:
                return start
            else:
                i += 1

    def take(self, start: int, work: int, people: int) -> None:
        """Mark people as busy."""
        first, last = self._cut(start), self._cut(start + work)
        for i in range(first, last):
            self.busy[i] += people
        for i in (last, first):
            if 0 < i < len(self.times) and self.busy[i] == self.busy[i - 1]:
                del self.times[i], self.busy[i]

    def _cut(self, moment: int) -> int:
        i = bisect_right(self.times, moment) - 1
        if self.times[i] == moment:
            return i
        self.times.insert(i + 1, moment)
        self.busy.insert(i + 1, self.busy[i])
        return i + 1


def schedule(work: Sequence[Activity], people: int, calendar: Calendar) -> Schedule:
    """The schedule of activities that stand in an order in which they may be done, for a crew of `people`.

    Activities may ask for no more people than there are. Deterministic: no clock, a fixed seed.
    """
    search = _Search(work, people, calendar)
    placed, finish = search.best()
    return Schedule(placed, finish, search.bound)


class _Search:
    def __init__(self, work: Sequence[Activity], people: int, calendar: Calendar) -> None:
        self.work, self.people, self.calendar = work, people, calendar
        self.after: list[list[tuple[int, int]]] = [[] for _ in work]
        for i, one in enumerate(work):
            for before, lag, _ in one.before:
                self.after[before].append((i, lag))
        # Calendar minutes in which one minute of work is done, on average over a week.
        self.stretch = 7 * 24 * 60 / (calendar.minutes * len(set(calendar.days)))
        self.bound = self._bound()

    def best(self) -> tuple[list[Placed], int]:
        best = list(range(len(self.work)))
        placed, finish = self.place(best)
        for stretch in (1.0, self.stretch, 0.0):
            if finish <= self.bound:
                return placed, finish
            tried = self._sorted(self._tails(stretch))
            found, end = self.place(tried)
            if end < finish:
                best, placed, finish = tried, found, end
        return self._shuffle(best, placed, finish)

    def _shuffle(self, best: list[int], placed: list[Placed], finish: int) -> tuple[list[Placed], int]:
        """Walk from the best list, then from lists sorted by blurred rests; a list as good as the last is a step."""
        if finish <= self.bound:
            return placed, finish
        import random  # most calendars are as short as can be without it

        chance = random.Random(6)
        rests = self._tails(self.stretch)
        tries = min(_MOST_TRIES, _TRIES // max(1, len(best))) // _WALKS
        for walk in range(_WALKS):
            now, least = best, finish
            if walk:
                now = self._sorted([rest * chance.uniform(0.5, 1.5) for rest in rests])
                least = self.place(now)[1]
            for _ in range(tries):
                if finish <= self.bound:
                    return placed, finish
                tried = self._move(now, chance)
                if chance.random() < 0.3:
                    tried = self._move(tried, chance)
                found, end = self.place(tried)
                if end <= least:
                    now, least = tried, end
                if end < finish:
                    best, placed, finish = tried, found, end
        return placed, finish

    def _move(self, order: list[int], chance: random.Random) -> list[int]:
        """The list with one activity moved between what must come before and what must come after it."""
        order = list(order)
        here = chance.randrange(len(order))
        one = order.pop(here)
        place = {activity: k for k, activity in enumerate(order)}
        low = max((place[b] + 1 for b, _, _ in self.work[one].before), default=0)
        high = min((place[a] for a, _ in self.after[one]), default=len(order))
        order.insert(chance.randint(low, high), one)
        return order

    def place(self, order: Sequence[int]) -> tuple[list[Placed], int]:
        """Place the activities of a list; and when all is over."""
        calendar, crew = self.calendar, Crew(self.people)
        found: list[Placed] = [None] * len(order)  # type: ignore[list-item]
        finish = 0
        for i in order:
            one = self.work[i]
            ready = calendar.begins(one.not_before * calendar.minutes) if one.not_before else 0
            if one.result is not None:
                ready = max(ready, calendar.begins(0) + one.result.time)
            for before, lag, _ in one.before:
                ready = max(ready, found[before].end + lag)
            if one.by_itself and not one.work:
                start = max(ready, calendar.begins(0))
                found[i] = Placed(
                    start, start + one.by_itself, calendar.worked(start), start + one.by_itself + one.tail
                )
            else:
                begin = self._begin(one, calendar.worked(ready), crew)
                if one.same_day and calendar.begins(begin) // DAY > ready // DAY and ready > calendar.begins(0):
                    found[i] = self._today(one, ready, crew)
                    finish = max(finish, found[i].free_at)
                    continue
                if one.people and one.work:
                    crew.take(begin, one.work, one.people)
                # Nothing to do takes no time: it is over when it is due, not the evening before.
                end = calendar.ends(begin + one.work) if one.work else max(ready, calendar.ends(begin))
                start = calendar.begins(begin) if one.work else end
                found[i] = Placed(start, end, begin, end + one.tail)
            finish = max(finish, found[i].free_at)
        return found, finish

    def _today(self, one: Activity, ready: int, crew: Crew) -> Placed:
        """In the evening, where the hours of the day do not hold it: oily rags and dust do not lie about overnight.
        It begins at once with who is free, else when the day's work is over."""
        calendar = self.calendar
        begin = calendar.worked(ready)
        left = -begin % calendar.minutes if calendar.begins(begin) == ready else 0
        if left and one.people:
            if crew.earliest(begin, left, one.people) == begin:
                crew.take(begin, left, one.people)
            else:
                ready += left
        return Placed(ready, ready + one.work, begin, ready + one.work + one.tail, overtime=True)

    def _begin(self, one: Activity, moment: int, crew: Crew) -> int:
        """The first minute of work from `moment` on at which its people are free and the day is long enough."""
        while True:
            free = crew.earliest(moment, one.work, one.people) if one.people else moment
            moment = self.calendar.uncut(free, one.at_a_stretch)
            if moment == free:
                return free

    def _tails(self, stretch: float) -> list[float]:
        """For each activity what must still pass from its start to the end of all that hangs on it."""
        tails = [0.0] * len(self.work)
        for i in range(len(self.work) - 1, -1, -1):
            one = self.work[i]
            then = max((lag + tails[a] for a, lag in self.after[i]), default=0.0)
            tails[i] = one.work * stretch + one.by_itself + max(then, one.tail)
        return tails

    def _sorted(self, tails: list[float]) -> list[int]:
        waiting = [len(one.before) for one in self.work]
        ready = [(-tails[i], i) for i, count in enumerate(waiting) if not count]
        heapq.heapify(ready)
        order = []
        while ready:
            _, i = heapq.heappop(ready)
            order.append(i)
            for then, _ in self.after[i]:
                waiting[then] -= 1
                if not waiting[then]:
                    heapq.heappush(ready, (-tails[then], then))
        return order

    def _bound(self) -> int:
        """A finish that no schedule beats: the longest chain alone, and all the work for the people there are."""
        people, self.people = self.people, sum(one.people for one in self.work)
        free, chain = self.place(range(len(self.work)))
        self.people = people
        busy = [i for i, one in enumerate(self.work) if one.people and one.work]
        if not busy or people < 1:
            return chain
        head = min(free[i].work for i in busy)
        load = -(-sum(self.work[i].work * self.work[i].people for i in busy if not self.work[i].same_day) // people)
        rest = min(self._least_rest())
        return max(chain, self.calendar.ends(head + load) + rest)

    def _least_rest(self) -> list[int]:
        """For each crew activity the hands-off time at least from its end to the finish."""
        rest = [0] * len(self.work)
        for i in range(len(self.work) - 1, -1, -1):
            one = self.work[i]
            then = max((lag + self.work[a].by_itself + rest[a] for a, lag in self.after[i]), default=0)
            rest[i] = max(one.tail, then)
        return [rest[i] for i, one in enumerate(self.work) if one.people and one.work]


def hand_out(work: Sequence[Activity], result: Schedule, people: int) -> dict[int, list[tuple[int, int]]]:
    """Give each activity its people; the activities of each person in order, as (minute of work time, activity)."""
    diary: dict[int, list[tuple[int, int]]] = {who: [] for who in range(people)}
    free = [(0, who) for who in range(people)]
    for i in sorted(range(len(work)), key=lambda k: (result.placed[k].work, k)):
        one, place = work[i], result.placed[i]
        if not one.people or not one.work or place.overtime:
            continue
        # Who has been free for the shortest time goes on, so that a person's day has few holes.
        able = sorted((f for f in free if f[0] <= place.work), key=lambda f: (-f[0], f[1]))[: one.people]
        place.people = tuple(sorted(who for _, who in able))
        for entry in able:
            free.remove(entry)
            insort(free, (place.work + one.work, entry[1]))
            diary[entry[1]].append((place.work, i))
    return diary
