"""Structure: notches and holes in studs and joists, the weight of what is torn out.

These limits hold for solid sawn lumber. Cutting beyond them, or any I-joist, truss or laminated beam,
belongs to an engineer.
"""

from __future__ import annotations

from typing import Annotated

from advisor.calculators._base import (
    Above,
    Area,
    Between,
    Column,
    Length,
    Number,
    OneOf,
    OutOfRange,
    Part,
    Result,
    Unit,
    calculator,
)
from advisor.tables import table

Wall = Annotated[str, OneOf(("bearing", "doubled", "non-bearing"))]
Place = Annotated[str, OneOf(("middle third", "outer third", "end"))]
SurfaceMassOf = Annotated[float, Unit("surface_mass"), Column("debris", "weight", "material")]

_CABLE_EDGE = 1.25 * 0.0254


@calculator("structure", "length", ("irc-2021: R602.6",))
def deepest_stud_notch(depth: Annotated[Length, Between(0.03, 0.4)], wall: Wall = "bearing") -> Result:
    """Deepest notch in a stud: 25 % of its depth in a bearing wall, 40 % in another.

    Parameters: depth of the stud, as measured, not as named [m], 0.03 to 0.4; wall, taken as bearing unless
    told otherwise; outside walls bear.
    Returns: Result [m]; part `share` [-].  Raises: OutOfRange.

    >>> [round(deepest_stud_notch(inches * 0.0254).value / 0.0254, 3) for inches in (3.5, 5.5)]
    [0.875, 1.375]

    References: IRC (2021), R602.6.
    """
    share = _cell("stud_cuts", "wall", wall, "notch")
    return Result(
        depth * share,
        "length",
        "{depth} x {share}",
        parts=(Part("share", share, "fraction"),),
    )


@calculator("structure", "length", ("irc-2021: R602.6",))
def widest_stud_hole(depth: Annotated[Length, Between(0.03, 0.4)], wall: Wall = "bearing") -> Result:
    """Widest hole in a stud: 40 % of its depth, 60 % where doubled or not bearing, 5/8 in left each side.

    Parameters: as for `deepest_stud_notch`; doubled, two studs side by side, no more than two pairs in a row.
    Returns: Result [m]; part `share` [-].  Raises: OutOfRange.

    >>> [round(widest_stud_hole(3.5 * 0.0254, wall).value / 0.0254, 2) for wall in ("bearing", "non-bearing")]
    [1.4, 2.1]

    References: IRC (2021), R602.6. No hole in the same place as a notch.
    """
    share, edge = (_cell("stud_cuts", "wall", wall, column) for column in ("hole", "edge"))
    return Result(
        min(depth * share, max(0.0, depth - 2 * edge)),
        "length",
        "less of {depth} x {share} and {depth} - 2 x {edge}",
        parts=(Part("share", share, "fraction"), Part("edge", edge, "length")),
    )


@calculator("structure", "length", ("irc-2021: R502.8.1",))
def deepest_joist_notch(depth: Annotated[Length, Between(0.08, 0.5)], place: Place = "middle third") -> Result:
    """Deepest notch in a joist: none in the middle third, depth / 6 outside it, depth / 4 at the end.

    Parameters: depth of the joist as measured [m], 0.08 to 0.5; place, taken as the middle third unless told.
    Returns: Result [m]; part `longest`, a third of the depth.  Raises: OutOfRange.

    >>> round(deepest_joist_notch(9.25 * 0.0254, "outer third").value / 0.0254, 2)
    1.54

    References: IRC (2021), R502.8.1.
    """
    part = _cell("joist_cuts", "place", place, "notch_part")
    return Result(
        depth / part if part else 0.0,
        "length",
        "{depth} / {divided_by}" if part else "no notch there",
        parts=(Part("divided_by", part, "number"), Part("longest", depth / 3 if part else 0.0, "length")),
    )


@calculator("structure", "length", ("irc-2021: R502.8.1",))
def widest_joist_hole(depth: Annotated[Length, Between(0.08, 0.5)]) -> Result:
    """Widest hole in a joist: depth / 3, and 2 in left above and below.

    Parameters: depth of the joist as measured [m], 0.08 to 0.5.
    Returns: Result [m].  Raises: OutOfRange.

    >>> round(widest_joist_hole(9.25 * 0.0254).value / 0.0254, 2)
    3.08

    References: IRC (2021), R502.8.1. Two inches from any other hole or notch as well.
    """
    part, edge = (_cell("joist_cuts", "place", "end", column) for column in ("hole_part", "edge"))
    return Result(
        min(depth / part, max(0.0, depth - 2 * edge)),
        "length",
        "less of {depth} / {divided_by} and {depth} - 2 x {edge}",
        parts=(Part("divided_by", part, "number"), Part("edge", edge, "length")),
    )


@calculator("structure", "length", ("nfpa-70-2023: 300.4(A)(1)",))
def widest_cable_hole(depth: Annotated[Length, Between(0.03, 0.4)]) -> Result:
    """Widest hole in the middle of a stud that keeps a cable 1-1/4 in from both faces: depth - 2-1/2 in.

    Parameters: depth of the stud as measured [m], 0.03 to 0.4.
    Returns: Result [m]; a wider hole needs a steel plate.  Raises: OutOfRange.

    >>> [round(widest_cable_hole(inches * 0.0254).value / 0.0254, 6) for inches in (3.5, 5.5)]
    [1.0, 3.0]

    References: NFPA 70, 300.4(A)(1).
    """
    return Result(
        max(0.0, depth - 2 * _CABLE_EDGE),
        "length",
        "{depth} - 2 x {edge}",
        parts=(Part("edge", _CABLE_EDGE, "length"),),
    )


@calculator("structure", "mass", ("asce-7-05: Table C3-1",))
def debris_weight(
    area: Annotated[Area, Between(0, 1_000)],
    weight: Annotated[SurfaceMassOf, Above(0, 300)],
    layers: Annotated[Number, Between(1, 6)] = 1,
) -> Result:
    """Weight of what is torn off walls and floors: area x weight a square foot x layers.

    Parameters: area [m2], 0 to 1,000; weight [kg/m2], above 0 to 300; layers, 1 to 6.
    Returns: Result [kg].  Raises: OutOfRange.

    >>> round(debris_weight(100 * 0.3048**2, 8 * 0.45359237 / 0.3048**2).value / 0.45359237, 6)
    800.0

    References: ASCE/SEI 7-05, Table C3-1.
    """
    return Result(
        area * weight * layers,
        "mass",
        "{area} x {weight} x {layers}",
    )


def _cell(cuts: str, name: str, word: str, column: str) -> float:
    row = table(cuts).row(word)
    if row is None:
        raise OutOfRange(name, f"must be one of {', '.join(table(cuts).rows)}, got {word[:20]}")
    return float(row.cells[column])
