"""Findings and open practices that no longer count, as data: accepted by a waiver, or answered by the plan."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from advisor.review.asked import OpenPractice
from advisor.review.finding import Finding


@dataclass(frozen=True, slots=True)
class Waiver:
    """A risk that somebody accepted: of one rule, at one step or in one plan, for a reason, until a day."""

    rule: str
    step: str  # empty: any step
    plan: str  # file name, with or without its ending, or the end of its path; empty: any plan
    reason: str
    by: str
    until: date | None
    file: str
    line: int


@dataclass(frozen=True, slots=True)
class Accepted:
    """A finding that a waiver accepts. It is listed, and it no longer counts."""

    finding: Finding
    waiver: Waiver


@dataclass(frozen=True, slots=True)
class AcceptedOpen:
    """An open practice that a waiver accepts: nobody needs to ask any more."""

    practice: OpenPractice
    waiver: Waiver


@dataclass(frozen=True, slots=True)
class HoldPoint:
    """An entry of the plan that is still to get or to find out: a box to tick before its steps."""

    section: str  # to_get or to_find_out
    text: str
    before: tuple[str, ...]  # steps; before any work where it is empty
    line: int


@dataclass(frozen=True, slots=True)
class Answered:
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
