"""Setting tile: how flat the wall, how even the faces, how wide the joints, where it may move."""

from __future__ import annotations

from math import ceil
from typing import Annotated

from advisor.calculators._base import (
    Above,
    Between,
    Length,
    OneOf,
    OutOfRange,
    Part,
    Result,
    calculator,
)

_INCH = 0.0254
_LARGE = 15 * _INCH
# Lengths read from fractions of an inch and from millimetres meet here; a micron decides nothing.
_MICRON = 1e-6
YesNo = Annotated[str, OneOf(("yes", "no"))]


def _yes(name: str, word: str) -> bool:
    if word not in ("yes", "no"):
        raise OutOfRange(name, f"must be yes or no, got {word}")
    return word == "yes"


@calculator("tile", "length", ("ansi-a108-02: 4.2.2",))
def flatness_allowed(longest_side: Annotated[Length, Above(0, 3)]) -> Result:
    """How far a wall or floor may be off a 10 ft straightedge before tile: 1/4 in, 1/8 in for large tile.

    Parameters: longest_side of the tile [m], 0 < side <= 3; large is 15 in or more.
    Returns: Result [m]; parts `near`, what is allowed over the short distance `near_span` [m].
    Raises: OutOfRange.

    >>> round(flatness_allowed(12 * 0.0254).value / 0.0254, 3), round(flatness_allowed(0.6).value / 0.0254, 3)
    (0.25, 0.125)

    References: ANSI A108.02, 4.2.2: 1/4 in in 10 ft and 1/16 in in 1 ft; 1/8 in in 10 ft and 1/16 in in 2 ft.
    """
    large = longest_side >= _LARGE - _MICRON
    allowed, span = (_INCH / 8, 24 * _INCH) if large else (_INCH / 4, 12 * _INCH)
    return Result(
        allowed,
        "length",
        "for a side of {longest_side}, {near} in {near_span} and in 10 ft (3 m)",
        parts=(Part("near", _INCH / 16, "length"), Part("near_span", span, "length")),
    )


@calculator("tile", "length", ("ansi-a108-02: 4.3.7 (2013)", "tcna-faq: lippage and warpage"))
def lippage_allowed(
    joint: Annotated[Length, Between(0, 0.03)], warpage: Annotated[Length, Between(0, 0.005)] = 0.0
) -> Result:
    """How far one tile may stand above the next: 1/32 in, 1/16 in at joints from 1/4 in, and warpage.

    Parameters: joint [m], 0 to 30 mm; warpage, measured on the tiles themselves [m], 0 to 5 mm: never
    the most that the tile standard would permit.
    Returns: Result [m]; part `base`, without the warpage [m].  Raises: OutOfRange.

    >>> abs(lippage_allowed(0.0254 / 8, 0.0254 / 64).value / 0.0254 - 3 / 64) < 1e-9
    True

    References: ANSI A108.02 (2013), 4.3.7; tile council FAQ: actual warpage, not the allowed one.
    """
    base = _INCH / 16 if joint >= _INCH / 4 - _MICRON else _INCH / 32
    return Result(
        base + warpage,
        "length",
        "{base} + {warpage}",
        parts=(Part("base", base, "length"),),
    )


