"""The pace of lifting: how long a stretch counts, what rest breaks it, lifts a minute with waits between."""

from __future__ import annotations

from typing import Annotated

from advisor.calculators._base import (
    Above,
    Between,
    OutOfRange,
    Part,
    Result,
    Time,
    Times,
    Unit,
    calculator,
    need,
)

PerMinute = Annotated[float, Unit("per_minute")]

_HOUR = 3600.0
_CLOSE = 1e-9


@calculator("lifting", "time", ("niosh-94-110: pp. 13-14",))
def lifting_time(work: Times, rests: Times) -> Result:
    """Lifting time that counts as one stretch, since a rest that is too short joins the work around it.

    A rest breaks the stretch if it lasts as long as the work before it (work up to 1 h) or 0.3 of it (work
    up to 2 h); after longer work no rest does.

    Parameters: work, stretches of lifting in order [s]; rests or light work between them [s], one fewer.
    Returns: Result [s], the longest stretch: short to 1 h, moderate to 2 h, long beyond.
    Raises: OutOfRange.

    >>> lifting_time((1800, 2700), (600,)).value / 60              # p. 14: 30 + 10 rest + 45 min: moderate
    75.0

    References: NIOSH 94-110 (revised 9/2021), pp. 13-14; the print of 1994 asked 1.2 times the work.
    """
    if not work or len(rests) != len(work) - 1:
        raise OutOfRange("rests", "must be one fewer than the stretches of work")
    for seconds in (*work, *rests):
        need("time", seconds, 0, 24 * _HOUR, "time")
    stretches = [work[0]]
    for rest, more in zip(rests, work[1:], strict=True):
        done = stretches[-1]
        ratio = 1.0 if done <= _HOUR else 0.3
        if done <= 2 * _HOUR and rest >= ratio * done - _CLOSE:
            stretches.append(more)
        else:
            stretches[-1] += more
    return Result(
        max(stretches),
        "time",
        "work joined over rests that are too short",
        tuple(Part(f"work_{n}", seconds, "time") for n, seconds in enumerate(work, 1)),
        tuple(Part(f"rest_{n}", seconds, "time") for n, seconds in enumerate(rests, 1)),
    )


@calculator("lifting", "time", ("niosh-94-110: pp. 13-14",))
def lifting_rest(work: Annotated[Time, Between(0, 2 * _HOUR)]) -> Result:
    """Rest or light work that breaks a stretch of lifting, so that the next one counts afresh.

    Parameters: work, lifting so far [s], 0 to 2 h.  Returns: Result [s].  Raises: OutOfRange.

    >>> lifting_rest(2 * 3600).value / 60                         # p. 14: 2 h of lifting needs 36 min
    36.0

    References: NIOSH 94-110 (revised 9/2021), pp. 13-14.
    """
    ratio = 1.0 if work <= _HOUR else 0.3
    return Result(
        ratio * work,
        "time",
        "{ratio} x {work}",
        parts=(Part("ratio", ratio, "number"),),
    )


@calculator("lifting", "per_minute", ("niosh-94-110: p. 16",))
def lifting_rate(
    lifts_per_minute: Annotated[PerMinute, Between(0, 60)],
    working: Time,
    period: Annotated[Time, Above(0, 900)] = 900.0,
) -> Result:
    """Lifts a minute averaged over the period, where lifting and waiting alternate.

    Parameters: lifts_per_minute while lifting [1/min], 0 to 60; working, time of lifting in the period [s],
    0 <= working <= period; period [s], 0 < period <= 900.
    Returns: Result [1/min].  Raises: OutOfRange.

    >>> round(lifting_rate(10, 8 * 60).value, 2)                  # p. 16: 10 a minute for 8 min in 15
    5.33

    References: NIOSH 94-110 (1994, revised 2021), p. 16.
    """
    need("working", working, 0, period, "time")
    return Result(
        lifts_per_minute * working / period,
        "per_minute",
        "{lifts_per_minute} x {working} / {period}",
    )
