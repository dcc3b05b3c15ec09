"""Tile: how much to buy, where the cuts fall, how the courses meet the wall cabinets."""

from __future__ import annotations

from math import ceil, floor
from typing import Annotated

from advisor.calculators._base import (
    Above,
    Area,
    Areas,
    Between,
    Fraction,
    Length,
    Number,
    OutOfRange,
    Part,
    Result,
    calculator,
    need,
)

# Sums of lengths in metres carry errors of about 1e-16; a cut thinner than this is a full tile or none.
_HAIR = 1e-7


def _tile(tile: float, joint: float) -> tuple[Part, ...]:
    need("tile", tile, 0, 3, "length", open_low=True)
    need("joint", joint, 0, 0.03, "length")
    return Part("tile", tile, "length"), Part("joint", joint, "length")


@calculator("tile", "area", ("common practice",))
def tile_area(surfaces: Areas, openings: Areas = ()) -> Result:
    """Area to tile: the surfaces less their openings.

    Parameters: surfaces [m2], one or more, each 0 to 1000; openings [m2], each 0 to 1000.
    Returns: Result [m2], 0 at least; parts `gross` and `open` [m2].  Raises: OutOfRange.

    >>> tile_area((4.0, 2.5), (1.5,)).value
    5.0

    References: geometry.
    """
    if not surfaces:
        raise OutOfRange("surfaces", "must be at least one")
    for name, areas in (("surfaces", surfaces), ("openings", openings)):
        for area in areas:
            need(name, area, 0, 1000, "area")
    gross, gaps = sum(surfaces), sum(openings)
    if gaps > gross + _HAIR:
        raise OutOfRange("openings", "must be no larger than the surfaces together")
    return Result(
        max(gross - gaps, 0.0),
        "area",
        "{gross} - {open}",
        tuple(Part(f"surface_{n}", a, "area") for n, a in enumerate(surfaces, 1))
        + tuple(Part(f"opening_{n}", a, "area") for n, a in enumerate(openings, 1)),
        (Part("gross", gross, "area"), Part("open", gaps, "area")),
    )


@calculator("tile", "area", ("common practice",))
def tile_to_buy(
    area: Annotated[Area, Between(0, 1000)],
    box: Annotated[Area, Above(0, 10)],
    waste: Annotated[Fraction, Between(0, 1)] = 0.1,
    spare_boxes: Annotated[Number, Between(0, 10)] = 1,
) -> Result:
    """Tile to buy: the area with its waste, in whole boxes, and a box for repairs.

    Parameters: area to tile [m2], 0 to 1000; box, what one covers [m2], 0 < box <= 10; waste [-], 0 to 1:
    10 % for straight courses, 15 % for a diagonal or herringbone; spare_boxes [-], 0 to 10.
    Returns: Result [m2], the area with waste; part `boxes`, spare ones counted in.  Raises: OutOfRange.

    >>> foot2 = 0.3048**2
    >>> splash = tile_to_buy(62 * foot2, 10 * foot2)
    >>> round(splash.value / foot2, 1), splash.part("boxes").value
    (68.2, 8)

    References: common practice.
    """
    wanted = area * (1 + waste)
    return Result(
        wanted,
        "area",
        "{area} x (1 + {waste})",
        parts=(Part("boxes", ceil(wanted / box - 1e-9) + spare_boxes, "number"),),
    )


@calculator("tile", "area", ("common practice",))
def area_of_pieces(count: Annotated[Number, Between(0, 100_000)], length: Length, width: Length) -> Result:
    """Area that loose pieces cover, their joints left out: count x length x width.

    Parameters: count [-], 0 to 100,000; length and width of one [m], 0 < size <= 3.
    Returns: Result [m2].  Raises: OutOfRange.

    >>> round(area_of_pieces(72, 12 * 0.0254, 6 * 0.0254).value / 0.3048**2, 6)     # two pieces a square foot
    36.0

    References: common practice.
    """
    for name, size in (("length", length), ("width", width)):
        need(name, size, 0, 3, "length", open_low=True)
    return Result(
        count * length * width,
        "area",
        "{count} x {length} x {width}",
    )


def _last_piece(length: float, tile: float, joint: float) -> float:
    """Width of the piece that ends a length laid from a whole tile: a whole one if only a joint is left."""
    rest = length % (tile + joint)
    return tile if rest < _HAIR or rest > tile - _HAIR else rest


