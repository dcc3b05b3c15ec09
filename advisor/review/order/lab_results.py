"""The wait for a test's result: no step that hangs on it starts before a laboratory has answered."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from msgspec import Struct

from advisor.plan.model import Entity, Plan
from advisor.plan.said import action_of, words
from advisor.review.finding import Finding
from advisor.review.order.constraints import minutes
from advisor.review.taken_along import whole
from advisor.review.wording import listed
from advisor.site.verdicts import MOVE
from advisor.units import read_quantity

_A_DAY = 24 * 60


class Awaited(Struct, frozen=True):
    """What a step waits for that the plan itself does not do: its name, and the time from the first morning [min]."""

    what: str
    time: int
    several: bool = False  # whether that is more than one result

    @property
    def is_in(self) -> str:
        """`the lead result is in`, `the lead result and the asbestos result are in`."""
        return _is_in(self.what, self.several)

    @property
    def days(self) -> str:
        """`5 days`, or hours where it is less than a day."""
        number, noun = (self.time // _A_DAY, "day") if self.time >= _A_DAY else (self.time // 60, "hour")
        return f"{number} {noun}{'s' * (number != 1)}"

    def told(self) -> str:
        """As what was presumed of a step."""
        return (
            f"starts when {self.is_in}: {self.days} after the first morning, if the sample goes out then "
            "(what laboratories commonly take)"
        )


class WaitTold(Struct, frozen=True):
    """A wait for a test's result, with all steps that wait for it."""

    what: str
    hours: float
    days: str
    steps: tuple[str, ...]
    several: bool = False

    def told(self) -> str:
        """As a sentence of the calendar."""
        until = f"{self.days} until {_is_in(self.what, self.several)}"
        return f"Presumed: {until}; {listed(list(self.steps))} can start no sooner."


def awaited(plan: Plan, findings: Iterable[Finding]) -> dict[str, Awaited]:
    """By step: the tests that advice puts before it, with what the answer to the slowest commonly takes.

    A test that the plan has itself, before the step or after it, waits as a step of its own (`own_result`).
    """
    known = {step.id for step in plan.steps}
    times: dict[str, dict[str, int]] = {}
    for finding in findings:
        if finding.kind not in ("require", "refer") or finding.step not in known or finding.answer[:1] == (MOVE,):
            continue
        for action in finding.adds:
            if time := result_time(action):
                times.setdefault(str(finding.step), {})[action] = time
    return {step: _together(own) for step, own in times.items()}


def _together(times: dict[str, int]) -> Awaited:
    names = [name for action, name in whole().result_names.items() if action in times]
    return Awaited(listed(names), max(times.values()), len(names) > 1)


def _is_in(what: str, several: bool) -> str:
    return f"{what} {'are' if several else 'is'} in"


def result_time(action: str) -> int:
    """How long the answer to a test commonly takes [min]; 0 for what is no test."""
    if action not in whole().tests:
        return 0
    said = whole().steps.get(action, {}).get("wait")
    return minutes(read_quantity(str(said), "time").si) if said else 0


def own_result(step: Entity, plan: Plan) -> tuple[int, str]:
    """The wait for the answer to a test that the plan does [min], and how it was presumed; 0 where it is known."""
    action = action_of(step)
    time = result_time(action)
    kinds = [k for p in words(step, "using") for k in _kinds(plan.entities.get("product", {}).get(p))]
    here: Collection[str] = {*words(step, "with"), *words(step, "by"), *kinds}
    if not time or "result" in step.values or not whole().at_once.isdisjoint(here):
        return 0, ""
    one = Awaited(whole().result_names[action], time)
    return time, f"{one.days} until {one.is_in} (what laboratories commonly take)"


def waits_told(waits: dict[str, Awaited]) -> tuple[WaitTold, ...]:
    """The waits as a report tells them, the longest first."""
    steps: dict[Awaited, list[str]] = {}
    for step, one in waits.items():
        steps.setdefault(one, []).append(step)
    rows = sorted(steps.items(), key=lambda item: (-item[0].time, item[0].what))
    return tuple(WaitTold(one.what, one.time / 60, one.days, tuple(own), one.several) for one, own in rows)


def _kinds(product: Entity | None) -> tuple[str, ...]:
    return words(product, "kind") if product is not None else ()
