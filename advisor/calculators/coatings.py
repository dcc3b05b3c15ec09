"""Coats of paint and varnish: dew on the surface, film, number of coats, amount to buy, air for a gun."""

from __future__ import annotations

from math import ceil, log
from typing import Annotated

from advisor.calculators._base import (
    Above,
    Airflow,
    Area,
    Between,
    Column,
    Fraction,
    Liquid,
    Number,
    OneOf,
    OutOfRange,
    Part,
    Pressure,
    Result,
    Temperature,
    TemperatureStep,
    Unit,
    Volume,
    calculator,
    need,
)

RateOf = Annotated[float, Unit("spreading_rate"), Column("spreading_rates", "least", "coating")]
Tone = Annotated[str, OneOf(("bare", "light", "medium", "dark"))]

_FREEZING, _ATMOSPHERE = 273.15, 101_325.0
_GALLON = 0.003785411784


def _dew_point(air_temperature: float, humidity: float) -> tuple[float, float]:
    need("air_temperature", air_temperature, _FREEZING, _FREEZING + 50, "temperature")
    need("humidity", humidity, 0.05, 1, "fraction")
    celsius = air_temperature - _FREEZING
    gamma = log(humidity) + 17.625 * celsius / (243.04 + celsius)
    return 243.04 * gamma / (17.625 - gamma) + _FREEZING, gamma


@calculator("coatings", "temperature", ("alduchov-eskridge-1996: eq. 21", "ashrae-fundamentals-2017: ch. 1"))
def dew_point(air_temperature: Temperature, humidity: Fraction) -> Result:
    """Temperature at which water from the air settles on a surface.

    Parameters: air_temperature [K], 0 to 50 °C; humidity, relative [-], 0.05 to 1.
    Returns: Result [K]; parts `gamma` [-], ln(humidity) + 17.625 t / (243.04 + t), t in °C, and `celsius`.
    Raises: OutOfRange.

    >>> round((dew_point(294.26, 0.5).value - 273.15) * 1.8 + 32, 1)       # 70 °F, 50 %
    50.5

    References: Magnus form with the constants of Alduchov and Eskridge (1996), within 0.1 K of the ASHRAE
    formulation over this range.
    """
    value, gamma = _dew_point(air_temperature, humidity)
    return Result(
        value,
        "temperature",
        "243.04 x {gamma} / (17.625 - {gamma}) = {celsius} °C",
        parts=(Part("gamma", gamma, "number"), Part("celsius", value - _FREEZING, "number")),
    )


@calculator("coatings", "temperature_step", ("common practice",))
def dew_margin(
    surface_temperature: Temperature,
    air_temperature: Temperature,
    humidity: Fraction,
    margin: Annotated[TemperatureStep, Between(0, 20)] = 25 / 9,
) -> Result:
    """How much warmer a surface is than it must be to take a coat: at least 5 °F above the dew point.

    Parameters: surface_temperature [K], 0 to 60 °C; air_temperature, humidity as `dew_point`; margin wanted
    [K], 0 to 20, 5 °F unless told otherwise.
    Returns: Result [K], negative where the surface is too cold; parts `dew_point` and `coldest_surface` [K].
    Raises: OutOfRange.

    >>> cold = dew_margin(288.71, 297.04, 0.6)                # 60 °F surface in 75 °F air of 60 %
    >>> cold.value < 0
    True

    References: common practice for coatings, 5 °F (3 °C) above the dew point.
    """
    need("surface_temperature", surface_temperature, _FREEZING, _FREEZING + 60, "temperature")
    dew, _ = _dew_point(air_temperature, humidity)
    return Result(
        surface_temperature - dew - margin,
        "temperature_step",
        "{surface_temperature} - {dew_point} - {margin}",
        parts=(Part("dew_point", dew, "temperature"), Part("coldest_surface", dew + margin, "temperature")),
    )


@calculator("coatings", "length", ("common practice",))
def film_thickness(
    spreading_rate: RateOf,
    volume_solids: Annotated[Fraction, Above(0, 1)],
    coats: Annotated[Number, Between(1, 20)] = 1,
) -> Result:
    """Dry film of some coats: coats x solids by volume / spreading rate.

    Parameters: spreading_rate [1/m], 50 to 1000 sqft/gal; volume_solids [-], 0 < s <= 1; coats, 1 to 20.
    Returns: Result [m]; part `wet_film` of one coat [m].  Raises: OutOfRange.

    >>> one = film_thickness(400 * 0.3048**2 / 0.003785411784, 0.35)
    >>> round(one.part("wet_film").value / 25.4e-6, 2), round(one.value / 25.4e-6, 2)   # mil
    (4.01, 1.4)

    References: geometry; 231 cuin a gallon makes 1604 sqft a mil thick.
    """
    _rate(spreading_rate)
    wet = 1 / spreading_rate
    return Result(
        coats * wet * volume_solids,
        "length",
        "{coats} x {wet_film} x {volume_solids}",
        parts=(Part("wet_film", wet, "length"),),
    )


def _rate(spreading_rate: float) -> None:
    square_feet_a_gallon = 0.3048**2 / _GALLON
    low, high = 50 * square_feet_a_gallon, 1000 * square_feet_a_gallon
    need("spreading_rate", spreading_rate, low, high, "spreading_rate")


