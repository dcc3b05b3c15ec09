"""Silica dust: the average over a day, the minutes to the limit, the controls that the law lists by tool."""

from __future__ import annotations

from typing import Annotated

from advisor.calculators._base import (
    Above,
    Between,
    Column,
    DustLevel,
    Length,
    OneOf,
    OutOfRange,
    Part,
    Result,
    Time,
    Unit,
    calculator,
    need,
)
from advisor.tables import table
from advisor.units import to_base

Factor = Annotated[float, Unit("number"), Column("apf", "factor", "respirator")]
Place = Annotated[str, OneOf(("indoors", "outdoors"))]
Task = Annotated[
    str,
    OneOf(
        (
            "wet tile saw",
            "wet handheld saw",
            "fiber-cement saw",
            "shrouded drill",
            "powered chipping tool",
            "mortar grinder",
            "wet grinder",
            "shrouded grinder",
            "dry cutting",
        )
    ),
]

_SHIFT, _DAY, _FOUR_HOURS = 28_800.0, 86_400.0, 14_400.0
_MICROGRAM = 1e-9
_LIMIT, _ACTION = 50 * _MICROGRAM, 25 * _MICROGRAM  # per cubic metre, averages over 8 h
_MOST = 1.0  # kg/m3: no dust in air is thicker


@calculator("silica", "dust_concentration", ("osha-1926-1153: (d)(1)",))
def silica_average(concentration: Annotated[DustLevel, Between(0, _MOST)], time: Time) -> Result:
    """Average over 8 h of dust breathed for part of the day, the rest of the day being clean.

    Parameters: concentration while working [kg/m3], 0 to 1; time of it [s], 0 to 24 h.
    Returns: Result [kg/m3]; limit 50, action level 25 ug/m3; part `of_limit` [-].  Raises: OutOfRange.

    >>> round(silica_average(440e-9, 54.5 * 60).value * 1e9, 0)      # the limit after 54.5 min
    50.0

    References: 29 CFR 1926.1153(b), (d)(1): time-weighted average over 8 h.
    """
    need("time", time, 0, _DAY, "time")
    average = concentration * time / _SHIFT
    return Result(
        average,
        "dust_concentration",
        "{concentration} x {time} / 8 h",
        parts=(Part("of_limit", average / _LIMIT, "fraction"),),
    )


@calculator("silica", "time", ("osha-1926-1153: (b), (d)(1)",))
def silica_time(
    concentration: Annotated[DustLevel, Above(0, _MOST)], limit: Annotated[DustLevel, Above(0, _MOST)] = _LIMIT
) -> Result:
    """Time after which the day's average stands at the limit, the rest of the day being clean.

    Parameters: concentration while working [kg/m3], 0 < c <= 1; limit, average over 8 h [kg/m3], 0 < l <= 1.
    Returns: Result [s]; part `to_action_level`, time to 25 ug/m3 [s].  Raises: OutOfRange.

    >>> dry = silica_time(964e-9)                                    # 50 x 480 / 964 min
    >>> round(dry.value / 60, 1), round(dry.part("to_action_level").value / 60, 1)
    (24.9, 12.4)

    References: 29 CFR 1926.1153(b), (d)(1).
    """
    return Result(
        limit * _SHIFT / concentration,
        "time",
        "{limit} x 8 h / {concentration}",
        parts=(Part("to_action_level", _ACTION * _SHIFT / concentration, "time"),),
    )


