"""What the site's order of work says in a report: constraints behind it, moves with their needs, what was given up."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from advisor.plan.model import Plan
from advisor.review.order.constraints import Constraint
from advisor.review.wording import wording
from advisor.site.model import Need, Site
from advisor.site.mover import Settled

if TYPE_CHECKING:
    from advisor.review.order.work_order import WorkOrder


def bare(ids: Sequence[str]) -> Site:
    """A site of which nothing is known but its steps."""
    return Site(list(ids), {}, effects=[[] for _ in ids], needs=[[] for _ in ids])


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


def moves_data(work: WorkOrder) -> list[dict[str, Any]]:
    """The moves as data: a step with the steps that belong to it, the step that it now stands before, and its needs."""
    rows: list[dict[str, Any]] = []
    ids = [step.id for step in work.steps]
    for place, step in enumerate(ids):
        move = work.moves.get(step)
        if move is None:
            continue
        own = [c for c in work.constraints if step in (c.first, c.then) and c.rule]
        causes = [move.cause] if move.cause else own[:1]
        row: dict[str, Any] = {
            "step": step,
            "before": ids[place + 1] if place + 1 < len(ids) else None,
            "because": move.told(),
            "needs": sorted({c.rule for c in causes}),
            "with": [],
            "up": move.up,
        }
        last = rows[-1] if rows else None
        if last and ids[place - 1] in [last["step"], *last["with"]] and last["up"] == move.up:
            last["with"].append(step)
            last["before"] = row["before"]
            last["needs"] = sorted({*last["needs"], *row["needs"]})
        else:
            rows.append(row)
    for row in rows:
        del row["up"]
    return rows


def given_up_data(work: WorkOrder, plan: Plan) -> list[dict[str, Any]]:
    """Needs that no order keeps, and constraints that gave way to needs."""
    settled = work.settled
    rows: list[dict[str, Any]] = []
    if settled is None:
        return rows
    ids = [step.id for step in plan.steps]
    for need in settled.given_up:
        rows.append({"step": ids[need.step], "rule": need.rule, "because": reason(need, plan)})
    for one in work.dropped:
        rows.append({"step": one.then, "first": one.first, "rule": one.rule, "because": one.reason})
    for ring in work.rings:
        rows += [{"step": c.then, "first": c.first, "rule": c.rule, "because": c.reason} for c in ring.given_up]
    return rows
