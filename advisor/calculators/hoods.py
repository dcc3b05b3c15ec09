"""Kitchen exhaust: how much air a hood should move, what replaces it, its duct, and the pull on the house."""

from __future__ import annotations

from math import log10, pi
from typing import Annotated

from advisor.calculators._base import (
    Above,
    Airflow,
    Between,
    Length,
    Number,
    OneOf,
    OutOfRange,
    Part,
    Power,
    Result,
    Volume,
    calculator,
    need,
)

_CFM = 0.3048**3 / 60
_BTU_PER_HOUR = 0.29307107017222  # W
_AIR_DENSITY, _AIR_VISCOSITY = 1.2, 1.81e-5  # kg/m3 and Pa s, at 70 °F
FanKind = Annotated[str, OneOf(("vented hood", "other fan", "continuous"))]
Answer = Annotated[str, OneOf(("yes", "no", "unknown"))]
Edition = Annotated[str, OneOf(("2018", "2012"))]
YesNo = Annotated[str, OneOf(("yes", "no"))]


def _word(name: str, word: str, words: tuple[str, ...]) -> str:
    if word not in words:
        raise OutOfRange(name, f"must be {', '.join(words[:-1])} or {words[-1]}, got {word}")
    return word


@calculator("hoods", "airflow", ("irc-2018: Table M1505.4.4", "ashrae-62-2-2016: Table 5.1"))
def kitchen_exhaust(kind: FanKind = "vented hood", kitchen_volume: Annotated[Volume, Between(0, 1000)] = 0.0) -> Result:
    """Least air flow of a kitchen fan: the larger of what the code and the ventilation standard ask.

    Parameters: kind: vented hood (switched on to cook), other fan (the same, on a wall or ceiling) or
    continuous; kitchen_volume [m3], 0 to 1000, needed for continuous.
    Returns: Result [m3/s]; parts `code` and `standard` [m3/s].  Raises: OutOfRange.

    >>> round(kitchen_exhaust("continuous", 1344 * 0.3048**3).value / (0.3048**3 / 60), 1)    # 5 air changes
    112.0

    References: IRC 2018, Table M1505.4.4: 100 cfm intermittent, 25 cfm continuous; ASHRAE 62.2-2016,
    Table 5.1: 100 cfm vented hood, 300 cfm other, 5 air changes an hour continuous (enclosed kitchens).
    """
    _word("kind", kind, ("vented hood", "other fan", "continuous"))
    code, standard = 100 * _CFM, (300 if kind == "other fan" else 100) * _CFM
    if kind == "continuous":
        if not kitchen_volume:
            raise OutOfRange("kitchen_volume", "must be given for a fan that runs all the time")
        code, standard = 25 * _CFM, kitchen_volume * 5 / 3600
    return Result(
        max(code, standard),
        "airflow",
        "larger of {code} (code) and {standard} (ventilation standard)",
        parts=(Part("code", code, "airflow"), Part("standard", standard, "airflow")),
    )


@calculator("hoods", "airflow", ("common practice",))
def burner_exhaust(heat: Annotated[Power, Between(0, 100_000)]) -> Result:
    """Air flow that takes the steam and gas of all burners away: 1 cfm for each 100 BTU an hour.

    Parameters: heat, of all burners together [W], 0 to 100 kW.
    Returns: Result [m3/s].  Raises: OutOfRange.

    >>> round(burner_exhaust(40_000 * 0.29307107).value / (0.3048**3 / 60), 1)
    400.0

    References: common practice of hood makers.
    """
    share = 100 * _BTU_PER_HOUR / _CFM
    return Result(
        heat / share,
        "airflow",
        "{burners} BTU/h / 100 BTU/h for each cfm",
        parts=(Part("burners", heat / _BTU_PER_HOUR, "number"),),
    )


@calculator("hoods", "airflow", ("irc-2018: M1503.6", "irc-2012: M1503.4"))
def makeup_air(
    hood_airflow: Annotated[Airflow, Between(0, 5)],
    natural_draft: Answer = "unknown",
    edition: Edition = "2018",
    trigger: Annotated[Airflow, Between(0, 1)] = 400 * _CFM,
    allowance: Annotated[Airflow, Between(0, 1)] = 0.0,
) -> Result:
    """Make-up air that a hood calls for, 0 where none is: over 400 cfm with an appliance of natural draft.

    The 2012 edition asks it of any hood over 400 cfm. Local amendments change both trigger and amount.

    Parameters: hood_airflow, the most the system can exhaust [m3/s], 0 to 5; natural_draft, whether a
    fuel-burning appliance indoors is neither direct-vent nor of mechanical draft: yes, no or unknown,
    which counts as yes; edition, 2018 (and later) or 2012; trigger [m3/s], 0 to 1; allowance, what a
    local rule lets the house supply itself [m3/s], 0 to 1.
    Returns: Result [m3/s]; part `triggered`, 1 or 0.  Raises: OutOfRange.

    >>> round(makeup_air(600 * 0.3048**3 / 60, "no").value, 6)               # all electric
    0.0
    >>> makeup_air(401 * 0.3048**3 / 60, "yes").part("triggered").value
    1.0

    References: IRC 2018, M1503.6; IRC 2012, M1503.4.
    """
    _word("natural_draft", natural_draft, ("yes", "no", "unknown"))
    _word("edition", edition, ("2018", "2012"))
    # "In excess of": equality passes, and 400 cfm read from text is not 400.0000001.
    over = hood_airflow > trigger * (1 + 1e-9)
    triggered = over and (edition == "2012" or natural_draft != "no")
    return Result(
        max(hood_airflow - allowance, 0.0) if triggered else 0.0,
        "airflow",
        "{hood_airflow} - {allowance}" if triggered else "none called for at {hood_airflow}: make-up air",
        parts=(Part("triggered", float(triggered), "number"),),
    )


