"""Wood: how much it moves with the seasons, what room to leave for it, what a slab weighs.

A species fills in its figures from the table `wood_species`: `--species "yellow birch"`.
"""

from __future__ import annotations

from typing import Annotated

from advisor.calculators._base import (
    Above,
    Between,
    Column,
    Length,
    Moisture,
    OutOfRange,
    Part,
    Result,
    Unit,
    calculator,
)

Coefficient = Annotated[float, Unit("number"), Column("wood_species", "tangential", "species")]
Shrinkage = Annotated[float, Unit("moisture"), Column("wood_species", "tangential_shrinkage", "species")]
Gravity = Annotated[float, Unit("number"), Column("wood_species", "gravity", "species")]

_GAP = 0.0254 / 16  # what stays open in the dampest season


def _moisture_6_to_14(name: str, moisture: float) -> None:
    if not 6 <= moisture <= 14:
        raise OutOfRange(name, f"must be from 6 % to 14 % (Wood Handbook, eq. 13-2), got {moisture:g} %")


@calculator("wood", "length", ("wood-handbook-2010: ch. 13, eq. 13-2",))
def wood_movement(
    width: Annotated[Length, Above(0, 10)],
    coefficient: Annotated[Coefficient, Above(0, 0.01)],
    from_: Moisture,
    to: Moisture,
) -> Result:
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
    _moisture_6_to_14("from", from_)
    _moisture_6_to_14("to", to)
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


@calculator("wood", "length", ("wood-handbook-2010: ch. 13, eq. 13-3",))
def wood_movement_wide(
    width: Annotated[Length, Above(0, 10)],
    shrinkage: Annotated[Shrinkage, Above(0, 25)],
    from_: Annotated[Moisture, Between(0, 30)],
    to: Annotated[Moisture, Between(0, 30)],
) -> Result:
    """Change in width of a board between moisture contents below 6 % or above 14 %, from its shrinkage.

    Parameters: width, at the moisture it starts from [m], 0 < width <= 10; shrinkage, from green to ovendry
    [%], 0 < shrinkage <= 25; from_, to, moisture contents [%], 0 to 30, where wood stops moving.
    Returns: Result [m], positive where the board swells.  Raises: OutOfRange.

    >>> white_fir = wood_movement_wide(9.15 * 0.0254, 7.0, 8, 11)     # 27.45 / 406.57; eq. 13-2 prints 0.067
    >>> round(white_fir.value / 0.0254, 4)
    0.0675

    References: Wood Handbook (2010), ch. 13, eq. 13-3; shrinkage of species in Table 4-3.
    """
    return Result(
        width * (to - from_) / (3000 / shrinkage - 30 + from_),
        "length",
        "{width} x ({to} - {from}) / (3000 / {shrinkage} - 30 + {from})",
        (
            Part("width", width, "length"),
            Part("shrinkage", shrinkage, "moisture"),
            Part("from", from_, "moisture"),
            Part("to", to, "moisture"),
        ),
    )


@calculator("wood", "number", ("wood-handbook-2010: ch. 13, eq. 13-3 at 10 %",))
def shrinkage_coefficient(shrinkage: Annotated[Shrinkage, Above(0, 25)]) -> Result:
    """Dimensional change coefficient of a species that has only its shrinkage printed.

    Rows that stand for a group of species (commercial red or white oak, sweet birch, green ash) do not
    follow it.

    Parameters: shrinkage, from green to ovendry [%], 0 < shrinkage <= 25.
    Returns: Result [-], change for 1 % of moisture.  Raises: OutOfRange.

    >>> round(shrinkage_coefficient(9.5).value, 5)       # yellow birch, Tables 4-3 and 13-5: 0.00338
    0.00338

    References: Wood Handbook (2010), eq. 13-3 solved at 10 % moisture; agrees with 33 of 36 rows
    of Table 13-5.
    """
    return Result(
        1 / (3000 / shrinkage - 20),
        "number",
        "1 / (3000 / {shrinkage} - 20)",
    )


