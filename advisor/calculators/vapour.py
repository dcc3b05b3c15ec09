"""Solvent vapour: how much a liquid makes, how strong the air gets, how near that is to catching fire.

A solvent's name fills in its figures from the table `solvents`: `--solvent ethanol`.
"""

from __future__ import annotations

from math import expm1
from typing import Annotated

from advisor.calculators._base import (
    Above,
    Airflow,
    Between,
    Column,
    DustLevel,
    Fraction,
    Liquid,
    Number,
    OutOfRange,
    Part,
    Ppm,
    Ppms,
    Result,
    Time,
    Unit,
    Volume,
    calculator,
    need,
)

MolarMassOf = Annotated[float, Unit("molar_mass"), Column("solvents", "mw", "solvent")]
GravityOf = Annotated[float, Unit("number"), Column("solvents", "sg", "solvent")]
LelOf = Annotated[float, Unit("fraction"), Column("solvents", "lel", "solvent")]
# Most that the air can hold; below its flash point a liquid cannot make air that burns.
SaturationOf = Annotated[float, Unit("fraction"), Column("solvents", "saturation", "solvent")]

_MILLION = 1_000_000
# Vapour made by one volume of a liquid as heavy as water, times its molar mass, at 70 °F and 1 atm:
# 386.8 cuft/lb-mol = 24.147 m3/kmol, times 1000 kg/m3.
_EXPANSION = 24_147
_MOLAR_VOLUME = 24.45  # L/mol at 25 °C and 1 atm, as the exposure limits are converted


def _solvent(amount: float, share: float, gravity: float, molar_mass: float) -> tuple[Part, ...]:
    need("amount", amount, 0, 0.2, "liquid")
    need("solvent_fraction", share, 0, 1, "fraction")
    need("specific_gravity", gravity, 0.5, 2, "number")
    need("molar_mass", molar_mass, 16, 400, "molar_mass")
    return (
        Part("amount", amount, "liquid"),
        Part("solvent_fraction", share, "fraction"),
        Part("specific_gravity", gravity, "number"),
        Part("molar_mass", molar_mass, "molar_mass"),
    )


def _vapour(amount: float, share: float, gravity: float, molar_mass: float) -> float:
    return amount * share * _EXPANSION * gravity / molar_mass


@calculator("vapour", "volume", ("acgih-iv: dilution ventilation", "cfr-1910-94: (c)(6)(ii)"))
def vapour_made(
    amount: Liquid, solvent_fraction: Fraction, specific_gravity: GravityOf, molar_mass: MolarMassOf
) -> Result:
    """Volume of vapour that a liquid makes once all its solvent is in the air, at 70 °F.

    Parameters: amount of product [m3], 0 to 0.2; solvent_fraction by volume [-], 0 to 1; specific_gravity of
    the solvent [-], 0.5 to 2; molar_mass [g/mol], 16 to 400.
    Returns: Result [m3]; part `liquid_volume`, the amount in the units of the vapour.  Raises: OutOfRange.

    >>> gallon, cubic_foot = 0.003785411784, 0.3048**3
    >>> round(vapour_made(gallon, 1, 0.867, 92.14).value / cubic_foot, 1)   # toluene, table: 30.4
    30.4

    References: 386.8 cuft of vapour a pound-mole at 70 °F, ACGIH Industrial Ventilation; vapour a gallon by
    solvent, 29 CFR 1910.94(c), Table G-11.
    """
    inputs = _solvent(amount, solvent_fraction, specific_gravity, molar_mass)
    return Result(
        _vapour(amount, solvent_fraction, specific_gravity, molar_mass),
        "volume",
        "{liquid_volume} x {solvent_fraction} x 24,147 x {specific_gravity} / {molar_mass}",
        inputs,
        (Part("liquid_volume", amount, "volume"),),
    )


