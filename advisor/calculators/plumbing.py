"""Plumbing: trap arms, fall of drains, deep sinks against the outlet in the wall, the weight of a full sink.

Two families of code are in use, IRC (with IPC) and UPC, with different lengths. Where the code is not
known, the stricter one is presumed: UPC.
"""

from __future__ import annotations

from typing import Annotated

from advisor.calculators._base import (
    Above,
    Between,
    Length,
    Mass,
    Number,
    OneOf,
    OutOfRange,
    Part,
    Result,
    Slope,
    calculator,
    need,
)
from advisor.tables import table

Code = Annotated[str, OneOf(("irc", "upc"))]

_QUARTER_IN_FT = 1 / 48  # 1/4 in per ft, the usual fall of small drains
_WATER = 62.4 * 0.45359237 / 0.3048**3  # kg/m3: 62.4 lb a cubic foot
_MARGIN = 2 * 0.0254  # room that the trap's fittings take


@calculator("plumbing", "length", ("irc-2021: Table P3105.1, P3105.3", "upc: Table 1002.2"))
def longest_trap_arm(diameter: Length, code: Code = "upc") -> Result:
    """Greatest length of a trap arm, from the trap's weir to the vent, by pipe size and code.

    Parameters: diameter, size of the pipe [m]: 1-1/4, 1-1/2, 2, 3 or 4 in; code, irc or upc.
    Returns: Result [m]; parts `slope`, least fall, and `shortest`, two diameters.  Raises: OutOfRange.

    >>> inch, foot = 0.0254, 0.3048
    >>> [round(longest_trap_arm(1.5 * inch, code).value / foot, 6) for code in ("irc", "upc")]
    [6.0, 3.5]

    References: IRC (2021), Table P3105.1; UPC, Table 1002.2.
    """
    cells = _pipe(diameter, code)
    return Result(
        float(cells["longest"]),
        "length",
        f"{code.upper()} table for a {{diameter}} pipe",
        parts=(Part("slope", float(cells["slope"]), "slope"), Part("shortest", 2 * diameter, "length")),
    )


@calculator("plumbing", "length", ("irc-2021: P3105.2",))
def trap_arm_fall(
    length: Annotated[Length, Between(0, 10)],
    slope: Annotated[Slope, Between(0, 1)],
    diameter: Annotated[Length, Between(0.02, 0.2)],
) -> Result:
    """Total fall of a trap arm: length x slope; more than one pipe diameter siphons the trap.

    Parameters: length from weir to vent [m], 0 to 10; slope [-], 0 to 1; diameter of the pipe [m],
    0.02 to 0.2.
    Returns: Result [m]; part `excess` over one diameter, above zero where it fails.  Raises: OutOfRange.

    >>> steep = trap_arm_fall(5 * 0.3048, 3 / 8 / 12, 1.5 * 0.0254)        # 1-7/8 in on a 1-1/2 in pipe
    >>> round(steep.value / 0.0254, 6), round(steep.part("excess").value / 0.0254, 6)
    (1.875, 0.375)

    References: IRC (2021), P3105.2.
    """
    fall = length * slope
    return Result(
        fall,
        "length",
        "{length} x {slope}",
        parts=(Part("excess", fall - diameter, "length"),),
    )


@calculator("plumbing", "length", ("irc-2021: P3005.3", "upc: 708.1"))
def drain_fall(length: Annotated[Length, Between(0, 50)], diameter: Length, code: Code = "upc") -> Result:
    """Least fall of a drain over its length: length x least slope for the pipe.

    Parameters: length [m], 0 to 50; diameter [m]: 1-1/4, 1-1/2, 2, 3 or 4 in; code, irc or upc.
    Returns: Result [m]; part `slope` [-].  Raises: OutOfRange.

    >>> inch, foot = 0.0254, 0.3048
    >>> round(drain_fall(10 * foot, 2 * inch, "irc").value / inch, 6)
    2.5
    >>> round(drain_fall(8 * foot, 3 * inch, "irc").value / inch, 6)
    1.0

    References: IRC (2021), P3005.3: 1/4 in a foot up to 2-1/2 in, 1/8 from 3 in; UPC, 708.1: 1/4 for all.
    """
    slope = float(_pipe(diameter, code)["slope"])
    return Result(
        length * slope,
        "length",
        "{length} x {slope}",
        parts=(Part("slope", slope, "slope"),),
    )


