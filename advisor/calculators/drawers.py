"""Drawers and shelves: the box that fits its slides, screws that stay inside the wood, sag of a shelf."""

from __future__ import annotations

from typing import Annotated

from advisor.calculators._base import (
    Above,
    Between,
    Column,
    Length,
    Mass,
    Number,
    OutOfRange,
    Part,
    Result,
    Unit,
    calculator,
)

LineLoad = Annotated[float, Unit("line_load")]
Stiffness = Annotated[float, Unit("stiffness"), Column("panel_stiffness", "moe", "material")]

_INCH, _FOOT = 0.0254, 0.3048
_SLIDE = 0.5 * _INCH  # side-mounted ball-bearing slide, a side
_LOOSE = _INCH / 16  # more total play than this lets the slide come apart or rattle
_BACK = _INCH / 8
_STOCK = tuple(n * _INCH for n in range(8, 30, 2))
_KEEP = _INCH / 8
_GRAVITY = 9.80665
_ROUNDING = 1e-9


@calculator("drawers", "length", ("common practice",))
def drawer_box_width(
    opening: Annotated[Length, Above(0, 2)], slide: Annotated[Length, Between(0.005, 0.03)] = _SLIDE
) -> Result:
    """Outside width of a drawer box between side-mounted slides: opening less both slides.

    Parameters: opening, at its narrowest [m], 0 < opening <= 2; slide, thickness of one [m], 0.005 to 0.03.
    Returns: Result [m], the widest that runs; parts `narrowest`, 1/32 in a side less; `maker_widest`,
    `maker_narrowest`, for the 0.2 to 0.5 mm of air a side that slide makers ask for.  Raises: OutOfRange.

    >>> box = drawer_box_width(18 * 0.0254)                          # 17 in, 16-15/16 in at least
    >>> round(box.value / 0.0254, 4), round(box.part("narrowest").value / 0.0254, 4)
    (17.0, 16.9375)

    References: common practice; the maker's sheet governs.
    """
    widest = opening - 2 * slide
    if widest <= 0:
        raise OutOfRange("opening", "leaves no room for a box between the slides")
    return Result(
        widest,
        "length",
        "{opening} - 2 x {slide}",
        parts=(
            Part("narrowest", widest - _LOOSE, "length"),
            Part("maker_widest", widest - 2 * 0.0002, "length"),
            Part("maker_narrowest", widest - 2 * 0.0005, "length"),
        ),
    )


@calculator("drawers", "length", ("common practice",))
def drawer_play(
    opening: Annotated[Length, Above(0, 2)],
    box: Annotated[Length, Above(0, 2)],
    slide: Annotated[Length, Between(0.005, 0.03)] = _SLIDE,
    paint: Annotated[Length, Between(0, 0.005)] = 0.0,
) -> Result:
    """Play left for a drawer box between its slides: below 0 it binds, above 1/16 in it is loose.

    Parameters: opening, at its narrowest [m], 0 < opening <= 2; box, outside width [m], 0 < box <= 2; slide,
    thickness of one [m], 0.005 to 0.03; paint, film on all four faces under the slides together [m], 0 to
    0.005.
    Returns: Result [m]; part `clearance`, opening less box [m].  Raises: OutOfRange.

    >>> round(drawer_play(18 * 0.0254, 16.875 * 0.0254).value / 0.0254, 4)     # 16-7/8 in box: 1/8 in, loose
    0.125

    References: common practice: total clearance 1 in, +1/16 in, -0.
    """
    return Result(
        round(opening - box - 2 * slide - paint, 9),  # a box that just fits is not tight by how its sizes were written
        "length",
        "{opening} - {box} - 2 x {slide} - {paint}",
        parts=(Part("clearance", opening - box, "length"),),
    )


def drawer_verdict(play: float) -> str:
    """What the play [m] of `drawer_play` means: 'binds', 'runs' or 'loose'; passes at both limits."""
    if play < -_ROUNDING:
        return "binds"
    return "loose" if play > _LOOSE + _ROUNDING else "runs"


@calculator("drawers", "length", ("common practice",))
def slide_length(
    depth: Annotated[Length, Between(0.2, 2)], inset_front: Annotated[Length, Between(0, 0.1)] = 0.0
) -> Result:
    """Longest stock slide for a cabinet: its inside depth less 1/8 in and an inset front's thickness.

    Stock slides come in steps of 2 in from 8 to 28 in.

    Parameters: depth inside, to the back or the rear bracket [m], 0.2 to 2; inset_front, thickness of a
    front that stands inside the opening [m], 0 to 0.1.
    Returns: Result [m]; part `room` [m].  Raises: OutOfRange, also where no stock slide fits.

    >>> round(slide_length(22.125 * 0.0254).value / 0.0254, 4)       # 22-1/8 in inside: 22 in
    22.0

    References: common practice.
    """
    room = depth - _BACK - inset_front
    fitting = [length for length in _STOCK if length <= room + _ROUNDING]
    if not fitting:
        raise OutOfRange("depth", "is too small for the shortest stock slide, 8 in")
    return Result(
        fitting[-1],
        "length",
        "longest stock slide up to {depth} - 1/8 in - {inset_front}",
        parts=(Part("room", room, "length"),),
    )


