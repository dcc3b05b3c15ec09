"""A thing to buy, rent or borrow as data."""

from __future__ import annotations

from math import ceil
from typing import Any

from advisor.review.supply import Supply

_STEPS = {
    "qt": 1.0, "gal": 1.0, "pt": 1.0, "floz": 1.0, "L": 0.5, "ml": 100.0, "sqft": 1.0, "m2": 0.5, "ft": 1.0, "m": 0.5,
    "each": 1.0,
}  # fmt: skip
_POURED = ("gal", "qt", "pt", "L")
_WITHOUT_SPARE = 0.95  # a tenth to spare is in the sum; no can more is opened for half of it
_QUARTS = 4.0  # of a gallon: a can of a quart is sold everywhere


def amount(value: float | None, unit: str) -> str:
    """`2.5 gal`, `3`, or a question mark where nobody knows."""
    if value is None:
        return "?"
    return f"{value:.3g}" + (f" {unit}" if unit and unit != "each" else "")


def ask_for(one: Supply) -> str:
    """What is short, rounded up to what shops sell: whole boxes, cans of a quart, whole square feet; empty for none."""
    if one.against or not one.short:
        return ""
    return in_shop(one.short, one)


def in_shop(value: float, one: Supply) -> str:
    """An amount rounded up to what shops sell it in."""
    if one.pack:
        boxes = ceil(value / one.pack - 1e-9)
        return f"{boxes} box{'es' * (boxes != 1)} of {amount(one.pack, one.unit)}"
    if one.unit in _POURED and value > 1:
        value *= _WITHOUT_SPARE
    if one.unit == "gal" and value * _QUARTS <= _QUARTS - 1 + 1e-9:  # four cans of a quart are a gallon
        return amount(float(ceil(value * _QUARTS - 1e-9)), "qt")
    step = _STEPS.get(one.unit)
    return amount(ceil(value / step - 1e-9) * step if step else value, one.unit)


def supply_data(one: Supply) -> dict[str, Any]:
    """A thing to get, by the contract."""
    return {
        "what": one.what,
        "for": list(one.steps),
        "have": one.have,
        "need": one.need,
        "short": one.short,
        "unit": one.unit,
        "why": one.why,
        "how": one.how,
        "shelf": one.shelf,
        "price": one.price,
        "planned": one.planned,
        "at_least": one.at_least,
        "ask_for": ask_for(one),
        "against": one.against,
    }
