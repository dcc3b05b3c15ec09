"""A thing to buy, rent or borrow as data."""

from __future__ import annotations

from typing import Any

from advisor.review.supply import Supply


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
    }
