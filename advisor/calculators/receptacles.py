"""Receptacles: how many along a counter, how far from one, how many on an island, by edition of the code.

Only the edition that a town adopted binds, with the town's own changes: ask the building department.
"""

from __future__ import annotations

from itertools import pairwise
from math import ceil
from typing import Annotated

from advisor.calculators._base import (
    Above,
    Between,
    Length,
    Lengths,
    OneOf,
    OutOfRange,
    Part,
    Result,
    calculator,
    need,
)
from advisor.tables import Row, table

Edition = Annotated[str, OneOf(("2014", "2017", "2020", "2023"))]

_LITTLE = 1e-9  # counts must not change with the last bit of a length


@calculator("electrical", "number", ("nfpa-70-2023: 210.52(C)(1)",))
def receptacles_along_top(length: Annotated[Length, Between(0, 30)], edition: Edition = "2023") -> Result:
    """Fewest receptacles along one wall counter: length / 48 in, rounded up; none below 12 in.

    Parameters: length of one unbroken space along the wall [m], 0 to 30; a range, sink or refrigerator ends
    it; edition of the code.
    Returns: Result [-].  Raises: OutOfRange.

    >>> [receptacles_along_top(inches * 0.0254).value for inches in (11.9, 12, 48, 49, 96, 97)]
    [0.0, 1.0, 1.0, 2.0, 2.0, 3.0]

    References: NFPA 70, 210.52(C)(1): no point of the wall line more than 24 in from a receptacle.
    """
    least, reach = edition_cell(edition, "wall_least"), edition_cell(edition, "wall_reach")
    inputs = (Part("length", length, "length"), Part("reach", reach, "length"))
    if length < least - _LITTLE:
        return Result(0.0, "number", "{length} is less than {least}: 0", inputs, (Part("least", least, "length"),))
    return Result(float(ceil(length / (2 * reach) - _LITTLE)), "number", "{length} / (2 x {reach}), rounded up", inputs)


@calculator("electrical", "length", ("nfpa-70-2023: 210.52(C)(1)",))
def farthest_from_receptacle(length: Annotated[Length, Above(0, 30)], positions: Lengths) -> Result:
    """Farthest that any point of a run is from its nearest receptacle: the ends, or half of the widest gap.

    Parameters: length of the unbroken run [m], above 0 to 30; positions of the receptacles from its left end
    [m], one at least, each within the run.
    Returns: Result [m] and a part `farthest_point` with its place.  Raises: OutOfRange.

    >>> inch = 0.0254
    >>> round(farthest_from_receptacle(60 * inch, (18 * inch, 42 * inch)).value / inch, 6)
    18.0

    References: NFPA 70, 210.52(C)(1), limit 24 in along a counter; 210.52(A), 6 ft along other walls.
    """
    if not positions:
        raise OutOfRange("positions", "must name one receptacle at least")
    for position in positions:
        need("positions", position, 0, length, "length")
    placed = sorted(positions)
    reaches = [(placed[0], 0.0), (length - placed[-1], length)]
    reaches += [((b - a) / 2, (a + b) / 2) for a, b in pairwise(placed)]
    farthest, place = max(reaches)
    return Result(
        farthest,
        "length",
        "greatest of {first}, {last} and half of {widest_gap}",
        (Part("length", length, "length"), *(Part("position", p, "length") for p in placed)),
        (
            Part("farthest_point", farthest, "length", at=place),
            Part("first", placed[0], "length"),
            Part("last", length - placed[-1], "length"),
            Part(
                "widest_gap",
                max((b - a for a, b in pairwise(placed)), default=0.0),
                "length",
            ),
        ),
    )


@calculator(
    "electrical",
    "number",
    ("nfpa-70-2017: 210.52(C)(2)", "nfpa-70-2020: 210.52(C)(2)", "nfpa-70-2023: 210.52(C)(2)"),
)
def island_receptacles(
    length: Annotated[Length, Above(0, 12)], width: Annotated[Length, Above(0, 12)], edition: Edition
) -> Result:
    """Fewest receptacles that an island or peninsula top must have, by edition of the code.

    Parameters: length and width of the top [m], above 0 to 12; edition. In 2023 none is required, but a way
    to add one later is: the result is 0 and says so.
    Returns: Result [-]; part `area` [m2].  Raises: OutOfRange.

    >>> foot = 0.3048
    >>> [island_receptacles(area * foot, foot, "2020").value for area in (9, 12, 27, 28)]
    [1.0, 2.0, 2.0, 3.0]

    References: NFPA 70, 210.52(C)(2): 2020, one for 9 sqft and one for each further 18 sqft or part; 2017 and
    before, one from 24 in x 12 in.
    """
    row, area = edition_row(edition), length * width
    inputs = (Part("length", length, "length"), Part("width", width, "length"))
    if "island_first" in row.cells:
        first, further = edition_cell(edition, "island_first"), edition_cell(edition, "island_further")
        count, formula = 1.0, "1 for the first {first}"
        if area > first * (1 + _LITTLE):
            count += ceil((area - first) / further - _LITTLE)
            formula = "1 + ({area} - {first}) / {further}, rounded up"
        areas = (Part("area", area, "area"), Part("first", first, "area"), Part("further", further, "area"))
        return Result(count, "number", formula, inputs, areas)
    parts = (Part("area", area, "area"),)
    if "island_long" not in row.cells:
        return Result(0.0, "number", "none required, but a way to add one later", inputs, parts)
    long, short = edition_cell(edition, "island_long"), edition_cell(edition, "island_short")
    wanted = max(length, width) >= long - _LITTLE and min(length, width) >= short - _LITTLE
    limits = (*parts, Part("long", long, "length"), Part("short", short, "length"))
    return Result(float(wanted), "number", "1 from {long} by {short}, else 0", inputs, limits)


def edition_row(edition: str) -> Row:
    """The row of that edition of the code; OutOfRange where it is not known."""
    editions = table("electrical_editions")
    row = editions.row(str(edition))
    if row is None:
        raise OutOfRange("edition", f"must be one of {', '.join(editions.rows)}, got {str(edition)[:20]}")
    return row


def edition_cell(edition: str, column: str) -> float:
    """A number of that edition of the code."""
    return float(edition_row(edition).cells[column])
