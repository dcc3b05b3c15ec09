"""Order and schedule of a plan together, and what rules say where one of them cannot be."""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from advisor.plan.model import FactBase, Plan, PlanFact
from advisor.review.days.model import NoTimetable, Timetable
from advisor.review.days.timetable import Options, timetable
from advisor.review.days.worktime import NoWorkingTime
from advisor.review.finding import Finding
from advisor.review.findings import make_findings
from advisor.review.model import Report
from advisor.review.order.rings import Ring
from advisor.review.order.work_order import WorkOrder, order_of_work
from advisor.review.rules_there import settle
from advisor.rulebase.base import RuleBase
from advisor.rulebase.vocabulary import Vocabulary
from advisor.site.model import SimulatedSite
from advisor.site.run import run
from advisor.site.simulate import ways
from advisor.site.table import left_off
from advisor.site.verdicts import listed

MOST_WAYS = 8  # of tests turning out: the calendar is worked out for so many


class Work(Struct):
    """The order of work, its schedule, and findings of their own: rings, nobody to work, what stays off."""

    order: WorkOrder
    schedule: Timetable | NoTimetable
    findings: list[Finding]


def replan(report: Report, rulebase: RuleBase, options: Options) -> tuple[WorkOrder, str]:
    """Order and calendar of a review made anew and put into it; and why they cannot be, or ''."""
    rulebase = settle(report.plan, rulebase)
    work = plan_work(report.plan, [*report.findings, *report.latent], rulebase, options, report.site)
    if isinstance(work.schedule, NoTimetable):
        return work.order, work.schedule.why
    if work.order.rings:
        return work.order, " ".join(ring.told() for ring in work.order.rings)
    report.order, report.schedule = work.order.entries(), work.schedule
    return work.order, ""


def plan_work(
    plan: Plan,
    findings: list[Finding],
    rulebase: RuleBase,
    options: Options | None = None,
    site: SimulatedSite | None = None,
) -> Work:
    """Order and schedule of a reviewed plan. An impossible schedule is a finding and a `NoTimetable`."""
    order = order_of_work(plan, findings, rulebase.vocabulary, site)
    facts = [*map(_ring, order.rings), *_left_off(site, order, rulebase.vocabulary)]
    try:
        schedule: Timetable | NoTimetable = _longest(plan, order, findings, rulebase.vocabulary, options, site)
    except NoWorkingTime as error:
        schedule = NoTimetable(str(error))
        facts.append(_fact("no_working_time", told=_sentence(str(error))))
    return Work(order, schedule, _said_of(facts, plan, rulebase))


def _longest(
    plan: Plan,
    order: WorkOrder,
    findings: list[Finding],
    vocabulary: Vocabulary,
    options: Options | None,
    site: SimulatedSite | None,
) -> Timetable:
    """The schedule; where tests decide what is done, that of the way that takes longest."""
    left_out = ways(site)[:MOST_WAYS] if site is not None and site.conditions else [frozenset[int]()]
    found = []
    for way in left_out:
        gone = {site.steps[step] for step in way} if site is not None else set()
        kept = [step for step in order.steps if step.id not in gone]
        constraints = [c for c in order.constraints if not {c.first, c.then} & gone]
        part = replace(order, steps=kept, constraints=constraints) if gone else order
        less = replace(plan, steps=[s for s in plan.steps if s.id not in gone]) if gone else plan
        about = [f for f in findings if not {f.step, f.first} & gone] if gone else findings
        found.append(timetable(less, part, about, vocabulary, options))
    return max(found, key=lambda s: (s.ready_days, s.work_hours))


def _said_of(facts: list[PlanFact], plan: Plan, rulebase: RuleBase) -> list[Finding]:
    """What rules say of what the order of work came to, and of nothing else."""
    if not facts:
        return []
    base, kinds = FactBase(facts), {fact.kind for fact in facts}
    outcome = run(rulebase, facts)
    outcome.drawn = [d for d in outcome.drawn if any(record.kind in kinds for _, record in d.why.support)]
    return make_findings(outcome, plan, base, rulebase)


def _fact(kind: str, **values: str) -> PlanFact:
    return PlanFact(kind, tuple(sorted(values.items())))


def _sentence(text: str) -> str:
    return text.rstrip().rstrip(".")


def _left_off(site: SimulatedSite | None, order: WorkOrder, vocabulary: Vocabulary) -> list[PlanFact]:
    """What was put out of the way is put back: one fact for all that the plan leaves off."""
    number = {step: place for place, step in enumerate(site.steps)} if site is not None else {}
    if site is None or any(step.id not in number for step in order.steps):
        return []
    plugs = vocabulary.members("action", "pulls the plug")
    names = left_off(site, [number[step.id] for step in order.steps], plugs)
    return [_fact("left_off", told=listed(names), them="it" if len(names) == 1 else "them")] if names else []


def _ring(ring: Ring) -> PlanFact:
    first, _, rest = ring.told().partition(": ")
    return _fact("order_ring", step=ring.given_up[0].then, told=first, why=_sentence(rest[:1].upper() + rest[1:]))
