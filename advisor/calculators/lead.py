"""Lead: paint disturbed against the rule's thresholds, what its dust does to a floor, lead in the air."""

from __future__ import annotations

from typing import Annotated

from advisor.calculators._base import (
    Above,
    Area,
    Areas,
    Between,
    Number,
    OneOf,
    OutOfRange,
    Part,
    Result,
    Time,
    Times,
    Unit,
    calculator,
    need,
)
from advisor.tables import table
from advisor.units import to_base

LeadLoading = Annotated[float, Unit("lead_loading")]
Where = Annotated[str, OneOf(("inside", "outside"))]

_DAY, _SHIFT = 86_400.0, 28_800.0
_WINDOW = 30 * _DAY
_MINOR = {"inside": to_base(6, "sqft", "area"), "outside": to_base(20, "sqft", "area")}
_LEAD_PAINT = 0.01  # kg/m2: 1.0 mg/cm2, from which paint counts as lead-based
_FLOOR_ACTION = to_base(5, "ug/sqft", "lead_loading")
_AIR_LIMIT = 50e-9  # kg/m3 over 8 h
_HIGHEST = 1.0  # kg/m2: 100 mg/cm2


@calculator("lead", "area", ("cfr-40-745: 745.83, minor repair and maintenance",))
def lead_area(areas: Areas, where: Where = "inside", times: Times = ()) -> Result:
    """Painted area disturbed that counts together: in one room, or outside on all sides, within 30 days.

    Up to 6 sq ft inside or 20 sq ft outside is minor work in the law of paid renovation: a limit of
    paperwork, not of safety. Window replacement, demolition and banned methods are never minor.

    Parameters: areas, whole surface of what is removed or disturbed [m2], 0 to 10 000 each; where, inside
    (one room) or outside; times, when each is disturbed, from any start [s] (none: all together).
    Returns: Result [m2], the most within 30 days; parts `minor_limit` [m2], `over` [m2], 0 where minor.
    Raises: OutOfRange.

    >>> day, foot = 86400, 0.3048                        # 4 sq ft, then 3 sq ft on day 20: 7, a renovation
    >>> room = lead_area((4 * foot**2, 3 * foot**2), "inside", (0, 20 * day))
    >>> round(room.value / foot**2, 6), round(room.part("over").value / foot**2, 6)
    (7.0, 1.0)

    References: 40 CFR 745.83; EPA lead FAQ 23002-14294 (30 days), 23002-18379 (outside is one total).
    """
    if where not in _MINOR:
        raise OutOfRange("where", f"must be inside or outside, got '{where[:40]}'")
    if times and len(times) != len(areas):
        raise OutOfRange("times", "must be as many as the areas")
    for area in areas:
        need("areas", area, 0, 10_000, "area")
    for time in times:
        need("times", time, 0, 3650 * _DAY, "time")
    moments = times or (0.0,) * len(areas)
    chosen = max(
        (
            [n for n, moment in enumerate(moments) if start <= moment <= start + _WINDOW]
            for start in sorted(set(moments))
        ),
        key=lambda group: sum(areas[n] for n in group),
        default=[],
    )
    value, limit = sum(areas[n] for n in chosen), _MINOR[where]
    # 6 sq ft must not exceed 6 sq ft by the last bit of a float.
    over = value - limit if value > limit * (1 + 1e-12) else 0.0
    return Result(
        value,
        "area",
        " + ".join(f"{{area_{n + 1}}}" for n in chosen) or "no area",
        tuple(Part(f"area_{n}", area, "area") for n, area in enumerate(areas, 1)),
        (Part("minor_limit", limit, "area"), Part("over", over, "area")),
    )