@calculator("vapour", "ppm", ("acgih-iv: dilution ventilation", "niosh-npg: LEL"))
def room_concentration(
    amount: Liquid,
    solvent_fraction: Fraction,
    specific_gravity: GravityOf,
    molar_mass: MolarMassOf,
    lel: Annotated[LelOf, Above(0, 0.5)],
    room_volume: Annotated[Volume, Above(0, 10_000)],
    saturation: Annotated[SaturationOf, Above(0, 1)] = 1.0,
) -> Result:
    """Vapour in the air of a closed room or cabinet once all the solvent has evaporated: no air flow.

    Parameters: as `vapour_made`; lel, lower explosive limit [-], 0 < lel <= 0.5; room_volume [m3],
    0 < volume <= 10 000; saturation, the most vapour that air can hold at room temperature [-], 0 < s <= 1.
    Returns: Result [ppm], no more than saturation; parts `vapour` [m3] and `share_of_lel` [-].
    Raises: OutOfRange.

    >>> ounce, cubic_foot = 0.003785411784 / 128, 0.3048**3
    >>> round(room_concentration(ounce, 1, 0.791, 58.08, 0.025, 15 * cubic_foot).value, -2)  # acetone
    22900.0

    References: 386.8 cuft a pound-mole at 70 °F, ACGIH Industrial Ventilation. At 77 °F the vapour takes
    1.3 % more room.
    """
    inputs = _solvent(amount, solvent_fraction, specific_gravity, molar_mass)
    vapour = _vapour(amount, solvent_fraction, specific_gravity, molar_mass)
    share = min(vapour / room_volume, saturation)
    return Result(
        share * _MILLION,
        "ppm",
        "1,000,000 x {saturation}" if share == saturation else "1,000,000 x {vapour} / {room_volume}",
        (
            *inputs,
            Part("lel", lel, "fraction"),
            Part("room_volume", room_volume, "volume"),
            Part("saturation", saturation, "fraction"),
        ),
        (Part("vapour", vapour, "volume"), Part("share_of_lel", share / lel, "fraction")),
    )


@calculator("vapour", "fraction", ("acgih-iv: dilution ventilation", "niosh-npg: LEL"))
def peak_vapour(
    amount: Liquid,
    solvent_fraction: Fraction,
    specific_gravity: GravityOf,
    molar_mass: MolarMassOf,
    lel: LelOf,
    room_volume: Volume,
    evaporation_time: Annotated[Time, Above(0, 30 * 86_400)] = 3600.0,
    airflow: Annotated[Airflow, Between(0, 50)] = 0.0,
    mixing: Annotated[Number, Between(1, 10)] = 1.0,
    saturation: Annotated[SaturationOf, Above(0, 1)] = 1.0,
) -> Result:
    """Strongest vapour in a room while a product dries, as a share of the lower explosive limit.

    The solvent leaves at an even rate over `evaporation_time`; the air is well mixed and enters clean at
    airflow / mixing. Without air flow all of it stays. The air near the wet surface is stronger than this.

    Parameters: as `room_concentration`; evaporation_time [s], 0 < t <= 30 days; airflow [m3/s], 0 to 50;
    mixing, factor K for poor mixing [-], 1 to 10; saturation, the most vapour that air can hold at room
    temperature [-], 0 < s <= 1 (1: no such limit known).
    Returns: Result [-], 1 = the lower explosive limit; parts `concentration` [ppm], `vapour` [m3],
    `generation` [m3/s] and `air_changed`, how often the air changes meanwhile [-].  Raises: OutOfRange.

    >>> quart, cubic_foot = 0.003785411784 / 4, 0.3048**3
    >>> kitchen = peak_vapour(quart, 0.6, 0.789, 46.07, 0.033, 936 * cubic_foot)
    >>> round(kitchen.value, 3)                                   # 8.29 cuft of vapour in 936 cuft
    0.268

    References: V dC = G dt - Q' C dt, ACGIH Industrial Ventilation, dilution ventilation.
    """
    room = room_concentration(amount, solvent_fraction, specific_gravity, molar_mass, lel, room_volume)
    vapour = room.part("vapour").value
    changed = airflow * evaporation_time / (mixing * room_volume)
    # (1 - e^-x) / x tends to 1 without air flow: the closed room.
    left = -expm1(-changed) / changed if changed > 1e-12 else 1.0
    mixed = min(vapour / room_volume * left, 1.0)
    peak = min(mixed, saturation)
    formula = "{vapour} / {room_volume} / {lel}"
    if mixed > saturation:
        formula = "{saturation} / {lel}"
    elif changed > 1e-12:
        formula = "{vapour} / {room_volume} x (1 - e^-{air_changed}) / {air_changed} / {lel}"
    return Result(
        peak / lel,
        "fraction",
        formula,
        (
            *room.inputs,
            Part("evaporation_time", evaporation_time, "time"),
            Part("airflow", airflow, "airflow"),
            Part("mixing", mixing, "number"),
            Part("saturation", saturation, "fraction"),
        ),
        (
            Part("concentration", peak * _MILLION, "ppm"),
            Part("vapour", vapour, "volume"),
            Part("generation", vapour / evaporation_time, "airflow"),
            Part("air_changed", changed, "number"),
        ),
    )