@calculator("plumbing", "length", ("common practice", "irc-2021: P3005.3"))
def highest_wall_outlet(
    counter_height: Annotated[Length, Above(0, 2)],
    bowl_depth: Length,
    run: Length,
    top: Length = 0.0,
    disposer: Length = 0.0,
    margin: Length = _MARGIN,
    slope: Annotated[Slope, Between(0, 0.1)] = _QUARTER_IN_FT,
) -> Result:
    """Highest drain outlet in the wall that a sink can still run down to.

    Parameters [m]: counter_height above the floor, above 0 to 2; bowl_depth 0 to 0.6; run from trap to wall
    0 to 3; top, thickness over an undermount sink, 0 for a drop-in, to 0.15; disposer, from its flange to its
    outlet, 0 without one, to 0.5; margin for fittings 0 to 0.3, 2 in unless told otherwise; slope [-], 0
    to 0.1.
    Returns: Result [m], centre of the outlet above the floor.  Raises: OutOfRange.

    >>> inch = 0.0254
    >>> sink = highest_wall_outlet(36 * inch, 9 * inch, 12 * inch, 1.25 * inch, 7 * inch)
    >>> round(sink.value / inch, 6)
    16.5

    References: common practice; the fall of the trap arm as IRC (2021), P3005.3.
    """
    for name, length, most in (
        ("bowl_depth", bowl_depth, 0.6),
        ("run", run, 3),
        ("top", top, 0.15),
        ("disposer", disposer, 0.5),
        ("margin", margin, 0.3),
    ):
        need(name, length, 0, most, "length")
    lengths = {
        "counter_height": counter_height,
        "top": top,
        "bowl_depth": bowl_depth,
        "disposer": disposer,
        "margin": margin,
        "run": run,
    }
    return Result(
        counter_height - top - bowl_depth - disposer - margin - run * slope,
        "length",
        "{counter_height} - {top} - {bowl_depth} - {disposer} - {margin} - {run} x {slope}",
        (*(Part(name, length, "length") for name, length in lengths.items()), Part("slope", slope, "slope")),
    )


@calculator("plumbing", "length", ("irc-2021: P3201.6", "ipc-2021: 1002.1"))
def drop_to_trap(
    counter_height: Annotated[Length, Above(0, 2)],
    bowl_depth: Length,
    outlet_height: Annotated[Length, Between(0, 2)],
    run: Length,
    top: Length = 0.0,
    slope: Annotated[Slope, Between(0, 0.1)] = _QUARTER_IN_FT,
) -> Result:
    """Drop from a sink's outlet to the weir of its trap, for a drain at a given height in the wall.

    Parameters [m]: as for `highest_wall_outlet`; outlet_height, centre of the drain in the wall above the
    floor, 0 to 2. The weir stands above it by run x slope.
    Returns: Result [m]; 24 in is the most that codes allow; below zero the sink is too deep.
    Raises: OutOfRange.

    >>> inch = 0.0254
    >>> round(drop_to_trap(36 * inch, 9 * inch, 18 * inch, 12 * inch, 1.25 * inch).value / inch, 6)
    7.5

    References: IRC (2021), P3201.6; IPC, 1002.1: not over 24 in.
    """
    for name, length, most in (("bowl_depth", bowl_depth, 0.6), ("run", run, 3), ("top", top, 0.15)):
        need(name, length, 0, most, "length")
    lengths = {
        "counter_height": counter_height,
        "top": top,
        "bowl_depth": bowl_depth,
        "outlet_height": outlet_height,
        "run": run,
    }
    return Result(
        counter_height - top - bowl_depth - outlet_height - run * slope,
        "length",
        "{counter_height} - {top} - {bowl_depth} - {outlet_height} - {run} x {slope}",
        (*(Part(name, length, "length") for name, length in lengths.items()), Part("slope", slope, "slope")),
    )


@calculator("plumbing", "mass", ("common practice",))
def full_sink_weight(
    length: Length,
    width: Length,
    depth: Length,
    sink: Annotated[Mass, Between(0, 150)] = 0.0,
    disposer: Annotated[Mass, Between(0, 150)] = 0.0,
    bowls: Annotated[Number, Between(1, 6)] = 1,
) -> Result:
    """Weight that the fixing of a sink carries: water to the rim + sink + disposer.

    Parameters: length, width, depth of one bowl inside [m], above 0 to 2; sink and disposer [kg], 0 to 150;
    bowls of that size [-], 1 to 6.
    Returns: Result [kg]; parts `water` [kg] and `volume` [m3].  Raises: OutOfRange.

    >>> inch = 0.0254
    >>> round(full_sink_weight(30 * inch, 16 * inch, 9 * inch).value / 0.45359237, 1)        # 2.5 cu ft
    156.0

    References: common practice; water at 62.4 lb a cubic foot.
    """
    for name, size in (("length", length), ("width", width), ("depth", depth)):
        need(name, size, 0, 2, "length", open_low=True)
    volume = length * width * depth * bowls
    sizes = (Part("length", length, "length"), Part("width", width, "length"), Part("depth", depth, "length"))
    masses = (Part("sink", sink, "mass"), Part("disposer", disposer, "mass"))
    return Result(
        volume * _WATER + sink + disposer,
        "mass",
        "{volume} x {water_density} + {sink} + {disposer}",
        (*sizes, *masses, Part("bowls", bowls, "number")),
        (
            Part("volume", volume, "volume"),
            Part("water_density", _WATER, "density"),
            Part("water", volume * _WATER, "mass"),
        ),
    )


def _pipe(diameter: float, code: str) -> dict[str, float | str]:
    rows = [row for row in table("trap_arms").rows.values() if row.cells["code"] == code.lower()]
    if not rows:
        raise OutOfRange("code", f"must be irc or upc, got {code[:20]}")
    for row in rows:
        if abs(float(row.cells["diameter"]) - diameter) < 0.001:
            return row.cells
    need("diameter", diameter, 0, 0.2, "length", open_low=True)
    raise OutOfRange("diameter", "must be 1-1/4, 1-1/2, 2, 3 or 4 in, the sizes of the code's table")
