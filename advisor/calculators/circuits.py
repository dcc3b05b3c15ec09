"""Circuits: voltage drop of cords, the longest cord, the load on a circuit, the power on a plate."""

from __future__ import annotations

from typing import Annotated

from advisor.calculators._base import (
    Above,
    Between,
    Column,
    Current,
    Fraction,
    Length,
    OutOfRange,
    Part,
    Powers,
    Result,
    Unit,
    Voltage,
    calculator,
    need,
)

ResistanceOf = Annotated[float, Unit("resistance"), Column("conductors", "stranded", "gauge")]

_CONTINUOUS = 1.25  # NFPA 70, 210.20(A): a continuous load counts a quarter more, so 80 % of the breaker is the most


@calculator("electrical", "voltage", ("nfpa-70-2023: ch. 9 Table 8; 210.19(A) informational note",))
def voltage_drop(
    current: Current, length: Annotated[Length, Between(0, 300)], resistance: ResistanceOf, voltage: Voltage = 120.0
) -> Result:
    """Voltage lost in a cord or cable: 2 x current x length one way x resistance.

    Parameters: current [A], 0 to 200; length one way [m], 0 to 300; resistance of the wire [ohm/m], stranded
    where the gauge is given, above 0 to 1; voltage at the outlet [V], 12 to 600.
    Returns: Result [V]; part `share` of the voltage [-].  Raises: OutOfRange.

    >>> kft = 304.8                                                   # 4 A in 100 ft of 16 gauge: 4.0 V
    >>> round(voltage_drop(4, 30.48, 4.99 / kft, 24).value, 1)
    4.0

    References: NFPA 70, ch. 9, Table 8 (75 °C). The code advises 3 % at most on a branch circuit.
    """
    _wire(current, resistance, voltage)
    drop = 2 * current * length * resistance
    return Result(
        drop,
        "voltage",
        "2 x {current} x {length} x {resistance}",
        parts=(Part("share", drop / voltage, "fraction", None, "2 x {current} x {length} x {resistance} / {voltage}"),),
    )


@calculator("electrical", "length", ("nfpa-70-2023: ch. 9 Table 8; 210.19(A) informational note",))
def longest_cord(
    current: Annotated[Current, Above(0, 200)],
    resistance: ResistanceOf,
    voltage: Voltage = 120.0,
    share: Annotated[Fraction, Above(0, 0.1)] = 0.03,
) -> Result:
    """Longest cord that keeps the voltage drop to a share: share x voltage / (2 x current x resistance).

    Parameters: as for `voltage_drop`, current above 0; share of the voltage that may be lost [-], above 0 to
    0.1, 3 % unless told otherwise.
    Returns: Result [m], one way.  Raises: OutOfRange.

    >>> round(longest_cord(16, 1.93 / 304.8).value / 0.3048, 2)
    58.29

    References: as for `voltage_drop`.
    """
    _wire(current, resistance, voltage)
    return Result(
        share * voltage / (2 * current * resistance),
        "length",
        "{share} x {voltage} / (2 x {current} x {resistance})",
        (
            Part("share", share, "fraction"),
            Part("voltage", voltage, "voltage"),
            Part("current", current, "current"),
            Part("resistance", resistance, "resistance"),
        ),
    )


@calculator("electrical", "current", ("nfpa-70-2023: 210.20(A), 210.23(A)",))
def circuit_load(
    loads: Powers,
    rating: Annotated[Current, Above(0, 200)],
    voltage: Annotated[Voltage, Between(12, 600)] = 120.0,
    continuous: Powers = (),
) -> Result:
    """Load on a circuit: (loads + 1.25 x loads that run three hours or more) / voltage.

    Parameters: loads at the same time [W], each 0 to 20,000; rating of the breaker [A], above 0 to 200;
    voltage [V], 12 to 600; continuous, loads that run three hours or more [W], not repeated in loads.
    Returns: Result [A]; parts `share` of the rating [-] and `room` left [A], negative when overloaded.
    Raises: OutOfRange.

    >>> circuit_load((), 20, continuous=(1920,)).part("share").value  # 16 A fill 20 A
    1.0

    References: NFPA 70, 210.20(A); 210.23(A): fixed appliances at most 50 % where they share a circuit.
    """
    for name, powers in (("loads", loads), ("continuous", continuous)):
        for power in powers:
            need(name, power, 0, 20_000, "power")
    if not loads and not continuous:
        raise OutOfRange("loads", "must name one load at least")
    short, long = sum(loads), sum(continuous)
    amps = (short + _CONTINUOUS * long) / voltage
    return Result(
        amps,
        "current",
        "({total_loads} + 1.25 x {total_continuous}) / {voltage}",
        (
            Part("total_loads", short, "power"),
            Part("total_continuous", long, "power"),
            Part("voltage", voltage, "voltage"),
            Part("rating", rating, "current"),
        ),
        (Part("share", amps / rating, "fraction"), Part("room", rating - amps, "current")),
    )


@calculator("electrical", "power", ("common practice",))
def plate_power(
    current: Annotated[Current, Between(0, 200)], voltage: Annotated[Voltage, Between(12, 600)] = 120.0
) -> Result:
    """Power of an appliance whose plate gives the current: current x voltage.

    Parameters: current on the plate [A], 0 to 200; voltage of its circuit [V], 12 to 600.
    Returns: Result [W].  Raises: OutOfRange.

    >>> plate_power(12.5).value
    1500.0
    """
    parts = (Part("current", current, "current"), Part("voltage", voltage, "voltage"))
    return Result(current * voltage, "power", "{current} x {voltage}", parts)


def _wire(current: float, resistance: float, voltage: float) -> None:
    need("current", current, 0, 200, "current")
    need("resistance", resistance, 0, 1, "resistance", open_low=True)
    need("voltage", voltage, 12, 600, "voltage")
