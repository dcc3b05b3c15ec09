"""What the site's order of work says in a report: constraints behind it, moves with their needs, what was given up."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from msgspec.structs import replace

from advisor.plan.model import Plan
from advisor.review.order.constraints import Constraint
from advisor.review.order.told import MovedStep, NotKept
from advisor.review.wording import wording
from advisor.site.model import Need, SimulatedSite
from advisor.site.mover import Settled

if TYPE_CHECKING:
    from advisor.review.order.work_order import WorkOrder


def bare(ids: Sequence[str]) -> SimulatedSite:
    """A site of which nothing is known but its steps."""
    return SimulatedSite(list(ids), {}, effects=[[] for _ in ids], needs=[[] for _ in ids])


def of_needs(settled: Settled, ids: Sequence[str], plan: Plan) -> list[Constraint]:
    """The edges that the mover chose, as constraints with the reason of their need."""
    found = []
    for edge in settled.edges:
        need = settled.needs[edge.need]
        found.append(Constraint(ids[edge.first], ids[edge.then], 0, need.rule, reason(need, plan), need.firmness))
    return found


def reason(need: Need, plan: Plan) -> str:
    """Why something must be so, with the names of things put in."""
    if need.drawn is None:
        return need.because[:1].upper() + need.because[1:] + "." * (not need.because.endswith("."))
    types = need.drawn.why.variant.rule.types  # type: ignore[attr-defined]
    return wording("", need.because, (), [need.drawn.env], types, plan.units).filled()[1]


def moves_told(work: WorkOrder) -> list[MovedStep]:
    """The moves, steps that belong together in one: with the step that they now stand before, and their needs."""
    rows: list[MovedStep] = []
    ids = [step.id for step in work.steps]
    up = False  # the way of the last one
    for place, step in enumerate(ids):
        move = work.moves.get(step)
        if move is None:
            continue
        own = [c for c in work.constraints if step in (c.first, c.then) and c.rule]
        causes = [move.cause] if move.cause else own[:1]
        before = ids[place + 1] if place + 1 < len(ids) else None
        needs = {c.rule for c in causes}
        last = rows[-1] if rows else None
        if last and ids[place - 1] in (last.step, *last.along) and up == move.up:
            needs.update(last.needs)
            rows[-1] = replace(last, before=before, needs=tuple(sorted(needs)), along=(*last.along, step))
        else:
            rows.append(MovedStep(step, before, move.told(), tuple(sorted(needs))))
            up = move.up
    return rows


def not_kept(work: WorkOrder, plan: Plan) -> list[NotKept]:
    """Needs that no order keeps, and constraints that gave way to needs."""
    settled = work.settled
    if settled is None:
        return []
    ids = [step.id for step in plan.steps]
    gone = [*work.dropped, *(c for ring in work.rings for c in ring.given_up)]
    return [
        *(NotKept(ids[need.step], need.rule, reason(need, plan)) for need in settled.given_up),
        *(NotKept(c.then, c.rule, c.reason, c.first) for c in gone),
    ]