@calculator("hoods", "length", ("irc-2018: M1901.1, G2447.5",))
def hood_clearance(protected: YesNo = "no") -> Result:
    """Least height above a cooking top: 30 in to what can burn, 24 in to a metal hood or a protected surface.

    Parameters: protected, yes for a metal hood as wide as the range, or millboard of 1/4 in under sheet
    metal.
    Returns: Result [m].  Raises: OutOfRange.  The listing of the appliance overrides it.

    >>> round(hood_clearance("no").value / 0.0254), round(hood_clearance("yes").value / 0.0254)
    (30, 24)

    References: IRC 2018, M1901.1 and G2447.5.
    """
    covered = _word("protected", protected, ("yes", "no")) == "yes"
    return Result((24 if covered else 30) * 0.0254, "length", "least height above the cooking top")


def _area(diameter: float, width: float, height: float) -> float:
    for name, side in (("diameter", diameter), ("width", width), ("height", height)):
        need(name, side, 0, 1, "length")
    area = pi * diameter**2 / 4 or width * height
    if not area or (diameter and (width or height)):
        raise OutOfRange("diameter", "must be given for a round duct, width and height for a flat one")
    return area


@calculator("hoods", "air_speed", ("common practice",))
def duct_velocity(
    airflow: Annotated[Airflow, Between(0, 5)], diameter: Length = 0.0, width: Length = 0.0, height: Length = 0.0
) -> Result:
    """Speed of the air in a duct: air flow / area.

    Parameters: airflow [m3/s], 0 to 5; diameter of a round duct or width and height of a flat one [m], to 1.
    Returns: Result [m/s]; part `duct_area` [m2].  Raises: OutOfRange.

    >>> fpm = 0.3048 / 60
    >>> round(duct_velocity(400 * 0.3048**3 / 60, diameter=6 * 0.0254).value / fpm)     # 400 / 0.196 sqft
    2037

    References: continuity.
    """
    area = _area(diameter, width, height)
    return Result(
        airflow / area,
        "air_speed",
        "{airflow} / {duct_area}",
        parts=(Part("duct_area", area, "area"),),
    )


@calculator("hoods", "draft", ("haaland-1983: eq. 6a", "ashrae-fundamentals-2017: ch. 21"))
def duct_friction(
    airflow: Annotated[Airflow, Above(0, 5)],
    diameter: Annotated[Length, Between(0.03, 1)],
    length: Annotated[Length, Between(0, 100)],
    roughness: Annotated[Length, Between(0, 0.005)] = 9e-5,
) -> Result:
    """Pressure lost along a round duct: friction x length / diameter x density x speed squared / 2.

    Parameters: airflow [m3/s], 0 < Q <= 5; diameter [m], 0.03 to 1; length, elbows counted in as length
    [m], 0 to 100; roughness [m], 0 to 5 mm: 0.09 mm for smooth metal, about 3 mm for flexible duct pulled
    tight.
    Returns: Result [Pa]; parts `speed` [m/s], `reynolds` and `friction` [-].  Raises: OutOfRange, also for
    flow below a Reynolds number of 4000.

    >>> loss = duct_friction(400 * 0.3048**3 / 60, 6 * 0.0254, 100 * 0.3048)
    >>> round(loss.value / 249.09, 2)                                          # inches of water
    1.05

    References: Darcy-Weisbach with the friction factor of Haaland (1983), within 2 % of Colebrook.
    """
    speed = airflow / _area(diameter, 0, 0)
    reynolds = _AIR_DENSITY * speed * diameter / _AIR_VISCOSITY
    if reynolds < 4000:
        raise OutOfRange("airflow", "is too small for this duct: the formula holds for turbulent flow")
    friction = (-1.8 * log10((roughness / diameter / 3.7) ** 1.11 + 6.9 / reynolds)) ** -2
    return Result(
        friction * length / diameter * _AIR_DENSITY * speed**2 / 2,
        "draft",
        "{friction} x {length} / {diameter} x 1.2 kg/m3 x {speed}^2 / 2",
        parts=(
            Part("speed", speed, "air_speed"),
            Part("reynolds", reynolds, "number"),
            Part("friction", friction, "number"),
        ),
    )


@calculator("hoods", "draft", ("astm-e779: power law",))
def house_pull(
    exhaust: Annotated[Airflow, Between(0, 5)],
    leakage_at_50: Annotated[Airflow, Between(0.01, 20)],
    exponent: Annotated[Number, Between(0.5, 1)] = 0.65,
    makeup: Annotated[Airflow, Between(0, 5)] = 0.0,
) -> Result:
    """How far fans pull the pressure in a house below outdoors: 50 Pa x (net / leakage)^(1/n).

    Natural draft fails at a few pascals: about 2 Pa for a water heater, 5 Pa the common ceiling (common
    practice).

    Parameters: exhaust, all fans together [m3/s], 0 to 5; leakage_at_50, from a blower-door test [m3/s],
    0.01 to 20; exponent n [-], 0.5 to 1; makeup [m3/s], 0 to 5.
    Returns: Result [Pa]; part `net`, exhaust less make-up [m3/s].  Raises: OutOfRange.

    >>> cfm = 0.3048**3 / 60
    >>> round(house_pull(400 * cfm, 1500 * cfm).value, 2)
    6.54

    References: fan-pressurization power law, ASTM E779.
    """
    net = max(exhaust - makeup, 0.0)
    return Result(
        50 * (net / leakage_at_50) ** (1 / exponent),
        "draft",
        "50 Pa x ({net} / {leakage_at_50})^(1 / {exponent})",
        parts=(Part("net", net, "airflow"),),
    )