@calculator("tile", "length", ("ansi-a108-02: 4.3.8 (2017)",))
def joint_least(
    size_variation: Annotated[Length, Between(0, 0.01)],
    longest_side: Annotated[Length, Above(0, 3)] = 0.1,
    offset_pattern: YesNo = "no",
    rectified: YesNo = "no",
) -> Result:
    """Narrowest grout joint: three times what the tiles differ in size, and never below 1/16 in.

    Large tile (a side over 15 in) laid in an offset pattern needs 1/8 in if rectified (ground to size), else
    3/16 in.

    Parameters: size_variation, widest tile less narrowest [m], 0 to 10 mm; longest_side [m], 0 < side <= 3;
    offset_pattern, rectified, yes or no.
    Returns: Result [m]; parts `from_variation` and `from_pattern` [m].  Raises: OutOfRange.

    >>> abs(joint_least(0.0254 / 16).value / 0.0254 - 3 / 16) < 1e-9
    True

    References: ANSI A108.02 (2017), 4.3.8.
    """
    offset, ground = _yes("offset_pattern", offset_pattern), _yes("rectified", rectified)
    pattern = 0.0
    if offset and longest_side > _LARGE + _MICRON:
        pattern = _INCH / 8 if ground else _INCH * 3 / 16
    return Result(
        max(3 * size_variation, _INCH / 16, pattern),
        "length",
        "largest of 3 x {size_variation}, {least} and {from_pattern}",
        parts=(
            Part("from_variation", 3 * size_variation, "length"),
            Part("from_pattern", pattern, "length"),
            Part("least", _INCH / 16, "length"),
        ),
    )


@calculator("tile", "fraction", ("ansi-a108-02: running bond",))
def offset_allowed(longest_side: Annotated[Length, Above(0, 3)]) -> Result:
    """Most that rows of tile may be offset: half a tile, a third where a side is over 15 in.

    Parameters: longest_side [m], 0 < side <= 3.
    Returns: Result [-].  Raises: OutOfRange.

    >>> offset_allowed(12 * 0.0254).value, round(offset_allowed(24 * 0.0254).value, 2)
    (0.5, 0.33)

    References: ANSI A108.02, 33 % for a side over 15 in; older texts say 18 in.
    """
    return Result(
        1 / 3 if longest_side > _LARGE + _MICRON else 0.5,
        "fraction",
        "for a side of {longest_side}: allowed",
    )


@calculator("tile", "number", ("tcna-ej171: interior",))
def movement_joints(
    run: Annotated[Length, Between(0, 200)],
    sun_or_damp: YesNo = "no",
    spacing: Annotated[Length, Between(0, 25 * 0.3048)] = 0.0,
) -> Result:
    """Soft joints across a run of tile, beside those at its edges: every 25 ft, every 12 ft in sun or damp.

    Parameters: run [m], 0 to 200; sun_or_damp, yes or no; spacing of your own choice [m], 0 (none) to 25 ft.
    Returns: Result [-]; part `spacing_used` [m].  Raises: OutOfRange.

    >>> foot = 0.3048
    >>> movement_joints(30 * foot).value, movement_joints(30 * foot, "yes").value
    (1, 2)

    References: TCNA Handbook, EJ171: 25 ft at most each way indoors, 12 ft at most in sun or moisture.
    """
    used = spacing or (12 * 0.3048 if _yes("sun_or_damp", sun_or_damp) else 25 * 0.3048)
    return Result(
        max(ceil(run / used - 1e-9) - 1, 0),
        "number",
        "{run} / {spacing_used}, rounded up, - 1",
        (Part("run", run, "length"),),
        (Part("spacing_used", used, "length"),),
    )


@calculator("tile", "length", ("tcna-faq: grout",))
def grout_type(joint: Annotated[Length, Above(0, 0.03)]) -> Result:
    """Which cement grout suits a joint: unsanded below 1/8 in, sanded to 3/8 in, then heavily sanded.

    Parameters: joint [m], 0 < joint <= 30 mm.
    Returns: Result [m], the joint, with the kind in the formula; parts `unsanded`, `sanded` and
    `heavily_sanded`, 1 for the kind that suits and 0 for the others [-].  Raises: OutOfRange.

    >>> grout_type(0.0254 / 16).formula
    'unsanded grout for a joint of {joint}'

    References: tile council FAQ on grout.
    """
    kind = "sanded"
    if joint < _INCH / 8 - _MICRON:
        kind = "unsanded"
    elif joint > _INCH * 3 / 8 + _MICRON:
        kind = "heavily_sanded"
    return Result(
        joint,
        "length",
        f"{kind.replace('_', ' ')} grout for a joint of {{joint}}",
        parts=tuple(Part(name, float(name == kind), "number") for name in ("unsanded", "sanded", "heavily_sanded")),
    )
