"""Electrical boxes: the room in them, and boxes that end up behind a new face.

Code editions differ, and only the one a town adopted binds, with the town's changes: ask the building
department. None of these results says that wiring is safe to touch or to use.
"""

from __future__ import annotations

from math import floor
from typing import Annotated

from advisor.calculators._base import (
    Above,
    Between,
    BoxVolume,
    Column,
    Length,
    Number,
    OutOfRange,
    Part,
    Result,
    Unit,
    calculator,
    need,
)
from advisor.calculators.receptacles import Edition, edition_cell

VolumeOf = Annotated[float, Unit("box_volume"), Column("conductors", "box_volume", "size")]
OtherVolumeOf = Annotated[float, Unit("box_volume"), Column("conductors", "box_volume", "other_size")]
DeviceVolumeOf = Annotated[float, Unit("box_volume"), Column("conductors", "box_volume", "device_size")]
GroundVolumeOf = Annotated[float, Unit("box_volume"), Column("conductors", "box_volume", "ground_size")]
MetalBox = Annotated[float, Unit("box_volume"), Column("box_volumes", "volume", "box")]
Setback = Annotated[float, Unit("length"), Column("box_setbacks", "most", "surface")]

_LITTLE = 1e-9  # counts must not change with the last bit of a length


@calculator("electrical", "box_volume", ("nfpa-70-2023: 314.16(B)", "nfpa-70-2017: 314.16(B)(5)"))
def box_fill(
    conductors: Number,
    volume: VolumeOf,
    devices: Number,
    grounds: Number,
    clamps: Number = 1,
    fittings: Number = 0,
    edition: Edition = "2023",
    other_conductors: Number = 0,
    other_volume: OtherVolumeOf = 0.0,
    device_volume: DeviceVolumeOf = 0.0,
    ground_volume: GroundVolumeOf = 0.0,
) -> Result:
    """Room that a box must have: each conductor, clamps, device and the grounds take their share.

    Parameters: conductors, those that enter the box, grounds and pigtails not counted; volume, room for one
    of them [m3]; devices, gangs of switches and receptacles; grounds, equipment grounds that enter; clamps, 1
    where cables are clamped inside (presumed), else 0; fittings, kinds of stud or hickey inside; edition of
    the code; other_conductors and other_volume, those of a second size; device_volume, of the largest
    conductor on the device, and ground_volume, of the largest ground: the largest in the box where not given.
    Counts 0 to 60.
    Returns: Result [m3]; parts `largest` and `ground_allowances`.  Raises: OutOfRange.

    >>> two_cables = box_fill(4, 2.25 * 0.0254**3, devices=1, grounds=2)       # two 12/2, receptacle, clamps
    >>> round(two_cables.value / 0.0254**3, 6)
    18.0

    References: NFPA 70, 314.16(B)(1) to (5), Table 314.16(B); before 2020 all grounds count as one.
    """
    for name, count in (("conductors", conductors), ("devices", devices), ("grounds", grounds)):
        need(name, count, 0, 60, "number")
    for name, count, most in (
        ("clamps", clamps, 1),
        ("fittings", fittings, 4),
        ("other_conductors", other_conductors, 60),
    ):
        need(name, count, 0, most, "number")
    for name, room in (
        ("volume", volume),
        ("other_volume", other_volume),
        ("device_volume", device_volume),
        ("ground_volume", ground_volume),
    ):
        need(name, room, 0, 1e-4, "box_volume")
    if other_conductors and not other_volume:
        raise OutOfRange("other_volume", "is missing: give the size of the other conductors")
    largest = max(volume, other_volume if other_conductors else 0.0)
    per_device = device_volume or largest
    ground_allowances = (1 + max(0.0, grounds - 4) * edition_cell(edition, "ground_share")) if grounds else 0.0
    terms = [("{conductors} x {volume}", conductors * volume)]
    for text, room in (
        ("{other_conductors} x {other_volume}", other_conductors * other_volume),
        ("{devices} x 2 x {device_volume}", devices * 2 * per_device),
        ("{clamps} x {largest}", clamps * largest),
        ("{fittings} x {largest}", fittings * largest),
        (
            "{ground_allowances} x {ground_volume}" if ground_volume else "{ground_allowances} x {largest}",
            ground_allowances * (ground_volume or largest),
        ),
    ):
        if room:
            terms.append((text, room))
    counts = {
        "conductors": conductors,
        "other_conductors": other_conductors,
        "devices": devices,
        "clamps": clamps,
        "fittings": fittings,
        "grounds": grounds,
    }
    rooms = {
        "volume": volume,
        "other_volume": other_volume,
        "device_volume": per_device,
        "ground_volume": ground_volume,
    }
    return Result(
        sum(room for _, room in terms),
        "box_volume",
        " + ".join(text for text, _ in terms),
        (
            *(Part(name, count, "number") for name, count in counts.items() if count or name == "conductors"),
            *(Part(name, room, "box_volume") for name, room in rooms.items() if room),
        ),
        (Part("largest", largest, "box_volume"), Part("ground_allowances", ground_allowances, "number")),
    )


