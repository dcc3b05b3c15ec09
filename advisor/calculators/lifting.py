"""Lifting: the weight that one person may lift, and how many people a piece asks for.

The equation is fitted in pounds and inches; its metric form is not a conversion of it. Here it is always
worked in pounds and inches, whatever units go in.
"""

from __future__ import annotations

from itertools import pairwise
from math import ceil
from typing import Annotated

from advisor.calculators._base import (
    Above,
    Angle,
    Between,
    Length,
    Mass,
    Number,
    OneOf,
    OutOfRange,
    Part,
    Result,
    Time,
    Unit,
    calculator,
    need,
)
from advisor.tables import table

PerMinute = Annotated[float, Unit("per_minute")]
Grip = Annotated[str, OneOf(("good", "fair", "poor"))]
End = Annotated[str, OneOf(("origin", "destination"))]

_INCH, _POUND = 0.0254, 0.45359237
_HOUR = 3600.0
_CLOSE = 1e-9  # 30 in arrives as 29.999999 in metres
_COUPLING = {"good": (1.0, 1.0), "fair": (0.95, 1.0), "poor": (0.90, 0.90)}


def _horizontal(reach: float) -> float:
    return 0.0 if reach > 25 + _CLOSE else min(1.0, 10 / max(reach, 10))


def _vertical(height: float) -> float:
    return 0.0 if height > 70 + _CLOSE else 1 - 0.0075 * abs(height - 30)


def _distance(travel: float) -> float:
    return 0.0 if travel > 70 + _CLOSE else 0.82 + 1.8 / max(travel, 10)


def _asymmetry(angle: float) -> float:
    return 0.0 if angle > 135 + _CLOSE else 1 - 0.0032 * angle


def _frequency(rate: float, duration: float, low: bool) -> float:
    """FM of Table 5, linear between its rows; 0 above its last row."""
    kind = "short" if duration <= _HOUR else "moderate" if duration <= 2 * _HOUR else "long"
    column = f"{kind}_{'low' if low else 'high'}"
    points = sorted((float(key), float(row.cells[column])) for key, row in table("lifting_frequency").rows.items())
    rate = max(rate, points[0][0])
    for (r0, f0), (r1, f1) in pairwise(points):
        if r0 <= rate <= r1:
            return f0 + (f1 - f0) * (rate - r0) / (r1 - r0)
    return 0.0


@calculator("lifting", "mass", ("niosh-94-110: p. 7 and Tables 2 to 7",))
def recommended_weight_limit(
    reach: Length,
    origin: Length,
    destination: Length,
    twist: Annotated[Angle, Between(0, 180)] = 0.0,
    lifts_per_minute: Annotated[PerMinute, Between(0, 60)] = 0.2,
    duration: Annotated[Time, Above(0, 8 * _HOUR)] = _HOUR,
    grip: Grip = "fair",
    end: End = "origin",
) -> Result:
    """Most that one healthy adult should lift with two hands in this lift; 0 where no weight is right.

    Not for one hand, kneeling, cramped or slippery places, an unstable load, carrying more than a step or
    two, pushing or pulling. Where the load must be placed with care, work out the destination too and take
    the lower value.

    Parameters: reach from between the ankles to the hands, at the end judged [m], 0 to 3; origin,
    destination, heights of the hands [m], 0 to 3; twist of the body, at the end judged [deg], 0 to 180;
    lifts_per_minute [1/min], 0 to 60; duration of lifting [s], 0 < t <= 8 h; grip, good, fair or poor; end
    judged, origin or destination.
    Returns: Result [kg]; parts `HM VM DM AM FM CM`, the multipliers.  Raises: OutOfRange.

    >>> inch, pound = 0.0254, 0.45359237                # example 4, origin: printed 34.9 lb
    >>> package = recommended_weight_limit(10 * inch, 22 * inch, 59 * inch, 0, 3, 3600, "fair")
    >>> round(package.value / pound, 1)
    34.8

    References: NIOSH 94-110 (1994, revised 2021), p. 7, Tables 1-7. Its printed examples round the
    multipliers first, so they differ by up to 3 % from the formulas, which govern (p. 7).
    """
    for name, height in (("reach", reach), ("origin", origin), ("destination", destination)):
        need(name, height, 0, 3, "length")
    _word("grip", grip, tuple(_COUPLING))
    _word("end", end, ("origin", "destination"))
    h, v_origin, v_end = (x / _INCH for x in (reach, origin, origin if end == "origin" else destination))
    parts = (
        Part("HM", _horizontal(h), "number"),
        Part("VM", _vertical(v_end), "number"),
        Part("DM", _distance(abs(destination - origin) / _INCH), "number"),
        Part("AM", _asymmetry(twist), "number"),
        # The frequency always takes the height at the origin, the grip the height at the end judged (p. 15).
        Part("FM", _frequency(lifts_per_minute, duration, v_origin < 30 - _CLOSE), "number"),
        Part("CM", _COUPLING[grip][v_end >= 30 - _CLOSE], "number"),
    )
    value = 51.0
    for part in parts:
        value *= part.value
    return Result(
        value * _POUND,
        "mass",
        "51 lb x {HM} x {VM} x {DM} x {AM} x {FM} x {CM}",
        parts=parts,
    )


