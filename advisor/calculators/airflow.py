"""Fresh air: how much keeps vapour under a limit, and how long a room takes to clear.

Every function takes the room's air as well mixed; `mixing`, the factor K of 1 (a fan stirs it) to 10 (a
corner that the draught misses), divides the air flow where it is not.
"""

from __future__ import annotations

from math import exp, expm1, log
from typing import Annotated

from advisor.calculators._base import (
    Above,
    AirChanges,
    Airflow,
    Between,
    Fraction,
    Liquid,
    Number,
    OutOfRange,
    Part,
    Ppm,
    Result,
    Time,
    Volume,
    calculator,
    need,
)
from advisor.calculators.vapour import GravityOf, LelOf, MolarMassOf, vapour_made

_MILLION = 1_000_000


def _generation(
    amount: float, solvent_fraction: float, gravity: float, molar_mass: float, time: float
) -> tuple[tuple[Part, ...], tuple[Part, ...], float]:
    made = vapour_made(amount, solvent_fraction, gravity, molar_mass)
    need("evaporation_time", time, 0, 30 * 86_400, "time", open_low=True)
    rate = made.value / time
    parts = (Part("vapour", made.value, "volume"), Part("generation", rate, "airflow"))
    return (*made.inputs, Part("evaporation_time", time, "time")), parts, rate


def _room(volume: float, airflow: float, mixing: float = 1.0) -> tuple[Part, ...]:
    need("room_volume", volume, 0, 10_000, "volume", open_low=True)
    need("airflow", airflow, 0, 50, "airflow", open_low=True)
    need("mixing", mixing, 1, 10, "number")
    return Part("room_volume", volume, "volume"), Part("airflow", airflow, "airflow")


@calculator("air", "airflow", ("acgih-iv: dilution ventilation, fire and explosion", "imc-2018: 502.7.3.3"))
def airflow_for_fire_limit(
    amount: Liquid,
    solvent_fraction: Fraction,
    specific_gravity: GravityOf,
    molar_mass: MolarMassOf,
    lel: Annotated[LelOf, Above(0, 0.5)],
    evaporation_time: Time,
    share: Annotated[Fraction, Above(0, 0.5)] = 0.25,
    heat_factor: Annotated[Number, Between(0.7, 1)] = 1.0,
) -> Result:
    """Air flow that holds drying vapour at a share of the lower explosive limit, 25 % unless told otherwise.

    Parameters: as `vapour_made`; lel [-], 0 < lel <= 0.5; evaporation_time [s], 0 < t <= 30 days; share of
    the limit [-], 0 < share <= 0.5; heat_factor B, 1 up to 250 °F and 0.7 in hotter air [-].
    Returns: Result [m3/s]; parts `vapour` [m3], `generation` [m3/s].  Raises: OutOfRange.

    >>> pint, cfm = 0.003785411784 / 8, 0.3048**3 / 60
    >>> oven = airflow_for_fire_limit(2 * pint, 1, 0.88, 106, 0.01, 3600, 0.1, 0.7)     # printed: 159 cfm
    >>> abs(oven.value / cfm - 159) < 1
    True

    References: ACGIH Industrial Ventilation, dilution ventilation for fire and explosion (its S = 1 / share).
    """
    inputs, parts, rate = _generation(amount, solvent_fraction, specific_gravity, molar_mass, evaporation_time)
    extra = (Part("lel", lel, "fraction"), Part("share", share, "fraction"))
    return Result(
        rate / (lel * share * heat_factor),
        "airflow",
        "{generation} / ({lel} x {share} x {heat_factor})",
        (*inputs, *extra, Part("heat_factor", heat_factor, "number")),
        parts,
    )