@calculator("silica", "number", ("osha-1926-1153: (c)(1), Table 1",))
def silica_protection(task: Task, place: Place, time: Time) -> Result:
    """Protection factor of the respirator that the law's table asks for; 1 means none.

    Holds where the tool's water or dust collection works as the table says. Dry cutting, and tools that the
    table lists for outdoors only, have no answer indoors: measure the air, or take another tool.

    Parameters: task, a row of the table `silica_controls`; place, indoors or outdoors; time of the task in
    the shift [s], 0 < t <= 24 h.
    Returns: Result [-].  Raises: OutOfRange, also where the table does not cover the task.

    >>> silica_protection("shrouded grinder", "indoors", 4.1 * 3600).value      # row (xii)
    10.0

    References: 29 CFR 1926.1153(c)(1), Table 1.
    """
    row = table("silica_controls").row(task)
    if row is None:
        raise OutOfRange("task", f"must be one of {', '.join(table('silica_controls').rows)}, got '{task[:40]}'")
    if place not in ("indoors", "outdoors"):
        raise OutOfRange("place", f"must be indoors or outdoors, got '{place[:40]}'")
    need("time", time, 0, _DAY, "time", open_low=True)
    factor = row.cells.get(f"{place}_{'short' if time <= _FOUR_HOURS else 'long'}")
    if factor is None:
        raise OutOfRange(
            "task", f"{row.key}, {place}: not covered by 29 CFR 1926.1153 Table 1; the air must be measured"
        )
    span = "up to 4 h" if time <= _FOUR_HOURS else "more than 4 h"
    return Result(
        float(factor),
        "number",
        f"Table 1, {row.source.at.rpartition(' ')[2]}, {place}, {span} ({{time}})",
    )


@calculator("silica", "airflow", ("osha-1926-1153: Table 1 (xi), (xii)",))
def collector_airflow(wheel: Annotated[Length, Above(0, 0.5)]) -> Result:
    """Least air flow of the dust collector on a grinder's shroud: 25 cfm for each inch of wheel.

    Parameters: wheel diameter [m], 0 < wheel <= 0.5.  Returns: Result [m3/s].  Raises: OutOfRange.

    >>> round(collector_airflow(5 * 0.0254).value / (0.3048**3 / 60), 6)        # 5 in: 125 cfm
    125.0

    References: 29 CFR 1926.1153, Table 1 (xi) and (xii).
    """
    return Result(
        wheel / 0.0254 * to_base(25, "cfm", "airflow"),
        "airflow",
        "{wheel} x 25 cfm for each inch",
    )


@calculator("silica", "dust_concentration", ("osha-1910-134: (d)(3)(i)",))
def dust_behind_respirator(
    concentration: Annotated[DustLevel, Between(0, _MOST)], factor: Annotated[Factor, Between(1, 10_000)]
) -> Result:
    """Dust that gets through a respirator that fits, is shaved for and holds the right filter.

    Parameters: concentration outside [kg/m3], 0 to 1; factor, assigned protection factor [-], 1 to 10 000.
    Returns: Result [kg/m3].  Raises: OutOfRange.

    >>> round(dust_behind_respirator(440e-9, 10).value * 1e9, 6)                # half mask: 44 ug/m3
    44.0

    References: 29 CFR 1910.134(d)(3)(i), Table 1.
    """
    return Result(
        concentration / factor,
        "dust_concentration",
        "{concentration} / {factor}",
    )


@calculator("silica", "dust_concentration", ("osha-1910-134: (d)(3)(i)(B)",))
def dust_most_for_respirator(
    factor: Annotated[Factor, Between(1, 10_000)], limit: Annotated[DustLevel, Above(0, _MOST)] = _LIMIT
) -> Result:
    """Strongest dust in which a respirator may be worn: its protection factor times the limit.

    Parameters: factor, assigned protection factor [-], 1 to 10 000; limit of the dust [kg/m3], 0 < l <= 1.
    Returns: Result [kg/m3].  Raises: OutOfRange.

    >>> round(dust_most_for_respirator(10, 50e-9).value * 1e9, 6)               # lead, half mask: 500 ug/m3
    500.0

    References: 29 CFR 1910.134(d)(3)(i)(B), maximum use concentration.
    """
    return Result(
        factor * limit,
        "dust_concentration",
        "{factor} x {limit}",
    )
