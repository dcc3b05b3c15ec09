"""The drawing of vapor in a room over time: the same balance of air as the calculator's, at more than one time."""

from __future__ import annotations

from math import ceil, exp, expm1, floor, log10

from advisor.reports import svg
from advisor.review.metric import localized
from advisor.showing import show

_MILLION = 1_000_000
_TIMES = 8  # rows of the table; the curve has six points for each


def vapour_drawing(
    parts: dict[str, float], exposure: float | None, units: str
) -> tuple[str, str, tuple[str, ...], tuple[tuple[str, ...], ...]]:
    """Summary, drawing, header and rows. `exposure` is the limit for a workday [ppm], where it is known."""
    drying = parts["evaporation_time"]
    ends = 2 * drying
    quarter = localized("fire code, a quarter of it", units)
    limits = [("can catch fire", parts["lel"] * _MILLION), (quarter, parts["lel"] * _MILLION / 4)]
    if exposure:
        limits.append(("health, a workday", exposure))
    curve = [(t * ends / (6 * _TIMES), _ppm(parts, t * ends / (6 * _TIMES))) for t in range(1, 6 * _TIMES + 1)]
    peak = max(ppm for _, ppm in curve)
    least = min([value for _, value in limits] + [peak]) or 1.0
    low = floor(log10(max(least, 0.1))) - 0.3
    high = ceil(log10(max(peak, limits[0][1]))) + 0.1
    left, right, top, bottom = 72.0, svg.WIDTH - 10.0, 24.0, 200.0

    def spot(time: float, ppm: float) -> tuple[float, float]:
        share = (log10(max(ppm, 10**low)) - low) / (high - low)
        return left + time / ends * (right - left), bottom - share * (bottom - top)

    drawn = [svg.line([(left, top), (left, bottom), (right, bottom)]), svg.text(left - 4, 12, "ppm", "end")]
    drawn.append(svg.line([spot(t, ppm) for t, ppm in curve], width=2.5))
    for decade in range(ceil(low), floor(high) + 1):
        amount = f"{10**decade:,}" if decade >= 0 else f"{10.0**decade:g}"
        drawn.append(svg.text(left - 4, spot(0, 10.0**decade)[1] + 4, amount, "end"))
    for (name, value), dash in zip(limits, ("2 2", "6 3", "10 3 2 3"), strict=False):
        drawn.append(svg.line([spot(0, value), spot(ends, value)], dash, 1.5))
        # Where the curve runs just above the line, the lettering goes below it.
        below = 1 < peak / value < 4
        drawn.append(svg.text(right, spot(0, value)[1] + (13 if below else -4), name, "end"))
    for time, anchor in ((0.0, "start"), (drying, "middle"), (ends, "end")):
        drawn.append(svg.text(spot(time, 1)[0], bottom + 16, show(time, "time", units).text, anchor))
    drawn.append(svg.text((left + right) / 2, bottom + 32, "time since the start; thick line: vapor", "middle"))
    summary = f"Vapor reaches {show(peak, 'ppm', units).text}" + "".join(
        f"; {name}: {show(value, 'ppm', units).text}" for name, value in limits
    )
    rows = [(show(t, "time", units).text, show(ppm, "ppm", units).text) for t, ppm in curve[5::6]]
    rows += [(f"limit: {name}", show(value, "ppm", units).text) for name, value in limits]
    return summary + ".", svg.picture(bottom + 40, drawn, summary + "."), ("Time", "Vapor in the air"), tuple(rows)


def _ppm(parts: dict[str, float], time: float) -> float:
    """V dC = G dt - Q C dt while it dries, and without G afterwards."""
    room, drying = parts["room_volume"], parts["evaporation_time"]
    rate = parts.get("airflow", 0.0) / parts.get("mixing", 1.0) / room
    made = parts["vapour"] / drying / room
    wet = min(time, drying)
    level = made * (-expm1(-rate * wet) / rate if rate * wet > 1e-12 else wet)
    level *= exp(-rate * (time - wet))
    return min(level, parts.get("saturation", 1.0), 1.0) * _MILLION
