"""The order of work: the author's order, moved as little as the constraints allow, each move with its reason."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct, field

from advisor.plan.model import Entity, Plan
from advisor.plan.said import words
from advisor.review.finding import Finding
from advisor.review.order.constraints import ORDER, Constraint, collect
from advisor.review.order.lab_results import Awaited, awaited
from advisor.review.order.moves import bare, of_needs
from advisor.review.order.rings import Ring, free_of_rings
from advisor.review.order.told import PlaceInOrder
from advisor.rulebase.vocabulary import Vocabulary
from advisor.site.lasting import Lasting, lasting
from advisor.site.model import INNER, SimulatedSite
from advisor.site.mover import Edge, Settled, settle
from advisor.site.verdicts import MOVE

_NAMED = 3  # steps that a text names before it counts the rest


class Move(Struct, frozen=True):
    """A step that stands elsewhere than the author put it: past which steps, for which constraint."""

    step: str
    up: bool
    past: tuple[str, ...]
    cause: Constraint | None

    def told(self) -> str:
        """The move in one or two sentences."""
        names = list(self.past[:_NAMED])
        if len(self.past) > _NAMED:
            names.append(f"{len(self.past) - _NAMED} more")
        listed = names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1]
        way = f"Moved {'up before' if self.up else 'down behind'} {listed}"
        if self.cause is None:
            return f"{way}, to stay with the steps that it belongs to."
        return f"{way}: {self.cause.reason} ({'your own after' if self.cause.rule == 'after' else self.cause.rule})"


class WorkOrder(Struct):
    """The steps in the order of work, what holds them there, and what could not be kept."""

    steps: list[Entity]
    constraints: list[Constraint]
    rings: list[Ring]
    moves: dict[str, Move]
    turned: int  # pairs of steps that stand the other way round than the author wrote them
    exact: bool  # whether no order that keeps the constraints turns fewer
    holds: dict[str, list[Finding]] = field(default_factory=dict)  # hold points before a step
    settled: Settled | None = None
    dropped: tuple[Constraint, ...] = ()  # gave way to needs
    lasting: Lasting = field(default_factory=Lasting)  # what must stay in order or alone in a calendar
    results: dict[str, Awaited] = field(default_factory=dict)  # what a step waits for that a laboratory answers

    def entries(self) -> list[PlaceInOrder]:
        """The steps in their places, each with why it moved and what it waits for."""
        rows = []
        for place, step in enumerate(self.steps, 1):
            move = self.moves.get(step.id)
            rows.append(
                PlaceInOrder(
                    step.id,
                    step.line,
                    place,
                    move.told() if move else "",
                    ("up" if move.up else "down") if move else "",
                    move.past if move else (),
                    move.cause.rule if move and move.cause else None,
                    self.results.get(step.id),
                    tuple(finding.id for finding in self.holds.get(step.id, ())),
                )
            )
        return rows


def order_of_work(
    plan: Plan, findings: list[Finding], vocabulary: Vocabulary, site: SimulatedSite | None = None
) -> WorkOrder:
    """The steps in the order that keeps every constraint and every need that some order can keep.

    It is the author's order, `after:` applied, with as few steps moved as that allows. `site` is that of the plan.
    """
    written = plan.steps
    ids = [step.id for step in written]
    constraints, rings = free_of_rings(ids, collect(plan, findings, vocabulary))
    place = {step_id: i for i, step_id in enumerate(ids)}
    # A wait is between two steps as they stand: where a need turns them, the wait goes, and the new order has its own.
    waits = {f.rule for f in findings if f.kind == "wait"}
    given = sorted(
        {Edge(place[c.first], place[c.then], INNER if c.rule in waits else max(c.firmness, ORDER)) for c in constraints}
    )
    known = site if site is not None and site.steps == ids else bare(ids)
    settled = settle(known, given, shared=_sharing(written))
    gone = {(ids[e.first], ids[e.then]) for e in settled.dropped}
    given_up = tuple(c for c in constraints if (c.first, c.then) in gone and c.rule not in waits)
    constraints = [c for c in constraints if (c.first, c.then) not in gone]
    constraints = sorted({*constraints, *of_needs(settled, ids, plan)})
    work = WorkOrder([written[i] for i in settled.order], constraints, rings, {}, 0, settled.within_bound)
    work.settled, work.dropped = settled, given_up
    work.lasting = lasting(known, settled.order, vocabulary.members("action", "sends others away"))
    _tell_moves(work, settled.order, ids)
    lost = {(need.rule, ids[need.step]) for need in settled.given_up}
    for finding in findings:
        # A need that the new order keeps is no hold point: the step that brings it stands in the list.
        moved_away = finding.answer[:1] == (MOVE,) and (finding.rule, finding.step) not in lost
        if finding.kind == "require" and finding.step in place and not moved_away:
            work.holds.setdefault(str(finding.step), []).append(finding)
    work.results = awaited(plan, findings)
    for held in work.holds.values():
        held.sort(key=lambda f: (-f.rank, f.advised, f.rule, f.id))
    return work


def _sharing(steps: Sequence[Entity]) -> list[int]:
    """For each step the steps that work on one of its parts, as bits."""
    by_part: dict[str, int] = {}
    for i, step in enumerate(steps):
        for part in words(step, "to"):
            by_part[part] = by_part.get(part, 0) | 1 << i
    found = []
    for step in steps:
        bits = 0
        for part in words(step, "to"):
            bits |= by_part[part]
        found.append(bits)
    return found


def _tell_moves(work: WorkOrder, order: list[int], ids: list[str]) -> None:
    if order == sorted(order):
        return
    now = {step: k for k, step in enumerate(order)}
    pairs = {(c.first, c.then): c for c in sorted(work.constraints, key=lambda c: (c.firmness, c))}
    assert work.settled is not None
    picked = [step for step in order if step in set(work.settled.moved)]
    for k, step in enumerate(order):
        work.turned += sum(other > step for other in order[:k])
    for step in picked:
        past = [o for o in order if (o < step) != (now[o] < now[step]) and o != step]
        up = sum(o < step for o in past) * 2 >= len(past)
        # What it overtook counts as past; what overtook it, while itself moved, is told there.
        past = [o for o in past if (o < step) == up]
        causes = [pairs.get((ids[step], ids[o]) if up else (ids[o], ids[step])) for o in past]
        cause = max((c for c in causes if c), key=lambda c: (c.firmness, c), default=None)
        cause = cause or _along(ids[step], {ids[s] for s in picked}, work.constraints)
        work.moves[ids[step]] = Move(ids[step], up, tuple(ids[o] for o in past), cause)


def _along(step: str, picked: set[str], constraints: list[Constraint]) -> Constraint | None:
    """Why a step moved that no rule sets against what it passed: it belongs before or after one that moved."""
    near = [c for c in constraints if step in (c.first, c.then) and {c.first, c.then} <= picked]
    return max(near, key=lambda c: (c.firmness, c), default=None)