@calculator("air", "airflow", ("acgih-iv: dilution ventilation for health",))
def airflow_for_exposure_limit(
    amount: Liquid,
    solvent_fraction: Fraction,
    specific_gravity: GravityOf,
    molar_mass: MolarMassOf,
    limit: Annotated[Ppm, Above(0, 10_000)],
    evaporation_time: Time,
    mixing: Annotated[Number, Between(1, 10)] = 3.0,
) -> Result:
    """Air flow that holds drying vapour at an exposure limit.

    Parameters: as `vapour_made`; limit [ppm], 0 < limit <= 10 000; evaporation_time [s], 0 < t <= 30 days;
    mixing, factor K [-], 1 to 10.
    Returns: Result [m3/s]; parts `vapour` [m3], `generation` [m3/s].  Raises: OutOfRange.

    >>> pint, cfm = 0.003785411784 / 8, 0.3048**3 / 60
    >>> bench = airflow_for_exposure_limit(1.5 * pint, 1, 1.32, 133.4, 350, 3600, 1)    # printed: 285 cfm
    >>> round(bench.value / cfm)
    285

    References: ACGIH Industrial Ventilation, dilution ventilation for health.
    """
    inputs, parts, rate = _generation(amount, solvent_fraction, specific_gravity, molar_mass, evaporation_time)
    return Result(
        rate * _MILLION * mixing / limit,
        "airflow",
        "{generation} x 1,000,000 x {mixing} / {limit}",
        (*inputs, Part("limit", limit, "ppm"), Part("mixing", mixing, "number")),
        parts,
    )


@calculator("air", "volume", ("cfr-1910-94: (c)(6)(ii)",))
def dilution_air(
    amount: Liquid,
    solvent_fraction: Fraction,
    specific_gravity: GravityOf,
    molar_mass: MolarMassOf,
    lel: Annotated[LelOf, Above(0, 0.5)],
    share: Annotated[Fraction, Above(0, 0.5)] = 0.25,
) -> Result:
    """Fresh air that brings all the vapour of a product to a share of the lower explosive limit.

    Parameters: as `vapour_made`; lel [-], 0 < lel <= 0.5; share of the limit [-], 0 < share <= 0.5.
    Returns: Result [m3]; part `vapour` [m3].  Raises: OutOfRange.

    >>> gallon, cubic_foot = 0.003785411784, 0.3048**3
    >>> round(dilution_air(gallon, 1, 0.867, 92.14, 0.014).value / cubic_foot, -2)  # toluene, printed: 8564
    8600.0

    References: 29 CFR 1910.94(c)(6)(ii): 4 (100 - LEL) x vapour / LEL.
    """
    made = vapour_made(amount, solvent_fraction, specific_gravity, molar_mass)
    return Result(
        made.value * (1 - lel) / (lel * share),
        "volume",
        "{vapour} x (1 - {lel}) / ({lel} x {share})",
        (*made.inputs, Part("lel", lel, "fraction"), Part("share", share, "fraction")),
        (Part("vapour", made.value, "volume"),),
    )


@calculator("air", "ppm", ("acgih-iv: dilution ventilation, build-up",))
def vapour_build_up(
    generation: Annotated[Airflow, Between(0, 1)],
    airflow: Airflow,
    room_volume: Volume,
    time: Annotated[Time, Between(0, 30 * 86_400)],
    mixing: Number = 1.0,
    start: Annotated[Ppm, Between(0, _MILLION)] = 0.0,
) -> Result:
    """Concentration after a time, while a source gives off vapour and fresh air flows through the room.

    Parameters: generation of vapour [m3/s], 0 to 1; airflow [m3/s], 0 < Q <= 50; room_volume [m3],
    0 < V <= 10 000; time [s], 0 to 30 days; mixing, factor K [-], 1 to 10; start [ppm], 0 to 1 000 000.
    Returns: Result [ppm]; parts `steady`, where it ends [ppm], and `air_changed`, how often [-].
    Raises: OutOfRange.

    >>> cfm, cubic_foot = 0.3048**3 / 60, 0.3048**3
    >>> shop = vapour_build_up(1.2 * cfm, 4500 * cfm, 100_000 * cubic_foot, 3600, 3)    # printed: 475 ppm
    >>> round(shop.value)
    475

    References: V dC = G dt - Q' C dt, ACGIH Industrial Ventilation.
    """
    room = _room(room_volume, airflow, mixing)
    steady = generation * mixing / airflow * _MILLION
    changed = airflow * time / (mixing * room_volume)
    return Result(
        min(-steady * expm1(-changed) + start * exp(-changed), _MILLION),
        "ppm",
        "{steady} x (1 - e^-{air_changed}) + {start} x e^-{air_changed}",
        (
            Part("generation", generation, "airflow"),
            *room,
            Part("time", time, "time"),
            Part("mixing", mixing, "number"),
            Part("start", start, "ppm"),
        ),
        (Part("steady", steady, "ppm"), Part("air_changed", changed, "number")),
    )