@calculator("coatings", "spreading_rate", ("common practice",))
def coverage(
    volume_solids: Annotated[Fraction, Above(0, 1)],
    dry_film: Annotated[float, Unit("length"), Between(2.54e-6, 2.54e-3)],
    transfer: Annotated[Fraction, Above(0, 1)] = 1.0,
) -> Result:
    """Area that a volume of coating covers at a dry film: solids x transfer / film.

    Parameters: volume_solids [-], 0 < s <= 1; dry_film [m], 0.1 to 100 mil; transfer, share that lands on the
    work [-], 0 < t <= 1: 1 for a brush, about 0.35 for an ordinary spray gun.
    Returns: Result [1/m].  Raises: OutOfRange.

    >>> sqft_a_gallon = 0.3048**2 / 0.003785411784
    >>> round(coverage(0.65, 5 * 25.4e-6).value / sqft_a_gallon, 1)          # 1604 x 0.65 / 5
    208.5

    References: geometry; 231 cuin a gallon makes 1604 sqft a mil thick.
    """
    return Result(
        volume_solids * transfer / dry_film,
        "spreading_rate",
        "{volume_solids} x {transfer} / {dry_film} (1604 sqft/gal at 1 mil)",
    )


@calculator("coatings", "liquid", ("common practice",))
def paint_to_buy(
    area: Annotated[Area, Between(0, 10_000)],
    coats: Annotated[Number, Between(1, 20)],
    spreading_rate: RateOf,
    can: Annotated[Liquid, Above(0, 0.05)] = _GALLON,
    spare: Annotated[Fraction, Between(0, 1)] = 0.1,
) -> Result:
    """Paint for an area: area x coats / spreading rate, and something to spare, in whole cans.

    Parameters: area [m2], 0 to 10 000; coats, 1 to 20; spreading_rate [1/m], 50 to 1000 sqft/gal; can [m3],
    0 < can <= 0.05; spare [-], 0 to 1.
    Returns: Result [m3], what the work takes; parts `with_spare` [m3], `cans` and `bought` [m3].
    Raises: OutOfRange.

    >>> doors = paint_to_buy(70 * 0.3048**2, 2, 400 * 0.3048**2 / 0.003785411784)
    >>> round(doors.value / 0.003785411784, 2), doors.part("cans").value         # 70 x 2 / 400 gal
    (0.35, 1)

    References: common practice.
    """
    _rate(spreading_rate)
    needed = area * coats / spreading_rate
    # The tolerance keeps a need that is exactly whole cans from rounding up on the last bit of a float.
    cans = ceil(needed * (1 + spare) / can - 1e-9)
    return Result(
        needed,
        "liquid",
        "{area} x {coats} / {spreading_rate}",
        parts=(
            Part("with_spare", needed * (1 + spare), "liquid"),
            Part("cans", cans, "number"),
            Part("bought", cans * can, "liquid"),
        ),
    )


# Coats of primer and of finish. A primer tinted towards the finish saves a finish coat.
_COATS = {
    ("bare", "light"): (1, 2), ("bare", "medium"): (1, 2), ("bare", "dark"): (1, 3),
    ("light", "light"): (0, 2), ("medium", "medium"): (0, 2), ("dark", "dark"): (0, 2),
    ("light", "medium"): (0, 3), ("light", "dark"): (1, 3), ("medium", "dark"): (1, 3),
    ("medium", "light"): (1, 2), ("dark", "medium"): (1, 2), ("dark", "light"): (1, 3),
}  # fmt: skip


@calculator("coatings", "number", ("common practice",))
def coats_needed(from_: Tone, to: Tone) -> Result:
    """Coats to allow for a change of color: primer and finish coats together.

    A habit of the trade, not a measurement: a sample on the real surface decides, and a stain that bleeds, a
    slick surface or bare wood needs its primer whatever the color.

    Parameters: from_, bare, light, medium or dark; to, light, medium or dark.
    Returns: Result [-]; parts `primer` and `finish` [-].  Raises: OutOfRange.

    >>> coats_needed("dark", "light").value
    4

    References: common practice.
    """
    if (from_, to) not in _COATS:
        wrong = "to" if any(from_ == start for start, _ in _COATS) else "from"
        raise OutOfRange(wrong, "must be light, medium or dark (from: also bare)")
    primer, finish = _COATS[from_, to]
    return Result(
        primer + finish,
        "number",
        "{primer} + {finish}",
        parts=(Part("primer", primer, "number"), Part("finish", finish, "number")),
    )


@calculator("coatings", "fraction", ("common practice",))
def spray_air(
    gun_airflow: Annotated[Airflow, Above(0, 0.1)],
    compressor_airflow: Annotated[Airflow, Above(0, 0.1)],
    tank: Annotated[Volume, Between(0, 1)] = 0.0,
    high_pressure: Annotated[Pressure, Between(0, 1.5e6)] = 0.0,
    low_pressure: Pressure = 0.0,
) -> Result:
    """Share of a spray gun's air that a compressor can keep up with; below 100 % the gun starves.

    Parameters: gun_airflow and compressor_airflow, at the pressure of the gun, as free air [m3/s], above
    0 and up to 0.1; tank [m3], 0 to 1; high_pressure and low_pressure, where the tank starts
    and the gun starves, gauge [Pa], 0 to 1.5 MPa, low no more than high.
    Returns: Result [-]; part `minutes`, how long the tank bridges the lack (absent at 100 % and more).
    Raises: OutOfRange.

    >>> cfm = 0.3048**3 / 60
    >>> spray_air(12 * cfm, 6 * cfm).value
    0.5

    References: Boyle's law: air used from a tank = volume x fall of pressure / 1 atm.
    """
    need("low_pressure", low_pressure, 0, high_pressure, "pressure")
    share = compressor_airflow / gun_airflow
    lack = gun_airflow - compressor_airflow
    stored = tank * (high_pressure - low_pressure) / _ATMOSPHERE
    bridge = (Part("minutes", stored / lack / 60, "number"),) if lack > 0 else ()
    return Result(
        share,
        "fraction",
        "{compressor_airflow} / {gun_airflow}",
        parts=(Part("stored_air", stored, "volume"), *bridge),
    )
