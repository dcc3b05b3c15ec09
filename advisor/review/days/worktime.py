"""Working hours on the calendar.

Two clocks run side by side. *Work time* counts only the minutes in which the crew works; a step of ten hours
goes on the next morning. *Calendar time* counts every minute from midnight of the first day and is what paint
and glue go by. All times are whole minutes; day 0 is the day of the start.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta

DAY = 24 * 60
_MORNING = 8 * 60
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
# Which days a crew works that says only how many: firms work from Monday, who has one to three days has a weekend.
_USUAL = {1: (5,), 2: (5, 6), 3: (4, 5, 6), 4: (0, 1, 2, 3), 5: (0, 1, 2, 3, 4), 6: (0, 1, 2, 3, 4, 5)}


class NoWorkingTime(ValueError):
    """No working hours or days, nobody to work, or no end before calendars end; the message says which."""


def usual_days(count: int) -> tuple[int, ...]:
    """The weekdays that a crew of so many days a week works, Monday is 0. Raises NoWorkingTime below 1."""
    if count < 1:
        raise NoWorkingTime("No day of the week is worked. Give one at least, such as --days sat,sun.")
    return _USUAL.get(count, (0, 1, 2, 3, 4, 5, 6))


@dataclass(frozen=True, slots=True)
class Calendar:
    """Working hours a day [min], the weekdays worked (Monday is 0), and the first day where it is known.

    Without a start the calendar begins on a day that opens a stretch of working days: Monday for Monday to Friday.
    """

    minutes: int
    days: tuple[int, ...]
    start: date | None = None
    _offsets: tuple[int, ...] = field(init=False, repr=False, compare=False)
    _earlier: tuple[int, ...] = field(init=False, repr=False, compare=False)  # working days before a day of the cycle
    _opens: int = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        if not 0 < self.minutes <= DAY:
            raise NoWorkingTime("No hours are worked in a day. Give more than 0 and at most 24 h.")
        usual_days(len(set(self.days)))
        first = self.start.weekday() if self.start else self._opening()
        offsets = sorted((day - first) % 7 for day in set(self.days))
        object.__setattr__(self, "_offsets", tuple(offsets))
        object.__setattr__(self, "_earlier", tuple(sum(o < day for o in offsets) for day in range(8)))
        # From eight in the morning, earlier only where the day would not be long enough.
        object.__setattr__(self, "_opens", min(_MORNING, DAY - self.minutes))

    def _opening(self) -> int:
        days = set(self.days)
        return next((d for d in sorted(days) if (d - 1) % 7 not in days), 0)

    def _day(self, worked: int) -> int:
        """The calendar day of the working day of that number, both from 0."""
        weeks, rest = divmod(worked, len(self._offsets))
        return 7 * weeks + self._offsets[rest]

    def begins(self, work: int) -> int:
        """Calendar time at which that minute of work begins."""
        worked, into = divmod(work, self.minutes)
        return self._day(worked) * DAY + self._opens + into

    def uncut(self, work: int, stretch: int) -> int:
        """The first minute of work from `work` on after which the day still has that stretch, if any day has."""
        into = work % self.minutes
        return work if stretch > self.minutes or into + stretch <= self.minutes else work - into + self.minutes

    def uncut_before(self, work: int, stretch: int) -> int:
        """The last minute of work up to `work` after which the day still has that stretch, if any day has."""
        over = work % self.minutes + stretch - self.minutes
        return work if stretch > self.minutes or over <= 0 else work - over

    def ends(self, work: int) -> int:
        """Calendar time at which so many minutes of work are done; the evening, not the next morning."""
        return self.begins(work - 1) + 1 if work > 0 else self.begins(0)

    def worked(self, moment: int) -> int:
        """Minutes of work that lie before a calendar time."""
        if moment <= 0:
            return 0
        day, into = divmod(moment, DAY)
        weeks, rest = divmod(day, 7)
        before, after = self._earlier[rest], self._earlier[rest + 1]
        into = min(max(into - self._opens, 0), self.minutes) if after > before else 0
        return (weeks * len(self._offsets) + before) * self.minutes + into

    def working_day(self, moment: int) -> int:
        """Number of the working day, from 1, that a calendar time lies in or that comes next after it."""
        day = moment // DAY
        weeks, rest = divmod(day, 7)
        return weeks * len(self._offsets) + self._earlier[rest] + 1

    def moment(self, at: int) -> datetime | None:
        """Local date and time of a calendar time; None where no start is known. Wall clock, without a zone."""
        if self.start is None:
            return None
        try:
            return datetime.combine(self.start, time()) + timedelta(minutes=at)
        except OverflowError:
            first = self.start.isoformat()
            raise NoWorkingTime(
                f"Begun on {first}, the work would end after the year 9999, where calendars end. "
                "Give an earlier first day, or shorter times."
            ) from None
