"""Worktops: how high the finished top comes, what it then meets, gaps, tapers, overhang, weight of stone."""

from __future__ import annotations

from typing import Annotated

from advisor.calculators._base import (
    Above,
    Between,
    Column,
    Length,
    Part,
    Result,
    Unit,
    calculator,
    need,
)

_MOST_THICKNESS = 0.15
Tall = Annotated[Length, Above(0, 3)]
Thin = Annotated[Length, Between(0, _MOST_THICKNESS)]


@calculator("tops", "length", ("common practice",))
def top_height(cabinet_height: Tall, top: Thin, shim: Thin = 0.0, new_floor: Thin = 0.0) -> Result:
    """Height of the finished top above the finished floor: cabinet + shim + top - new floor.

    Parameters [m]: cabinet_height 0 to 3; top, thickness 0 to 0.15; shim under the highest cabinet 0 to 0.15;
    new_floor, thickness laid in front of cabinets that stay on the old floor, 0 to 0.15.
    Returns: Result [m].  Raises: OutOfRange.

    >>> round(top_height(34.5 * 0.0254, 1.5 * 0.0254).value / 0.0254, 6)     # base 34-1/2 + top 1-1/2 = 36 in
    36.0

    References: common practice.
    """
    return Result(
        cabinet_height + shim + top - new_floor,
        "length",
        "{cabinet_height} + {shim} + {top} - {new_floor}",
        _lengths(cabinet_height=cabinet_height, shim=shim, top=top, new_floor=new_floor),
    )


@calculator("tops", "length", ("common practice",))
def top_rise(new_top: Thin, old_top: Thin, shim: Thin = 0.0) -> Result:
    """How much higher a new top stands than the old one: new top - old top + shim.

    Parameters [m]: thicknesses 0 to 0.15; shim under the cabinets 0 to 0.15.
    Returns: Result [m], negative where the new top is lower.  Raises: OutOfRange.

    >>> round(top_rise(1.5 * 0.0254, 1.0 * 0.0254, 0.75 * 0.0254).value / 0.0254, 6)
    1.25

    References: common practice.
    """
    return Result(
        new_top - old_top + shim,
        "length",
        "{new_top} - {old_top} + {shim}",
    )


@calculator("tops", "length", ("common practice",))
def space_above_top(height: Tall, top_height: Tall) -> Result:
    """Room from the finished top up to what stands over it (sill, outlet, wall cabinet): height - top height.

    Parameters: heights above the same floor [m], 0 to 3.
    Returns: Result [m], negative where the top comes higher.  Raises: OutOfRange.

    >>> round(space_above_top(54 * 0.0254, 36 * 0.0254).value / 0.0254, 6)     # wall cabinets at 54 in: 18 in
    18.0

    References: common practice.
    """
    return Result(
        height - top_height,
        "length",
        "{height} - {top_height}",
    )


@calculator("tops", "length", ("common practice",))
def step_at_range(top_height: Tall, range_height: Tall) -> Result:
    """Step between the finished top and the range beside it: top height - range height.

    Parameters: heights above the same floor [m], 0 to 3; range_height with its legs where they will stand.
    Returns: Result [m], positive where the top is higher.  Raises: OutOfRange.

    >>> round(step_at_range(36.75 * 0.0254, 36 * 0.0254).value / 0.0254, 6)
    0.75

    References: common practice.
    """
    return Result(
        top_height - range_height,
        "length",
        "{top_height} - {range_height}",
    )


@calculator("tops", "length", ("common practice",))
def room_under_top(cabinet_height: Tall, appliance_height: Tall, shim: Thin = 0.0, new_floor: Thin = 0.0) -> Result:
    """Room over a dishwasher under the top: cabinet + shim - new floor - appliance height.

    Parameters [m]: cabinet_height and appliance_height (legs screwed in) 0 to 3; shim under the cabinets and
    new_floor laid in front of them 0 to 0.15.
    Returns: Result [m], negative where the appliance is trapped.  Raises: OutOfRange.

    >>> trapped = room_under_top(34.5 * 0.0254, 34 * 0.0254, new_floor=0.75 * 0.0254)  # 33-3/4 for 34 in
    >>> round(trapped.value / 0.0254, 6)
    -0.25

    References: common practice: opening 34 to 34-1/2 in high.
    """
    opening = cabinet_height + shim - new_floor
    return Result(
        opening - appliance_height,
        "length",
        "{cabinet_height} + {shim} - {new_floor} - {appliance_height}",
        _lengths(cabinet_height=cabinet_height, shim=shim, new_floor=new_floor, appliance_height=appliance_height),
        (Part("opening", opening, "length"),),
    )


@calculator("tops", "length", ("common practice",))
def toe_kick_gap(shim: Thin, new_floor: Thin = 0.0) -> Result:
    """Gap under the toe kick of a shimmed cabinet: shim - new floor.

    Parameters [m]: shim at that place and new_floor laid up to the kick, 0 to 0.15.
    Returns: Result [m], negative where the floor comes above the foot of the kick.  Raises: OutOfRange.

    >>> round(toe_kick_gap(0.75 * 0.0254, 0.25 * 0.0254).value / 0.0254, 6)
    0.5

    References: common practice.
    """
    return Result(shim - new_floor, "length", "{shim} - {new_floor}")


