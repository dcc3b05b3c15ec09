"""Working time: minutes of work and the days and hours in which they fall, against the minutes counted one by one."""

from __future__ import annotations

import random
from datetime import date, datetime, time, timedelta

import pytest

from advisor.review.days.worktime import Calendar, NoWorkingTime


@pytest.mark.parametrize("seed", range(20))
def test_working_time_agrees_with_counting_minute_by_minute(seed: int) -> None:
    """Every minute of four weeks is looked at on its own by `datetime`."""
    chance = random.Random(seed)
    days = tuple(sorted(chance.sample(range(7), chance.randint(1, 7))))
    minutes = chance.choice((60, 4 * 60, 8 * 60, 17 * 60, 24 * 60))
    start = date(2026, 3, chance.randint(1, 28))
    calendar = Calendar(minutes, days, start)
    opens = min(8 * 60, 24 * 60 - minutes)
    midnight = datetime.combine(start, time())
    open_minutes = [
        m for m in range(28 * 24 * 60)
        if (midnight + timedelta(minutes=m)).weekday() in days and opens <= m % (24 * 60) < opens + minutes
    ]  # fmt: skip
    spots = [chance.randrange(len(open_minutes)) for _ in range(50)]

    assert [calendar.begins(k) for k in spots] == [open_minutes[k] for k in spots]
    assert [calendar.ends(k + 1) for k in spots] == [open_minutes[k] + 1 for k in spots]
    for moment in (chance.randrange(28 * 24 * 60) for _ in range(20)):
        assert calendar.worked(moment) == sum(m < moment for m in open_minutes)


def test_no_day_and_no_hour_are_refused() -> None:
    for minutes, days in ((480, ()), (0, (0,)), (1441, (0,))):
        with pytest.raises(NoWorkingTime):
            Calendar(minutes, days)