@calculator("vapour", "fraction", ("niosh-npg: LEL",))
def flammable_share(
    concentration: Annotated[Ppm, Between(0, _MILLION)], lel: Annotated[LelOf, Above(0, 0.5)]
) -> Result:
    """A concentration as a share of the lower explosive limit.

    Parameters: concentration [ppm], 0 to 1 000 000; lel [-], 0 < lel <= 0.5.
    Returns: Result [-]; part `lel_in_ppm`.  Raises: OutOfRange.

    >>> flammable_share(8250, 0.033).value               # 25 % of 3.3 %
    0.25

    References: 1 % by volume = 10 000 ppm; NIOSH takes 10 % of the limit as immediately dangerous.
    """
    limit = lel * _MILLION
    return Result(
        concentration / limit,
        "fraction",
        "{concentration} / {lel_in_ppm}",
        parts=(Part("lel_in_ppm", limit, "ppm"),),
    )


@calculator("vapour", "dust_concentration", ("niosh-npg: conversion factors",))
def ppm_to_weight(
    concentration: Annotated[Ppm, Between(0, _MILLION)], molar_mass: Annotated[MolarMassOf, Between(16, 400)]
) -> Result:
    """Weight of vapour in a volume of air at 77 °F: ppm x molar mass / 24.45 gives mg/m3.

    Parameters: concentration [ppm], 0 to 1 000 000; molar_mass [g/mol], 16 to 400.
    Returns: Result [kg/m3]; part `milligrams`, the number of mg/m3.  Raises: OutOfRange.

    >>> round(ppm_to_weight(1, 92.14).part("milligrams").value, 2)        # toluene, as NIOSH prints
    3.77

    References: NIOSH Pocket Guide to Chemical Hazards, conversion factors.
    """
    milligrams = concentration * molar_mass / _MOLAR_VOLUME
    return Result(
        milligrams / _MILLION,
        "dust_concentration",
        "{concentration} x {molar_mass} / 24.45 = {milligrams} mg/m3",
        parts=(Part("milligrams", milligrams, "number"),),
    )


@calculator("vapour", "ppm", ("niosh-npg: conversion factors",))
def weight_to_ppm(
    weight: Annotated[DustLevel, Between(0, 10)], molar_mass: Annotated[MolarMassOf, Between(16, 400)]
) -> Result:
    """Concentration of a vapour given as weight in a volume of air at 77 °F: mg/m3 x 24.45 / molar mass.

    Parameters: weight [kg/m3], 0 to 10; molar_mass [g/mol], 16 to 400.
    Returns: Result [ppm]; part `milligrams`, the number of mg/m3.  Raises: OutOfRange.

    >>> round(weight_to_ppm(2900e-6, 141.7).value, -1)                    # Stoddard solvent: 500 ppm
    500.0

    References: NIOSH Pocket Guide to Chemical Hazards, conversion factors; 29 CFR 1910.1000, Table Z-1.
    """
    milligrams = weight * _MILLION
    return Result(
        milligrams * _MOLAR_VOLUME / molar_mass,
        "ppm",
        "{milligrams} x 24.45 / {molar_mass}",
        parts=(Part("milligrams", milligrams, "number"),),
    )


@calculator("vapour", "number", ("cfr-1910-1000: (d)(2)",))
def mixture_share(concentrations: Ppms, limits: Ppms) -> Result:
    """Several solvents at once: the sum of each concentration over its own limit; above 1 is too much.

    Parameters: concentrations [ppm], one or more, each 0 to 1 000 000; limits [ppm], as many, each above 0.
    Returns: Result [-]; a part for each solvent, `share_1` and on.  Raises: OutOfRange.

    >>> round(mixture_share((500, 45, 40), (1000, 200, 200)).value, 3)     # the rule's own example
    0.925

    References: 29 CFR 1910.1000(d)(2).
    """
    if len(concentrations) != len(limits) or not limits:
        raise OutOfRange("limits", "must be as many as there are concentrations, and at least one")
    for concentration, limit in zip(concentrations, limits, strict=True):
        need("concentrations", concentration, 0, _MILLION, "ppm")
        need("limits", limit, 0, _MILLION, "ppm", open_low=True)
    shares = tuple(c / limit for c, limit in zip(concentrations, limits, strict=True))
    parts = tuple(Part(f"share_{number}", share, "number") for number, share in enumerate(shares, 1))
    return Result(
        sum(shares),
        "number",
        " + ".join(f"{{{part.name}}}" for part in parts),
        tuple(Part(f"concentration_{n}", c, "ppm") for n, c in enumerate(concentrations, 1))
        + tuple(Part(f"limit_{n}", limit, "ppm") for n, limit in enumerate(limits, 1)),
        parts,
    )