def _word(name: str, word: str, words: tuple[str, ...]) -> None:
    if word not in words:
        raise OutOfRange(name, f"must be one of {', '.join(words)}, got '{word[:40]}'")


def _some(limit: float) -> float:
    need("limit", limit, 0, 100, "mass")
    if limit <= 0:
        raise OutOfRange("limit", "is 0: no weight is right in this lift; bring it closer, lower or slower first")
    return limit


@calculator("lifting", "number", ("niosh-94-110: p. 7, pp. 19-20",))
def lifting_index(mass: Annotated[Mass, Between(0, 1000)], limit: Mass) -> Result:
    """Weight against the recommended limit: above 1 strains some people, above 3 nearly everyone.

    Parameters: mass lifted [kg], 0 to 1000; limit, of `recommended_weight_limit` [kg], 0 < limit <= 100.
    Returns: Result [-].  Raises: OutOfRange; a limit of 0 has no index.

    >>> round(lifting_index(44 * 0.45359237, 16.3 * 0.45359237).value, 1)       # example 1: printed 2.7
    2.7

    References: NIOSH 94-110 (1994, revised 2021), p. 7 and example 1.
    """
    return Result(
        mass / _some(limit),
        "number",
        "{mass} / {limit}",
    )


@calculator("lifting", "number", ("niosh-94-110: p. 7, for one person", "common practice"))
def people_needed(mass: Annotated[Mass, Between(0, 1000)], limit: Mass) -> Result:
    """People for a piece, so that each one's equal share is within the limit for one person.

    The equation is made for one person. Sharing a piece is common practice: nobody carries an exactly equal
    share, and one person who slips loads the others, so this is the least number, not a promise.

    Parameters: mass of the piece [kg], 0 to 1000; limit for one person [kg], 0 < limit <= 100.
    Returns: Result [-], whole; part `share` [kg].  Raises: OutOfRange; a limit of 0 needs another way.

    >>> people_needed(90.3 * 0.45359237, 51 * 0.45359237).value     # 90.3 / 51 = 1.77
    2

    References: limit by NIOSH 94-110; equal shares are common practice.
    """
    people = max(1, ceil(mass / _some(limit) - 1e-9))
    return Result(
        people,
        "number",
        "{mass} / {limit}, rounded up",
        parts=(Part("share", mass / people, "mass"),),
    )


@calculator("lifting", "mass", ("common practice",))
def mass_carried(mass: Annotated[Mass, Between(0, 1000)], people: Annotated[Number, Between(1, 20)]) -> Result:
    """What each person carries of a piece, taken as equal shares.

    Parameters: mass of the piece [kg], 0 to 1000; people [-], 1 to 20.
    Returns: Result [kg].  Raises: OutOfRange.

    >>> mass_carried(40.0, 2).value
    20.0

    References: common practice; the low end on a stair carries more.
    """
    return Result(
        mass / people,
        "mass",
        "{mass} / {people}",
    )
