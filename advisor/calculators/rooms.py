"""Rooms: floor area and air volume."""

from __future__ import annotations

from advisor.calculators._base import Length, Part, Result, calculator, need


def _sides(**sides: float) -> tuple[Part, ...]:
    for name, value in sides.items():
        need(name, value, 0, 300, "length", open_low=True)
    return tuple(Part(name, value, "length") for name, value in sides.items())


@calculator("rooms", "area", ("common practice",))
def floor_area(length: Length, width: Length) -> Result:
    """Floor area of a rectangular room: length x width.

    Parameters: length, width [m], 0 < side <= 300.  Returns: Result [m2].  Raises: OutOfRange.

    >>> round(floor_area(12 * 0.3048, 10 * 0.3048).value / 0.3048**2, 6)      # 12 ft x 10 ft
    120.0
    """
    return Result(length * width, "area", "{length} x {width}", _sides(length=length, width=width))


@calculator("rooms", "volume", ("common practice",))
def room_volume(length: Length, width: Length, height: Length) -> Result:
    """Air volume of a rectangular room: length x width x height.

    Parameters: length, width, height [m], 0 < side <= 300.  Returns: Result [m3].  Raises: OutOfRange.

    >>> round(room_volume(13 * 0.3048, 9 * 0.3048, 8 * 0.3048).value / 0.3048**3, 6)      # 13 x 9 x 8 ft
    936.0
    """
    inputs = _sides(length=length, width=width, height=height)
    return Result(length * width * height, "volume", "{length} x {width} x {height}", inputs)
