"""Findings and open practices that no longer count, as data: accepted by a waiver, or answered by the plan."""

from __future__ import annotations

from datetime import date

from msgspec import Struct

from advisor.review.asked import OpenPractice
from advisor.review.finding import Finding


class Waiver(Struct, frozen=True):
    """A risk that somebody accepted: of one rule, at one step or in one plan, for a reason, until a day."""

    rule: str
    step: str  # empty: any step
    plan: str  # file name, with or without its ending, or the end of its path; empty: any plan
    reason: str
    by: str
    until: date | None
    file: str
    line: int


class Accepted(Struct, frozen=True):
    """A finding that a waiver accepts. It is listed, and it no longer counts."""

    finding: Finding
    waiver: Waiver


class AcceptedOpen(Struct, frozen=True):
    """An open practice that a waiver accepts: nobody needs to ask any more."""

    practice: OpenPractice
    waiver: Waiver


class HoldPoint(Struct, frozen=True):
    """An entry of the plan that is still to get or to find out: a box to tick before its steps."""

    section: str  # to_get or to_find_out
    text: str
    before: tuple[str, ...]  # steps; before any work where it is empty
    line: int


class Answered(Struct, frozen=True):
    """A practice that rests on entries of the plan: it no longer counts, and they are ticked before the step."""

    finding: Finding | None
    practice: OpenPractice | None
    by: tuple[HoldPoint, ...]

    @property
    def about(self) -> Finding | OpenPractice:
        """What is answered: what spoke, or what was open."""
        found = self.finding or self.practice
        assert found is not None
        return found
