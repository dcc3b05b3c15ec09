"""Order and schedule of a plan together, and what the report says where one of them cannot be."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.plan.model import Plan
from advisor.review.model import Cited, Finding
from advisor.review.order import WorkOrder, order_of_work
from advisor.review.rings import Ring
from advisor.review.timetable import Options, timetable
from advisor.review.worktime import NoWorkingTime
from advisor.rulebase.vocabulary import Vocabulary
from advisor.site.model import Site
from advisor.site.table import left_off
from advisor.site.verdicts import listed

_PACK = "order-of-work"


@dataclass(slots=True)
class Work:
    """The order of work, its schedule, and findings of their own: rings, nobody to work."""

    order: WorkOrder
    schedule: dict[str, object]
    findings: list[Finding]


def plan_work(
    plan: Plan,
    findings: list[Finding],
    vocabulary: Vocabulary,
    options: Options | None = None,
    site: Site | None = None,
) -> Work:
    """Order and schedule of a reviewed plan. An impossible schedule is a finding and `{"impossible": why}`."""
    order = order_of_work(plan, findings, vocabulary, site)
    own = [_ring(ring, plan) for ring in order.rings] + _left_off(site, order, vocabulary)
    try:
        return Work(order, timetable(plan, order, findings, vocabulary, options), own)
    except NoWorkingTime as error:
        return Work(order, {"impossible": str(error)}, [*own, _finding("no-time-to-work", None, 0, str(error), "")])


def _left_off(site: Site | None, order: WorkOrder, vocabulary: Vocabulary) -> list[Finding]:
    """What was put out of the way is put back: one line, for all that the plan leaves off."""
    number = {step: place for place, step in enumerate(site.steps)} if site is not None else {}
    if site is None or any(step.id not in number for step in order.steps):
        return []
    plugs = vocabulary.members("action", "pulls the plug")
    names = left_off(site, [number[step.id] for step in order.steps], plugs)
    if not names:
        return []
    what = f"The plan ends with the {listed(names)} off. Say which step turns {'it' if len(names) == 1 else 'them'} on."
    return [
        _finding("left-off", None, 0, what, "What is put out of the way for the work is put back and tried after it.")
    ]


def _ring(ring: Ring, plan: Plan) -> Finding:
    step = ring.given_up[0].then
    line = next((s.line for s in plan.steps if s.id == step), 0)
    first, _, rest = ring.told().partition(": ")
    return _finding("order-in-a-ring", step, line, first + ".", rest[:1].upper() + rest[1:])


def _finding(rule: str, step: str | None, line: int, what: str, because: str) -> Finding:
    titles = {
        "order-in-a-ring": "Steps that wait for each other",
        "no-time-to-work": "No time or nobody to work",
        "left-off": "What was switched off is switched on again",
    }
    return Finding(
        id=f"{rule}@{step}" if step else rule,
        rule=rule,
        title=titles[rule],
        pack=_PACK,
        kind="warn",
        signal="notice",
        step=step,
        step_line=line,
        what=what,
        because=because or "Without working time there is no calendar to put the steps on.",
        controls=(),
        numbers=(),
        sources=(Cited("", "common practice", ""),),
        rests_on=(),
        advised=False,
    )