@calculator("drawers", "length", ("common practice",))
def screw_longest(piece: Annotated[Length, Between(0, 0.3)], receiving: Annotated[Length, Above(_KEEP, 0.5)]) -> Result:
    """Longest screw that stays 1/8 in inside the far face of what it goes into.

    Parameters: piece that it passes through [m], 0 to 0.3; receiving, thickness that it goes into [m],
    1/8 in < t <= 0.5.
    Returns: Result [m]; part `good`, through the piece and 2/3 of the rest, no longer than that [m].
    Raises: OutOfRange.

    >>> round(screw_longest(0.75 * 0.0254, 0.75 * 0.0254).value / 0.0254, 4)    # two 3/4 in boards: 1-3/8 in
    1.375

    References: common practice.
    """
    longest = piece + receiving - _KEEP
    return Result(
        longest,
        "length",
        "{piece} + {receiving} - 1/8 in",
        parts=(Part("good", min(longest, piece + receiving * 2 / 3), "length"),),
    )


@calculator("drawers", "length", ("common practice",))
def screw_margin(
    screw: Annotated[Length, Above(0, 0.5)],
    piece: Annotated[Length, Between(0, 0.3)],
    receiving: Annotated[Length, Above(0, 0.5)],
) -> Result:
    """Wood left between the tip of a screw and the far face: below 0 it comes through, 1/8 in is the least.

    Parameters: screw length [m], 0 < screw <= 0.5; piece that it passes through [m], 0 to 0.3; receiving,
    thickness that it goes into [m], 0 < t <= 0.5.
    Returns: Result [m]; part `bite`, its length in the second piece [m].  Raises: OutOfRange.

    >>> round(screw_margin(1.5 * 0.0254, 0.75 * 0.0254, 0.75 * 0.0254).value, 6)   # 1-1/2 in: at the face
    0.0

    References: common practice.
    """
    return Result(
        piece + receiving - screw,
        "length",
        "{piece} + {receiving} - {screw}",
        parts=(Part("bite", max(0.0, min(screw - piece, receiving)), "length"),),
    )


@calculator("drawers", "mass", ("common practice",))
def load_on_each(load: Annotated[Mass, Between(0, 5000)], pieces: Annotated[Number, Between(1, 10_000)]) -> Result:
    """What each fixing holds of a load, taken as equal shares.

    Parameters: load [kg], 0 to 5000; pieces [-], 1 to 10,000.
    Returns: Result [kg].  Raises: OutOfRange.

    >>> load_on_each(60, 4).value
    15.0

    References: common practice; loads are never shared alike, so this is the least that the worst one holds.
    """
    return Result(load / pieces, "mass", "{load} / {pieces}")


@calculator("drawers", "line_load", ("common practice",))
def load_along(load: Annotated[Mass, Between(0, 5000)], length: Annotated[Length, Above(0, 100)]) -> Result:
    """What a shelf carries on each foot of its length, where its load lies evenly.

    Parameters: load [kg], 0 to 5000; length [m], 0 < length <= 100.
    Returns: Result [kg/m].  Raises: OutOfRange.

    >>> load_along(60, 3).value
    20.0

    References: by definition, a load spread evenly over a length.
    """
    return Result(load / length, "line_load", "{load} / {length}")


@calculator("drawers", "length", ("wood-handbook-2010: ch. 9, beam deflection", "common practice"))
def shelf_sag(
    span: Annotated[Length, Above(0, 5)],
    load: Annotated[LineLoad, Between(0, 500)],
    thickness: Annotated[Length, Above(0, 0.3)],
    depth: Annotated[Length, Above(0, 2)],
    stiffness: Annotated[Stiffness, Between(0.5e9, 30e9)],
) -> Result:
    """Sag in the middle of a shelf that rests on its ends and is loaded evenly, on the day it is loaded.

    Over years wood and panels creep: count on half as much again, more in damp rooms (part `in_time`). The
    eye sees about 1/32 in a foot of span; 0.02 in a foot is a common limit (part `limit`).

    Parameters: span between supports [m], 0 < span <= 5; load, with the shelf's own weight [kg/m], 0 to 500;
    thickness [m], 0 < t <= 0.3; depth, front to back [m], 0 < d <= 2; stiffness, modulus of elasticity along
    the span [Pa], 0.5 to 30 GPa.
    Returns: Result [m]; parts `weight`, all of the load [kg]; `in_time`, `limit` [m].  Raises: OutOfRange.

    >>> inch, pound, psi = 0.0254, 0.45359237, 6894.757293168
    >>> shelf = shelf_sag(36 * inch, 30 * pound / 0.3048, 0.75 * inch, 11 * inch, 1e6 * psi)
    >>> round(shelf.value / inch, 3)                # 5 x 2.5 lb/in x 36^4 / (384 x 1,000,000 x 0.387 in^4)
    0.141

    References: Wood Handbook (2010), ch. 9 (1999: ch. 8): 5 w L^4 / (384 E I), I = depth x thickness^3 / 12.
    """
    inertia = depth * thickness**3 / 12
    sag = 5 * load * _GRAVITY * span**4 / (384 * stiffness * inertia)
    return Result(
        sag,
        "length",
        "5 x {weight} x ({span})^3 x 12 / (384 x {stiffness} x {depth} x ({thickness})^3), in metric x 9.81",
        parts=(
            Part("weight", load * span, "mass"),
            Part("in_time", 1.5 * sag, "length"),
            Part("limit", span / _FOOT * 0.02 * _INCH, "length"),
        ),
    )
