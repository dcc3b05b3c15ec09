"""A thing to buy, rent or borrow."""

from __future__ import annotations

from msgspec import Struct


class Supply(Struct, frozen=True):
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
    at_least: bool = False  # whether more may be needed: the plan leaves out a size
    pack: float = 0.0  # how much a box of it holds, in the unit; 0 where nobody said
    against: str = ""  # the finding that speaks against it, by its title: nobody should get it
    instead: tuple[str, ...] = ()  # products of the plan in whose place the report asks for it

    @property
    def short(self) -> float | None:
        """How much is missing; None where that cannot be told."""
        if self.need is None or self.have is None:
            return self.need
        return max(0.0, self.need - self.have)

    @property
    def lacking(self) -> bool:
        """Whether something of it is to get. What is there, of which nobody knows how far it goes, is not."""
        if self.against:
            return False
        return not self.have if self.short is None else self.short > 0