@calculator("air", "time", ("acgih-iv: dilution ventilation, purging",))
def purge_time(
    room_volume: Volume,
    airflow: Airflow,
    from_: Annotated[Ppm, Above(0, _MILLION)],
    to: Annotated[Ppm, Above(0, _MILLION)],
    mixing: Number = 1.0,
) -> Result:
    """Time that fresh air takes to bring a room from one concentration to another: (V / Q') ln(from / to).

    Parameters: room_volume [m3], 0 < V <= 10 000; airflow [m3/s], 0 < Q <= 50; from_ and to [ppm], above 0,
    to no more than from_; mixing, factor K [-], 1 to 10.
    Returns: Result [s]; part `air_changed`, how often the air changes meanwhile [-].  Raises: OutOfRange.

    >>> hour = purge_time(26.5, 26.5 * 6 / 3600, 2000, 100)               # 6 air changes an hour
    >>> round(hour.value / 60, 1)
    30.0

    References: ACGIH Industrial Ventilation, rate of purging.
    """
    room = _room(room_volume, airflow, mixing)
    if to > from_:
        raise OutOfRange("to", f"must be no more than the {from_:g} ppm at the start, got {to:g} ppm")
    changed = log(from_ / to)
    return Result(
        room_volume * mixing / airflow * changed,
        "time",
        "{mixing} x {room_volume} / {airflow} x ln({from} / {to})",
        (*room, Part("from", from_, "ppm"), Part("to", to, "ppm"), Part("mixing", mixing, "number")),
        (Part("air_changed", changed, "number"),),
    )


@calculator("air", "fraction", ("common practice",))
def share_left(
    room_volume: Volume, airflow: Airflow, time: Annotated[Time, Between(0, 30 * 86_400)], mixing: Number = 1.0
) -> Result:
    """Share of a gas or vapour still in the room after a time of fresh air: e^(-Q t / V).

    Parameters: room_volume [m3], 0 < V <= 10 000; airflow [m3/s], 0 < Q <= 50; time [s], 0 to 30 days;
    mixing, factor K [-], 1 to 10.
    Returns: Result [-]; part `air_changed`, how often the air changes meanwhile [-].  Raises: OutOfRange.

    >>> round(1 - share_left(30, 30 / 3600, 3 * 3600).value, 2)           # three air changes clear 95 %
    0.95

    References: first-order decay in a well-mixed room.
    """
    room = _room(room_volume, airflow, mixing)
    changed = airflow * time / (mixing * room_volume)
    return Result(
        exp(-changed),
        "fraction",
        "e^-{air_changed}",
        (*room, Part("time", time, "time"), Part("mixing", mixing, "number")),
        (Part("air_changed", changed, "number"),),
    )


@calculator("air", "airflow", ("common practice",))
def airflow_from_air_changes(
    room_volume: Annotated[Volume, Above(0, 10_000)], air_changes: Annotated[AirChanges, Between(0, 100 / 3600)]
) -> Result:
    """Air flow that changes a room's air so many times an hour: volume x air changes.

    Parameters: room_volume [m3], 0 < V <= 10 000; air_changes [1/s], 0 to 100 an hour.
    Returns: Result [m3/s].  Raises: OutOfRange.

    >>> cubic_foot = 0.3048**3
    >>> kitchen = airflow_from_air_changes(1344 * cubic_foot, 5 / 3600)   # 5 air changes: 112 cfm
    >>> round(kitchen.value / cubic_foot * 60, 1)
    112.0

    References: definition of the air change.
    """
    return Result(
        room_volume * air_changes,
        "airflow",
        "{room_volume} x {air_changes}",
    )


@calculator("air", "air_changes", ("common practice",))
def air_changes(room_volume: Volume, airflow: Airflow) -> Result:
    """How many times an hour an air flow changes a room's air: air flow / volume.

    Parameters: room_volume [m3], 0 < V <= 10 000; airflow [m3/s], 0 < Q <= 50.
    Returns: Result [1/s].  Raises: OutOfRange.

    >>> cubic_foot = 0.3048**3
    >>> round(air_changes(1344 * cubic_foot, 100 * cubic_foot / 60).value * 3600, 2)
    4.46

    References: definition of the air change.
    """
    return Result(airflow / room_volume, "air_changes", "{airflow} / {room_volume}", _room(room_volume, airflow))
