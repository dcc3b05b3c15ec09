"""Figures that a person would say: few digits, some way from the limits between which they have to lie."""

from __future__ import annotations

import math
from collections.abc import Iterator

_INF = float("inf")
_PLAIN = (1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0)  # before a power of ten
_HALVES = (1.2, 1.5, 2.5, 3.5, 4.5, 7.0, 9.0)
_DEGREES = ("°F", "°C", "K")


def between_limits(bottom: float, top: float, unit: str) -> float | None:
    """A round figure between the two, neither included; None where only an odd one would do."""
    wanted = _wanted(bottom, top)
    if wanted is None:
        return None
    for figures in _rounder(wanted, unit):
        fit = [one for one in figures if bottom < one < top]
        if fit:
            return min(fit, key=lambda one: (abs(one - wanted), one))
    return None


def _wanted(bottom: float, top: float) -> float | None:
    if bottom > -_INF and top < _INF:
        return (bottom + top) / 2
    if bottom > -_INF:
        return bottom + max(abs(bottom) * 0.3, 1.0) if bottom else 10.0
    if top < _INF:
        return top * 0.7 if top > 0 else top - max(abs(top) * 0.3, 1.0)
    return None


def _rounder(wanted: float, unit: str) -> Iterator[list[float]]:
    """Figures near the wanted one, the roundest first."""
    if unit in _DEGREES:
        steps: tuple[float, ...] = (*((100.0,) if abs(wanted) > 500 else ()), 10.0, 5.0, 1.0)
    elif unit == "in" and 1 <= abs(wanted) <= 100:
        steps = (10.0, 2.0, 1.0, 0.5, 0.25, 0.125)
    else:
        size = math.floor(math.log10(abs(wanted))) if wanted else 0
        sign = -1.0 if wanted < 0 else 1.0
        for digits in (_PLAIN, _HALVES):
            yield [sign * float(f"{one}e{power}") for power in (size - 1, size, size + 1) for one in digits]
        steps = (float(f"1e{size - 1}"),)
    for step in steps:
        middle = math.floor(wanted / step)
        yield [round((middle + more) * step, 9) for more in (-1, 0, 1, 2)]