@calculator("tops", "length", ("common practice",))
def toe_space_left(toe_kick: Annotated[Length, Between(0, 0.6)], new_floor: Thin) -> Result:
    """Height of the toe space once a new floor lies in front of it: toe kick - new floor.

    Parameters [m]: toe_kick, its height now, 0 to 0.6; new_floor 0 to 0.15.
    Returns: Result [m], negative where the floor covers it.  Raises: OutOfRange.

    >>> round(toe_space_left(4 * 0.0254, 1.25 * 0.0254).value / 0.0254, 6)
    2.75

    References: common practice.
    """
    return Result(toe_kick - new_floor, "length", "{toe_kick} - {new_floor}")


@calculator("tops", "length", ("common practice",))
def cutout_strip(width: Annotated[Length, Between(0, 3)], cutout: Annotated[Length, Between(0, 3)]) -> Result:
    """Strip in front of a cutout and behind it where both are alike: (width - cutout) / 2.

    Parameters [m]: width of the top, front to back, and of the cutout, 0 to 3.
    Returns: Result [m], negative where the cutout does not fit.  Raises: OutOfRange.

    >>> round(cutout_strip(25 * 0.0254, 22 * 0.0254).value / 0.0254, 6)
    1.5

    References: common practice.
    """
    return Result((width - cutout) / 2, "length", "({width} - {cutout}) / 2")


Closes = Annotated[float, Unit("length"), Column("gap_closings", "widest", "closing")]


@calculator("tops", "length", ("common practice",))
def gap_left_open(gap: Annotated[Length, Between(0, 0.3)], closes: Annotated[Closes, Above(0, 0.3)]) -> Result:
    """What a way of closing a gap leaves open: gap - widest gap that it closes.

    Parameters [m]: gap, at its widest place, 0 to 0.3; closes, the widest gap that caulk, trim or scribing
    closes well (table gap_closings), 0 to 0.3.
    Returns: Result [m], zero or less where it closes.  Raises: OutOfRange.

    >>> round(gap_left_open(0.5 * 0.0254, 0.25 * 0.0254).value / 0.0254, 6)
    0.25

    References: common practice.
    """
    return Result(gap - closes, "length", "{gap} - {closes}")


@calculator("tops", "length", ("common practice",))
def tapered_cut(
    start: Annotated[Length, Between(0, 1)],
    end: Annotated[Length, Between(0, 1)],
    run: Annotated[Length, Above(0, 30)],
    place: Length,
) -> Result:
    """Width of a strip that tapers against an out-of-level edge: start + (end - start) x place / run.

    Parameters [m]: start and end, gaps at the two ends, 0 to 1; run between them, above 0 to 30; place,
    measured from the start, 0 to run.
    Returns: Result [m] and a part `taper`, the change along the run [-].  Raises: OutOfRange.

    >>> round(tapered_cut(18 * 0.0254, 18.5 * 0.0254, 2.4384, 1.2192).value / 0.0254, 6)  # half-way
    18.25

    References: common practice; straight-line interpolation.
    """
    need("place", place, 0, run, "length")
    return Result(
        start + (end - start) * (place / run),
        "length",
        "{start} + ({end} - {start}) x {place} / {run}",
        parts=(Part("taper", (end - start) / run, "slope"),),
    )


OverhangLimit = Annotated[float, Unit("length"), Column("overhangs", "most", "top")]


@calculator("tops", "length", ("common practice",))
def overhang_excess(overhang: Annotated[Length, Between(0, 2)], limit: Annotated[OverhangLimit, Above(0, 2)]) -> Result:
    """How far a top hangs out beyond what it carries without brackets: overhang - limit.

    Parameters [m]: overhang past its support, 0 to 2; limit for the top (table overhangs), above 0 to 2.
    Returns: Result [m], zero or less where no bracket is needed.  Raises: OutOfRange.

    >>> round(overhang_excess(15 * 0.0254, 12 * 0.0254).value / 0.0254, 6)
    3.0

    References: common practice: 1-1/2 in hardwood, 10 to 12 in.
    """
    return Result(overhang - limit, "length", "{overhang} - {limit}")


StoneDensity = Annotated[float, Unit("density"), Column("stone_densities", "most", "stone")]


@calculator("tops", "mass", ("crc-handbook: density of construction materials", "en-14617-1: bulk density"))
def stone_top_weight(
    length: Annotated[Length, Above(0, 5)],
    width: Annotated[Length, Above(0, 3)],
    thickness: Annotated[Length, Above(0, _MOST_THICKNESS)],
    density: Annotated[StoneDensity, Between(1000, 4000)],
) -> Result:
    """Weight of a stone or concrete slab, cutouts not taken off: length x width x thickness x density.

    Parameters: length [m], 0 < length <= 5; width [m], 0 < width <= 3; thickness [m], 0 < thickness <= 0.15;
    density [kg/m3], 1000 to 4000, by name the heavier end of its range (table stone_densities).
    Returns: Result [kg]; part `volume` [m3].  Raises: OutOfRange.

    >>> foot = stone_top_weight(0.3048, 0.3048, 0.03, 2760)      # a square foot of granite 3 cm thick
    >>> round(foot.value / 0.45359237, 1)
    17.0

    References: density is mass over volume; densities of the CRC Handbook and, for quartz slabs, EN 14617-1.
    """
    volume = length * width * thickness
    return Result(
        volume * density,
        "mass",
        "{length} x {width} x {thickness} x {density}",
        parts=(Part("volume", volume, "volume"),),
    )


def _lengths(**lengths: float) -> tuple[Part, ...]:
    return tuple(Part(name, length, "length") for name, length in lengths.items())
