"""The order of work as a report tells it: the place of each step, what moved and for which need, what was given up."""

from __future__ import annotations

from msgspec import Struct

from advisor.review.order.lab_results import Awaited


class PlaceInOrder(Struct, frozen=True):
    """A step at its place in the order of work; of a moved one why, past which steps and by which rule."""

    step: str
    line: int
    place: int  # from 1
    why: str = ""
    moved: str = ""  # up or down
    moved_past: tuple[str, ...] = ()
    rule: str | None = None
    waits_for: Awaited | None = None  # what a laboratory answers
    holds: tuple[str, ...] = ()  # ids of the findings that hold it

    @property
    def waiting(self) -> str:
        """What the step waits for that a laboratory answers, as a sentence; empty for none."""
        one = self.waits_for
        return f"Waits until {one.is_in}: {one.days}, presumed." if one else ""


class MovedStep(Struct, frozen=True):
    """A step that moved, with the steps that belong to it, the step that it now stands before, and its needs."""

    step: str
    before: str | None
    because: str
    needs: tuple[str, ...]  # rules
    along: tuple[str, ...] = ()


class NotKept(Struct, frozen=True):
    """A need that no order keeps, or a constraint between two steps that gave way to needs."""

    step: str
    rule: str
    because: str
    first: str = ""  # of a constraint