@calculator("electrical", "box_volume", ("nfpa-70-2023: 314.16",))
def box_room_left(
    box_volume: Annotated[MetalBox, Above(0, 0.02)], fill: Annotated[BoxVolume, Between(0, 0.02)]
) -> Result:
    """Room left in a box: volume of the box - fill.

    Parameters: box_volume, marked in the box or from the table [m3], above 0 to 0.02; fill, from `box_fill`
    [m3], 0 to 0.02.
    Returns: Result [m3], negative where the box is too full; zero passes.  Raises: OutOfRange.

    >>> round(box_room_left(18 * 0.0254**3, 20.25 * 0.0254**3).value / 0.0254**3, 6)
    -2.25

    References: NFPA 70, 314.16(A).
    """
    left = box_volume - fill
    return Result(
        0.0 if abs(left) < _LITTLE * box_volume else left,  # a full box passes
        "box_volume",
        "{box_volume} - {fill}",
    )


@calculator("electrical", "number", ("nfpa-70-2023: Table 314.16(A)",))
def conductors_that_fit(
    box_volume: Annotated[MetalBox, Above(0, 0.02)], volume: Annotated[VolumeOf, Above(0, 1e-4)]
) -> Result:
    """Most conductors of one size in a box that holds nothing else: box volume / room for one, rounded down.

    Parameters: box_volume [m3], above 0 to 0.02; volume, room for one conductor [m3], above 0 to 0.0001.
    Returns: Result [-].  Raises: OutOfRange.

    >>> conductors_that_fit(21 * 0.0254**3, 2.25 * 0.0254**3).value        # 4 x 1-1/2 square, 12 gauge
    9.0

    References: NFPA 70, Table 314.16(A).
    """
    return Result(
        float(floor(box_volume / volume + _LITTLE)),
        "number",
        "{box_volume} / {volume}, rounded down",
    )


@calculator("electrical", "length", ("nfpa-70-2017: 314.20",))
def box_setback(
    added: Annotated[Length, Between(0, 0.15)],
    limit: Annotated[Setback, Between(0, 0.1)],
    present: Annotated[Length, Between(-0.1, 0.15)] = 0.0,
) -> Result:
    """How far a box stands behind a new face: setback now + thickness added.

    Parameters [m]: added, tile and mortar or panel, 0 to 0.15; limit of the new surface, 0 to 0.1; present,
    how far the box stands behind the face now, -0.1 (proud of it) to 0.15.
    Returns: Result [m]; part `excess`, above zero where an extender is needed.  Raises: OutOfRange.

    >>> tiled = box_setback(7 / 16 * 0.0254, 1 / 4 * 0.0254)        # tile and mortar over a flush box
    >>> round(tiled.part("excess").value / 0.0254, 6)
    0.1875

    References: NFPA 70 (2017), 314.20: 1/4 in behind tile, plaster or gypsum, none behind wood.
    """
    setback = present + added
    return Result(
        setback,
        "length",
        "{present} + {added}",
        (Part("present", present, "length"), Part("added", added, "length"), Part("limit", limit, "length")),
        (Part("excess", setback - limit, "length"),),
    )