@calculator("wood", "length", ("wood-handbook-2010: ch. 13, eq. 13-2", "common practice"))
def slot_play(
    distance: Annotated[Length, Between(0, 10)],
    coefficient: Annotated[Coefficient, Above(0, 0.01)],
    installed: Moisture,
    driest: Moisture,
    dampest: Moisture,
) -> Result:
    """Room that a screw slot needs each way, at its distance across the grain from the line held fast.

    Parameters: distance from the fixed line [m], 0 to 10; coefficient [-], 0 < c <= 0.01; installed, driest,
    dampest, moisture contents [%], 6 to 14, driest <= installed <= dampest.
    Returns: Result [m], the larger way; parts `shrinks`, `swells` [m].  Raises: OutOfRange.

    >>> birch = slot_play(25 * 0.0254, 0.00338, 8.6, 6.2, 11.0)       # Table 13-5: 2.4 % either way
    >>> round(birch.value / 0.0254, 3)
    0.203

    References: Wood Handbook (2010), eq. 13-2, applied to the free width.
    """
    for name, moisture in (("installed", installed), ("driest", driest), ("dampest", dampest)):
        _moisture_6_to_14(name, moisture)
    if not driest <= installed <= dampest:
        raise OutOfRange("installed", "must lie between the driest and the dampest moisture content")
    change = max(installed - driest, dampest - installed)
    return Result(
        distance * coefficient * change,
        "length",
        "{distance} x {coefficient} x {change}",
        parts=(
            Part("change", change, "moisture"),
            Part("shrinks", distance * coefficient * (installed - driest), "length"),
            Part("swells", distance * coefficient * (dampest - installed), "length"),
        ),
    )


@calculator("wood", "length", ("wood-handbook-2010: ch. 13, eq. 13-2", "common practice"))
def wall_gap(width: Length, coefficient: Coefficient, driest: Moisture, dampest: Moisture) -> Result:
    """Gap to leave between a wooden top and the walls: its seasonal movement and 1/16 in more.

    Parameters: width across the grain [m], 0 < width <= 10; coefficient [-], 0 < c <= 0.01; driest, dampest,
    moisture contents [%], 6 to 14, driest <= dampest.
    Returns: Result [m], all of it on the free side; part `movement` [m].  Raises: OutOfRange.

    >>> birch = wall_gap(25 * 0.0254, 0.00338, 6.2, 11.0)             # 25 x 0.00338 x 4.8 + 1/16
    >>> round(birch.value / 0.0254, 3)
    0.468

    References: Wood Handbook (2010), eq. 13-2; the added 1/16 in is common practice.
    """
    if dampest < driest:
        raise OutOfRange("dampest", "must not be below the driest moisture content")
    movement = wood_movement(width, coefficient, driest, dampest).value
    return Result(
        movement + _GAP,
        "length",
        "{width} x {coefficient} x ({dampest} - {driest}) + 1/16 in",
        parts=(Part("movement", movement, "length"),),
    )


@calculator("wood", "mass", ("wood-handbook-2010: ch. 4, density; Table 5-3",))
def slab_weight(
    length: Annotated[Length, Above(0, 10)],
    width: Annotated[Length, Above(0, 5)],
    thickness: Annotated[Length, Above(0, 0.5)],
    gravity: Annotated[Gravity, Between(0.1, 1.3)],
    moisture: Annotated[Moisture, Between(0, 30)] = 12.0,
) -> Result:
    """Weight of a wooden slab. Wood differs by about a tenth from piece to piece: read it to 5 lb.

    Parameters: length [m], 0 < length <= 10; width [m], 0 < width <= 5; thickness [m], 0 < t <= 0.5; gravity,
    specific gravity at 12 % moisture [-], 0.1 to 1.3; moisture content [%], 0 to 30.
    Returns: Result [kg]; parts `volume` [m3], `density` [kg/m3].  Raises: OutOfRange.

    >>> top = slab_weight(96 * 0.0254, 25 * 0.0254, 1.5 * 0.0254, 0.62)  # 2.083 cuft of yellow birch
    >>> round(top.value / 0.45359237, 1)
    90.3

    References: Wood Handbook (2010), ch. 4: density = 1000 G (1 + M / 100) kg/m3; G of Table 5-3.
    """
    density = 1000 * gravity * (1 + moisture / 100)
    volume = length * width * thickness
    return Result(
        volume * density,
        "mass",
        "{length} x {width} x {thickness} = {volume}; {volume} x {density}",
        parts=(Part("volume", volume, "volume"), Part("density", density, "density")),
    )
