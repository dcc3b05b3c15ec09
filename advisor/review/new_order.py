"""What a new order would bring: rules that are silent only because of the author's order."""

from __future__ import annotations

from msgspec.structs import replace

from advisor.plan import make_facts
from advisor.plan.model import Plan
from advisor.review.finding import Finding
from advisor.review.findings import make_findings
from advisor.review.not_checked import Unchecked
from advisor.review.order.work_order import order_of_work
from advisor.rulebase.base import RuleBase
from advisor.site.learn import learn
from advisor.site.model import SimulatedSite

ROUNDS = 6  # each adds what the last order broke; plans seen so far need one


def of_the_new_order(
    plan: Plan,
    findings: list[Finding],
    rulebase: RuleBase,
    matcher: str,
    unchecked: Unchecked,
    site: SimulatedSite | None = None,
) -> tuple[list[Finding], list[Finding]]:
    """What would be said if the steps stood in the order of work: constraints, and other findings.

    The constraints (`precede`, `wait`) are no findings about the plan as written; the order of work has to keep
    them all the same. The others follow from the order that is advised, and are told so: a wash that is moved
    before the sanding no longer takes the dust off. Needs that only the new order has are added to the site.
    """
    latent: list[Finding] = []
    others: list[Finding] = []
    known = {f.id for f in findings}
    written = [step.id for step in plan.steps]
    lines = {step.id: step.line for step in plan.steps}
    for _ in range(ROUNDS):
        order = order_of_work(plan, [*findings, *latent], rulebase.vocabulary, site)
        if [step.id for step in order.steps] == written:
            break
        moved = replace(plan, steps=order.steps)
        base = make_facts(moved, rulebase.vocabulary)
        outcome = unchecked.run(base.facts, matcher, "what it would say of the advised order was not looked at")
        new = make_findings(outcome, moved, base, rulebase, known)
        fresh = [f for f in new if f.kind in ("precede", "wait")]
        learnt = site is not None and outcome.site is not None and learn(site, outcome.site)
        if not fresh and not learnt:
            others = [replace(f, advised=True, step_line=lines.get(f.step or "", 0)) for f in new]
            break
        latent += fresh
        known |= {f.id for f in fresh}
    return latent, others
