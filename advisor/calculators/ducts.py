"""How long a duct may be, and how long it counts with its bends."""

from __future__ import annotations

from typing import Annotated

from advisor.calculators._base import (
    Between,
    Length,
    Number,
    Result,
    calculator,
    need,
)

_FOOT = 0.3048
_DRYER_LONGEST, _DRYER_BEND = 35 * _FOOT, 5 * _FOOT
_HOOD_BEND = 10 * _FOOT  # sheets of makers give 7 to 15 ft for 6 and 8 in duct


@calculator("hoods", "length", ("irc-2021: M1502.4.6.1",))
def longest_dryer_duct(bends: Number, half_bends: Number = 0) -> Result:
    """Longest run of a dryer duct: 35 ft less 5 ft a bend of 90 degrees and 2.5 ft a bend of 45.

    Parameters: bends of 90 degrees with a radius of 4 in; half_bends, those of 45 degrees. Each 0 to 50.
    Returns: Result [m], never below 0; the maker of the dryer may allow more.  Raises: OutOfRange.

    >>> round(longest_dryer_duct(4).value / 0.3048, 6)                 # 35 - 4 x 5
    15.0

    References: IRC 2021, M1502.4.6.1 and its table.
    """
    _need_counts(bends, half_bends)
    return Result(
        max(0.0, _DRYER_LONGEST - (bends + half_bends / 2) * _DRYER_BEND),
        "length",
        "35 ft - {bends} x 5 ft - {half_bends} x 2.5 ft",
    )


@calculator("hoods", "length", ("common practice",))
def duct_with_bends(length: Annotated[Length, Between(0, 100)], bends: Number, half_bends: Number = 0) -> Result:
    """Straight duct that loses as much as this one with its bends: 10 ft more a bend, 5 ft a half bend.

    Parameters: length [m], 0 to 100; bends of 90 degrees and half_bends of 45, each 0 to 50.
    Returns: Result [m].  Raises: OutOfRange.

    >>> round(duct_with_bends(8 * 0.3048, 2).value / 0.3048, 6)        # 8 + 2 x 10
    28.0

    References: common practice, as in the sheets of makers for 6 in round duct.
    """
    _need_counts(bends, half_bends)
    return Result(
        length + (bends + half_bends / 2) * _HOOD_BEND,
        "length",
        "{length} + {bends} x 10 ft + {half_bends} x 5 ft",
    )


def _need_counts(bends: float, half_bends: float) -> None:
    need("bends", bends, 0, 50, "number")
    need("half_bends", half_bends, 0, 50, "number")