@calculator("lead", "lead_loading", ("cfr-40-745: 745.65; 89 FR 89416", "cfr-40-745: 745.83 (1.0 mg/cm2)"))
def lead_dust(
    disturbed: Annotated[Area, Between(0, 10_000)],
    floor: Annotated[Area, Above(0, 10_000)],
    paint: Annotated[LeadLoading, Between(0, _HIGHEST)] = _LEAD_PAINT,
    action_level: Annotated[LeadLoading, Above(0, _HIGHEST)] = _FLOOR_ACTION,
) -> Result:
    """Lead on a floor if all of the lead in the disturbed paint turned to dust and spread evenly over it.

    Parameters: disturbed area of paint [m2], 0 to 10 000; floor area [m2], 0 < floor <= 10 000; paint, lead
    in it [kg/m2], 0 to 1 (1.0 mg/cm2 where unknown, the least that counts as lead-based); action_level
    [kg/m2], 0 < level <= 1: 5 ug/sq ft for floors, 40 for sills, 100 for troughs since 2025.
    Returns: Result [kg/m2]; parts `times_action_level` [-], `to_remove` [-], the share to clean away.
    Raises: OutOfRange.

    >>> foot = 0.3048                                    # 1 sq ft at 1.0 mg/cm2 over a 10 x 10 ft floor
    >>> spread = lead_dust(foot**2, 100 * foot**2)
    >>> round(spread.value * foot**2 * 1e9), round(spread.part("times_action_level").value)
    (9290, 1858)

    References: 40 CFR 745.65 and 745.227 as amended by 89 FR 89416 (2024): floors 5, sills 40, troughs 100.
    """
    spread = disturbed * paint / floor
    return Result(
        spread,
        "lead_loading",
        "{paint} x {disturbed} / {floor}",
        parts=(
            Part("times_action_level", spread / action_level, "number"),
            Part("to_remove", _to_remove(spread, action_level), "fraction"),
        ),
    )


def _to_remove(loading: float, level: float) -> float:
    return 1 - level / loading if loading > level else 0.0


@calculator("lead", "fraction", ("cfr-40-745: 745.65; 89 FR 89416",))
def lead_to_remove(
    loading: Annotated[LeadLoading, Between(0, _HIGHEST)],
    action_level: Annotated[LeadLoading, Above(0, _HIGHEST)] = _FLOOR_ACTION,
) -> Result:
    """Share of the lead dust that cleaning must take away to come down to the action level.

    At the level itself action is still due: clean to below it.

    Parameters: loading on the surface [kg/m2], 0 to 1; action_level [kg/m2], 0 < level <= 1.
    Returns: Result [-], 0 below the level.  Raises: OutOfRange.

    >>> foot = 0.3048
    >>> round(lead_to_remove(9290.3e-9 / foot**2).value, 5)       # 1 - 5 / 9290
    0.99946

    References: 40 CFR 745.65 as amended by 89 FR 89416 (2024).
    """
    return Result(
        _to_remove(loading, action_level),
        "fraction",
        "1 - {action_level} / {loading}" if loading > action_level else "{loading} is at or below {action_level}: 0",
    )


@calculator("lead", "dust_concentration", ("osha-1926-62: (c)(1), (c)(2)",))
def lead_air_limit(shift: Time) -> Result:
    """Most lead in the air, averaged over the shift: 50 ug/m3 up to 8 h, 400 / hours beyond.

    Parameters: shift [s], 0 < shift <= 24 h.  Returns: Result [kg/m3].  Raises: OutOfRange.

    >>> round(lead_air_limit(10 * 3600).value * 1e9, 1)           # 1910.1025 App B: 10 h, 40 ug/m3
    40.0

    References: 29 CFR 1926.62(c); example in 29 CFR 1910.1025, Appendix B.
    """
    need("shift", shift, 0, _DAY, "time", open_low=True)
    long = shift > _SHIFT
    return Result(
        _AIR_LIMIT * _SHIFT / shift if long else _AIR_LIMIT,
        "dust_concentration",
        "50 ug/m3 x 8 h / {shift}" if long else "50 ug/m3 up to 8 h ({shift})",
    )


@calculator("lead", "fraction", ("lead-survey-2002: prevalence by age of the home",))
def lead_prevalence(year: Annotated[Number, Between(1600, 2100)]) -> Result:
    """Share of homes of that age with lead-based paint somewhere, by a national survey of 1998-2000.

    Parameters: year the house was built [-], 1600 to 2100.  Returns: Result [-].  Raises: OutOfRange.

    >>> lead_prevalence(1950).value
    0.69

    References: national survey, Jacobs et al. 2002. Later surveys found about as much.
    """
    row = next(
        row
        for row in sorted(table("lead_prevalence").rows.values(), key=lambda row: float(row.cells["until"]))
        if year <= float(row.cells["until"])
    )
    return Result(
        float(row.cells["share"]),
        "fraction",
        f"homes built {row.key}: {year:g}",
    )
