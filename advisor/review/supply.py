"""A thing to buy, rent or borrow."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Supply:
    """A thing to buy, rent or borrow: how much is there and how much is needed, in one unit."""

    what: str
    steps: tuple[str, ...]
    have: float | None  # None: nobody said
    need: float | None  # None: it cannot be worked out
    unit: str
    why: str
    how: str  # buy, rent, borrow, hire
    shelf: str  # where a shop keeps it
    price: float | None  # [USD], where the plan gives one
    planned: bool = False  # whether the plan lists it under `to_get`

    @property
    def short(self) -> float | None:
        """How much is missing; None where that cannot be told."""
        if self.need is None or self.have is None:
            return self.need
        return max(0.0, self.need - self.have)

    @property
    def lacking(self) -> bool:
        """Whether something of it is to get."""
        return self.short is None or self.short > 0
