"""Wood and air: the moisture that wood settles at, and the movement that follows from a season's air."""

from __future__ import annotations

from typing import Annotated

from advisor.calculators._base import (
    Above,
    Between,
    Column,
    Fraction,
    Length,
    OutOfRange,
    Part,
    Result,
    Temperature,
    Unit,
    calculator,
    need,
)
from advisor.units import from_base

Coefficient = Annotated[float, Unit("number"), Column("wood_species", "tangential", "species")]

_COLDEST, _WARMEST = 272.0388, 327.5945  # 30 °F and 130 °F, the range checked against Table 4-2
_ROOM = 294.2611  # 70 °F


def _constants(fahrenheit: float) -> tuple[float, float, float, float]:
    t = fahrenheit
    return (
        330 + 0.452 * t + 0.00415 * t**2,
        0.791 + 0.000463 * t - 0.000000844 * t**2,
        6.34 + 0.000775 * t - 0.0000935 * t**2,
        1.09 + 0.0284 * t - 0.0000904 * t**2,
    )


@calculator("wood", "moisture", ("wood-handbook-2010: ch. 4, eq. 4-5",))
def equilibrium_moisture(humidity: Annotated[Fraction, Between(0, 0.95)], temperature: Temperature = _ROOM) -> Result:
    """Moisture content that wood of any species settles at in steady air. Thick or coated wood lags weeks.

    Parameters: humidity, relative [-], 0 to 0.95; temperature [K], 30 to 130 °F.
    Returns: Result [%]; parts `W`, `K`, `K1`, `K2`, the constants for the temperature, and `h`.
    Raises: OutOfRange.

    >>> round(equilibrium_moisture(0.60, 294.2611).value, 1)      # Table 4-2, 70 °F and 60 %: 11.0
    11.0

    References: Wood Handbook (2010), ch. 4, eq. 4-5 and Table 4-2, which it generates.
    """
    need("temperature", temperature, _COLDEST - 0.001, _WARMEST + 0.001, "temperature")
    w, k, k1, k2 = _constants(from_base(temperature, "°F", "temperature"))
    kh = k * humidity
    first = kh / (1 - kh)
    second = (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2)
    return Result(
        1800 / w * (first + second),
        "moisture",
        "1800 / {W} x ({K} x {h} / (1 - {K} x {h}) + ({K1} x {K} x {h} + 2 x {K1} x {K2} x {K}^2 x {h}^2) / "
        "(1 + {K1} x {K} x {h} + {K1} x {K2} x {K}^2 x {h}^2))",
        parts=(
            Part("W", w, "number"),
            Part("K", k, "number"),
            Part("K1", k1, "number"),
            Part("K2", k2, "number"),
            Part("h", humidity, "number"),
        ),
    )


@calculator("wood", "length", ("wood-handbook-2010: ch. 4, eq. 4-5; ch. 13, eq. 13-2 and 13-3",))
def seasonal_movement(
    width: Annotated[Length, Above(0, 10)],
    coefficient: Annotated[Coefficient, Above(0, 0.01)],
    dry_humidity: Fraction,
    damp_humidity: Fraction,
    temperature: Temperature = _ROOM,
) -> Result:
    """How much wider a board is in the damp season than in the dry one, from the air of the room.

    Holds once the wood has settled in both seasons, so it is the most that the board can do. Beyond 6 to
    14 % moisture eq. 13-3 takes over, with the shrinkage that belongs to the coefficient
    (3000 / S = 1 / C + 20); for groups of species, such as commercial oaks, that is an estimate.

    Parameters: width in the dry season [m], 0 < width <= 10; coefficient [-], 0 < c <= 0.01; dry_humidity,
    damp_humidity, relative [-], 0 to 0.95, dry <= damp; temperature [K], 30 to 130 °F.
    Returns: Result [m]; parts `dry_moisture`, `damp_moisture` [%].  Raises: OutOfRange.

    >>> top = seasonal_movement(25 * 0.0254, 0.00338, 0.30, 0.60)     # Table 4-2: 6.2 and 11.0 %, 0.406 in
    >>> round(top.value / 0.0254, 2)
    0.41

    References: Wood Handbook (2010), ch. 4, eq. 4-5; ch. 13, eq. 13-2, 13-3.
    """
    if damp_humidity < dry_humidity:
        raise OutOfRange("damp_humidity", "must not be below the dry season's humidity")
    dry = equilibrium_moisture(dry_humidity, temperature).value
    damp = equilibrium_moisture(damp_humidity, temperature).value
    inputs = (
        Part("width", width, "length"),
        Part("coefficient", coefficient, "number"),
        Part("dry_humidity", dry_humidity, "fraction"),
        Part("damp_humidity", damp_humidity, "fraction"),
        Part("temperature", temperature, "temperature"),
    )
    parts = (Part("dry_moisture", dry, "moisture"), Part("damp_moisture", damp, "moisture"))
    if dry >= 6 and damp <= 14:
        formula = "{width} x {coefficient} x ({damp_moisture} - {dry_moisture})"
        return Result(width * coefficient * (damp - dry), "length", formula, inputs, parts)
    return Result(
        width * (damp - dry) / (1 / coefficient - 10 + dry),
        "length",
        "{width} x ({damp_moisture} - {dry_moisture}) / (1 / {coefficient} - 10 + {dry_moisture})",
        inputs,
        parts,
    )
