"""Hot work: how hot damp air feels to someone who works in it."""

from __future__ import annotations

from math import sqrt
from typing import Annotated

from advisor.calculators._base import (
    Between,
    Fraction,
    Part,
    Result,
    Temperature,
    calculator,
    need,
)
from advisor.units import from_base, to_base

_COOLEST, _HOTTEST = 299.816, 317.6  # 80 °F and 112 °F: the regression holds between them
_INDEX = (
    "-42.379 + 2.04901523 x {degrees} + 10.14333127 x {percent} - 0.22475541 x {degrees} x {percent}"
    " - 0.00683783 x {degrees}^2 - 0.05481717 x {percent}^2 + 0.00122874 x {degrees}^2 x {percent}"
    " + 0.00085282 x {degrees} x {percent}^2 - 0.00000199 x {degrees}^2 x {percent}^2"
)


@calculator("heat", "temperature", ("nws-sr-90-23: regression and adjustments",))
def heat_index(temperature: Temperature, humidity: Annotated[Fraction, Between(0, 1)] = 0.4) -> Result:
    """What hot air feels like in the shade, its damp counted in: the heat index of the weather service.

    Parameters: temperature of the air [K], 80 to 112 °F; humidity, relative [-], 0 to 1; 40 % where nothing is
    known, the driest column of the printed chart.
    Returns: Result [K]; parts `degrees` (°F), `percent` of humidity, `adjustment` for very dry or very damp air, and
    `index` (°F).
    Raises: OutOfRange.

    >>> round(from_base(heat_index(to_base(96, "°F", "temperature"), 0.5).value, "°F", "temperature"))   # chart: 108
    108

    References: L. P. Rothfusz, The Heat Index Equation, National Weather Service Technical Attachment SR 90-23 (1990).
    """
    need("temperature", temperature, _COOLEST, _HOTTEST, "temperature")
    t, r = from_base(temperature, "°F", "temperature"), humidity * 100
    index = (
        -42.379
        + 2.04901523 * t
        + 10.14333127 * r
        - 0.22475541 * t * r
        - 0.00683783 * t**2
        - 0.05481717 * r**2
        + 0.00122874 * t**2 * r
        + 0.00085282 * t * r**2
        - 0.00000199 * t**2 * r**2
    )
    adjustment = 0.0
    if r < 13:
        adjustment = -(13 - r) / 4 * sqrt(max(17 - abs(t - 95), 0) / 17)
    elif r > 85 and t < 87:
        adjustment = (r - 85) / 10 * (87 - t) / 5
    return Result(
        to_base(index + adjustment, "°F", "temperature"),
        "temperature",
        _INDEX + (" + {adjustment}" if adjustment else "") + " = {index} °F",
        parts=(
            Part("degrees", t, "number"),
            Part("percent", r, "number"),
            Part("adjustment", adjustment, "number"),
            Part("index", index + adjustment, "number"),
        ),
    )