@calculator("tile", "length", ("common practice",))
def tile_layout(run: Annotated[Length, Above(0, 100)], tile: Length, joint: Length) -> Result:
    """Cut piece at both ends of a run laid out from its middle, and whether to shift by half a tile.

    The middle falls on a joint or on the middle of a tile, whichever leaves the wider pieces at the ends.

    Parameters: run [m], 0 < run <= 100; tile, its side along the run [m], 0 < tile <= 3; joint [m], 0 to
    30 mm.
    Returns: Result [m], the end piece of the better start; parts `from_a_joint`, `from_a_tile`, the end piece
    of each start [m], `from_one_end`, the last piece when laid from one end [m], and `shift`, half a tile
    and joint where a tile in the middle is better, else 0 [m]; `whole_tiles` before the end piece [-].
    Raises: OutOfRange.

    >>> inch = 0.0254
    >>> splash = tile_layout(49 * inch, 6 * inch, 0)           # from a joint: four tiles and 1/2 in
    >>> round(splash.part("from_a_joint").value / inch, 2), round(splash.value / inch, 2)
    (0.5, 3.5)

    References: geometry; no end piece below half a tile, common practice.
    """
    parts = _tile(tile, joint)
    if run < 2 * tile + joint:
        raise OutOfRange("run", "must hold at least two tiles and a joint")
    half, pitch = run / 2, tile + joint
    on_joint = _last_piece(half - joint / 2, tile, joint)
    on_tile = _last_piece(half - tile / 2 - joint, tile, joint)
    shift = on_tile > on_joint + _HAIR
    piece = on_tile if shift else on_joint
    start = half - tile / 2 - joint if shift else half - joint / 2
    formula = "{half_run} - {tile} / 2 - {joint}" if shift else "{half_run} - {joint} / 2"
    return Result(
        piece,
        "length",
        formula + " - {whole_tiles} x ({tile} + {joint})",
        (Part("run", run, "length"), *parts),
        (
            Part("half_run", half, "length"),
            Part("whole_tiles", floor((start - piece) / pitch + _HAIR), "number"),
            Part("from_a_joint", on_joint, "length"),
            Part("from_a_tile", on_tile, "length"),
            Part("from_one_end", _last_piece(run, tile, joint), "length"),
            Part("shift", pitch / 2 if shift else 0.0, "length"),
        ),
    )


@calculator("tile", "length", ("common practice",))
def tile_courses(
    height: Annotated[Length, Above(0, 5)],
    tile: Length,
    joint: Length,
    bottom_gap: Annotated[Length, Between(0, 0.03)] = 0.003175,
) -> Result:
    """Height of the last course below the wall cabinets, over whole courses from the top below.

    Parameters: height, from the top to the cabinets [m], 0 < height <= 5; tile, its height [m], up to 3;
    joint [m], 0 to 30 mm; bottom_gap, the soft joint on the top [m], 0 to 30 mm, 1/8 in by default.
    Returns: Result [m]: a whole tile where the courses come out even; part `full_courses` [-] below it.
    Raises: OutOfRange.

    >>> inch = 0.0254
    >>> splash = tile_courses(18 * inch, 3 * inch, inch / 8)         # 17-7/8 in less five of 3-1/8 in
    >>> round(splash.value / inch, 2), splash.part("full_courses").value
    (2.25, 5)

    References: geometry.
    """
    parts = _tile(tile, joint)
    room = height - bottom_gap
    if room < _HAIR:
        raise OutOfRange("height", "must be more than the gap below the first course")
    pitch = tile + joint
    full = floor(room / pitch + _HAIR)
    rest = room - full * pitch
    if rest < _HAIR or rest > tile - _HAIR:  # comes out even, or only a joint is left above a whole tile
        full, rest = (full - 1, tile) if rest < _HAIR else (full, tile)
    return Result(
        rest,
        "length",
        "{height} - {bottom_gap} - {full_courses} x ({tile} + {joint})",
        (Part("height", height, "length"), *parts, Part("bottom_gap", bottom_gap, "length")),
        (Part("full_courses", full, "number"),),
    )


@calculator("tile", "length", ("common practice",))
def course_taper(last_course: Annotated[Length, Above(0, 3)], out_of_level: Length) -> Result:
    """Narrow end of a last course cut to an edge that is out of level.

    Parameters: last_course, its height at the wide end [m], 0 < height <= 3; out_of_level, how far the edge
    is off over the run [m], 0 to the height of the course.
    Returns: Result [m]; part `lost`, the share of the course that the taper takes [-].  Raises: OutOfRange.

    >>> taper = course_taper(0.050, 0.0125)
    >>> round(taper.value, 4), taper.part("lost").value
    (0.0375, 0.25)

    References: geometry.
    """
    need("out_of_level", out_of_level, 0, last_course, "length")
    return Result(
        last_course - out_of_level,
        "length",
        "{last_course} - {out_of_level}",
        parts=(Part("lost", out_of_level / last_course, "fraction"),),
    )


@calculator("tile", "mass", ("common practice",))
def grout_mass(
    area: Annotated[Area, Between(0, 1000)],
    tile_length: Length,
    tile_width: Length,
    joint: Annotated[Length, Between(0, 0.03)],
    depth: Annotated[Length, Between(0, 0.03)],
    waste: Annotated[Fraction, Between(0, 1)] = 0.0,
) -> Result:
    """Cement grout for an area: joint length by joint by depth, at 1.6 kg a litre.

    Parameters: area [m2], 0 to 1000; tile_length, tile_width [m], 0 < side <= 3; joint and depth [m], 0 to
    30 mm; waste [-], 0 to 1.
    Returns: Result [kg]; parts `joint_length` of a square metre [1/m as a number] and `volume` [m3].
    Raises: OutOfRange.

    >>> round(grout_mass(1, 0.3, 0.6, 0.003, 0.009).value, 3)             # (0.3 + 0.6) / 0.18 x 3 x 9 mm
    0.216

    References: geometry, joint crossings counted twice (1 % more for common sizes); density, common practice.
    """
    for name, side in (("tile_length", tile_length), ("tile_width", tile_width)):
        need(name, side, 0, 3, "length", open_low=True)
    length = (tile_length + tile_width) / (tile_length * tile_width)
    volume = area * length * joint * depth
    return Result(
        volume * 1600 * (1 + waste),
        "mass",
        "{volume} x 1,600 kg/m3 (100 lb/cuft) x (1 + {waste})",
        parts=(Part("joint_length", length, "number"), Part("volume", volume, "volume")),
    )
