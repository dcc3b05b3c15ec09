"""What must come before what, and why: the edges of the order of work.

They come from the author's `after:`, from findings of the kinds `precede` and `wait`, and from uses: a part
is bought and put together before it is installed, and what it stands on is there first.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import ceil
from typing import TYPE_CHECKING

from msgspec import Struct

from advisor.plan.model import Entity, Plan
from advisor.plan.said import action_of, words
from advisor.review.finding import Finding
from advisor.rulebase.model import Var
from advisor.rulebase.vocabulary import Vocabulary

if TYPE_CHECKING:
    pass

# Not every kind of `install`: fastening or clipping may be part of making it.
_IN_PLACE = "puts in its place"
AUTHOR, USES, RULE = 0, 1, 2  # firmness: the author's word gives way first; above RULE comes the signal word
ORDER = 1  # firmness of what order.yaml says, and of what an effect waits for: no more than the author's uses


class Constraint(Struct, frozen=True, order=True):
    """One step before another. `lag` is hands-off time from the end of `first` to the start of `then` [min]."""

    first: str
    then: str
    lag: int
    rule: str  # a rule's id; `after` for the author's word; a name with a space for uses
    reason: str
    firmness: int
    finding: str = ""


def collect(plan: Plan, findings: Iterable[Finding], vocabulary: Vocabulary) -> list[Constraint]:
    """All constraints between steps of the plan, sorted, each pair and rule once with its longest lag."""
    known = {step.id for step in plan.steps}
    found: dict[tuple[str, str, str], Constraint] = {}
    for one in (*_stated(plan), *_of_findings(findings), *_of_uses(plan, vocabulary)):
        if one.first == one.then or one.first not in known or one.then not in known:
            continue
        key = (one.first, one.then, one.rule)
        if key not in found or found[key].lag < one.lag:
            found[key] = one
    return sorted(found.values())


def own_waits(findings: Iterable[Finding]) -> dict[str, int]:
    """Waits that a rule asks for after a step, whatever comes next, by step [min]."""
    waits: dict[str, int] = {}
    for finding in findings:
        if finding.kind == "wait" and finding.step is None and finding.first and finding.duration:
            waits[finding.first] = max(waits.get(finding.first, 0), minutes(finding.duration))
    return waits


def minutes(seconds: float) -> int:
    """Seconds as whole minutes, rounded up: a wait is never cut short."""
    return max(0, ceil(seconds / 60 - 1e-9))


def _stated(plan: Plan) -> Iterator[Constraint]:
    for step in plan.steps:
        for name in words(step, "after"):
            yield Constraint(name, step.id, 0, "after", f"The plan says that {step.id} comes after {name}.", AUTHOR)


def _of_findings(findings: Iterable[Finding]) -> Iterator[Constraint]:
    for finding in findings:
        if finding.kind not in ("precede", "wait") or finding.step is None:
            continue
        for first, then, duration in _pairs(finding):
            lag = minutes(duration) if finding.kind == "wait" else 0
            yield Constraint(first, then, lag, finding.rule, finding.because, RULE + finding.rank, finding.id)


def _pairs(finding: Finding) -> Iterator[tuple[str, str, float]]:
    """First step, next step and wait of every match: a finding gathers several, and names the first step of one."""
    if not finding.drawn and finding.first:
        yield finding.first, str(finding.step), finding.duration or 0.0
    for drawn in finding.drawn:
        conclusion, env = drawn.conclusion, drawn.env
        if conclusion.first is None or conclusion.step is None:
            continue
        duration = conclusion.duration
        if isinstance(duration, Var):
            duration = env[duration.name]
        time = float(duration) if isinstance(duration, int | float) else finding.duration or 0.0
        yield str(env[conclusion.first.name]), str(env[conclusion.step.name]), time


def _of_uses(plan: Plan, vocabulary: Vocabulary) -> Iterator[Constraint]:
    parts = plan.entities.get("part", {})
    hardware = vocabulary.members("part_kind", "hardware")
    by_part: dict[str, list[Entity]] = {}
    for step in plan.steps:
        for part in words(step, "to"):
            by_part.setdefault(part, []).append(step)
    for part in sorted(by_part):
        steps = by_part[part]

        def doing(own: list[Entity], group: str) -> list[Entity]:
            meant = vocabulary.members("action", group)
            return [step for step in own if action_of(step) in meant]

        placed = doing(steps, _IN_PLACE)
        made = doing(steps, "made before it is put in")
        yield from _before(made, placed, "made before it is put in", f"{part} must be made first.")
        bought = doing(steps, "brought to the house")
        early = [*bought, *doing(steps, "may come before the part is there")]
        rest = [s for s in steps if s not in early]
        yield from _before(bought, rest, "bought before it is worked on", f"{part} must be there first.")
        removed, back = doing(steps, "taken out for a while"), doing(steps, "returned to its place")
        if len(removed) == len(back) == 1:
            yield from _before(removed, back, "taken out before it is put back", f"{part} must be out first.")
        for base in words(parts[part], "on") if part in parts else ():
            under = doing(by_part.get(base, []), _IN_PLACE)
            if parts[part].word in hardware and doing(by_part.get(base, []), "taken out for a while"):
                continue  # hinges go onto a door on the bench as well as onto one that hangs
            reason = f"{part} stands on {base}, which must be in its place first."
            yield from _before(under, placed, "set on what is in place", reason)


def _before(firsts: list[Entity], thens: list[Entity], rule: str, reason: str) -> Iterator[Constraint]:
    for first in firsts:
        for then in thens:
            yield Constraint(first.id, then.id, 0, rule, reason, USES)
