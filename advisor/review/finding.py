"""A finding as data: what one rule says about one step, with its numbers and sources."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec import Struct, field

from advisor.calculators import Result
from advisor.plan.model import Basis
from advisor.review.wording import Wording
from advisor.rulebase.model import SIGNALS

if TYPE_CHECKING:
    from advisor.engine.run import Drawn


class Figure(Struct, frozen=True):
    """A number of a finding with its working. `value` is in base units of `dimension`."""

    name: str
    value: float
    dimension: str
    working: Result | None
    place: float | None = None  # along a run [m]
    inputs: tuple[tuple[str, str], ...] = ()  # what went in, and where that came from


class Cited(Struct, frozen=True):
    """A source as printed: key, full citation, place in the work. An empty key is common practice."""

    key: str
    citation: str
    locator: str
    url: str = ""  # where the public may read it


class Finding(Struct):
    """What one rule says about one step (or about the plan as a whole)."""

    id: str
    rule: str
    title: str
    pack: str
    kind: str
    signal: str
    step: str | None
    step_line: int
    what: str
    because: str
    controls: tuple[tuple[str, str], ...]
    numbers: tuple[Figure, ...]
    sources: tuple[Cited, ...]
    rests_on: tuple[Basis, ...]
    advised: bool
    first: str | None = None  # precede, wait: the step that comes first
    duration: float | None = None  # wait [s]
    to: str = ""  # refer: to whom
    wording: Wording | None = None  # the sentences before the values were put in
    adds: tuple[str, ...] = ()  # what the steps do that its advice adds
    decides: bool = False  # whether its advice adds a step that decides the rest: a test, a permit
    drawn: list[Drawn] = field(default_factory=list)  # the conclusions that it tells
    answer: tuple[str, ...] = ()  # of a need: move, again or unknown, and the steps that are meant; empty: do it
    wants: tuple[str, ...] = ()  # gear, tools and products that its advice names
    parts: tuple[str, ...] = ()  # the parts that it is about
    who: str = ""  # who may do it: you, helper, licensed: TRADE, laboratory, local code
    of: tuple[str, ...] = ()  # ids of the findings that it tells, where it tells several (`review/told_once.py`)
    steps: tuple[str, ...] = ()  # steps that it is about too

    @property
    def rank(self) -> int:
        """Gravity: 0 notice to 3 danger."""
        return SIGNALS.index(self.signal)
