"""Wood: how much it moves with the seasons, how wet it gets, what a slab weighs."""

from __future__ import annotations

from typing import Annotated

from advisor.calculators._base import (
    Column,
    Length,
    Moisture,
    OutOfRange,
    Part,
    Result,
    Unit,
    calculator,
    need,
)

Coefficient = Annotated[float, Unit("number"), Column("wood_species", "tangential", "species")]


@calculator("wood", "length", ("wood-handbook-2010: ch. 13, eq. 13-2",))
def wood_movement(width: Length, coefficient: Coefficient, from_: Moisture, to: Moisture) -> Result:
    """Change in width of a board between two moisture contents: width x coefficient x (to - from).

    Parameters: width, at the moisture it starts from [m], 0 < width <= 10; coefficient, dimensional change
    coefficient for 1 % change of moisture [-], 0 < coefficient <= 0.01; from_, to, moisture contents [%],
    6 to 14, the range in which the equation holds.
    Returns: Result [m], positive where the board swells.  Raises: OutOfRange, naming the limit.

    >>> white_fir = wood_movement(9.15 * 0.0254, 0.00245, 8, 11)      # ch. 13, example: 0.067 in
    >>> round(white_fir.value / 0.0254, 3)
    0.067

    References: Wood Handbook, FPL-GTR-190 (2010), ch. 13, eq. 13-2 and the example after it.
    """
    need("width", width, 0, 10, "length", open_low=True)
    need("coefficient", coefficient, 0, 0.01, "number", open_low=True)
    for name, moisture in (("from", from_), ("to", to)):
        if not 6 <= moisture <= 14:
            raise OutOfRange(
                name, f"must be from 6 % to 14 % (Wood Handbook, eq. 13-2), got {moisture:g} %"
            )
    return Result(
        width * coefficient * (to - from_),
        "length",
        "{width} x {coefficient} x ({to} - {from})",
        (
            Part("width", width, "length"),
            Part("coefficient", coefficient, "number"),
            Part("from", from_, "moisture"),
            Part("to", to, "moisture"),
        ),
    )
