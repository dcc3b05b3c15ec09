"""What a new order would break: constraints of rules that are silent only because the author's order keeps them."""

from __future__ import annotations

from dataclasses import replace

from advisor.engine.run import run
from advisor.plan import make_facts
from advisor.plan.model import Plan
from advisor.review.findings import make_findings
from advisor.review.model import Finding
from advisor.review.order import order_of_work
from advisor.rulebase.base import RuleBase

ROUNDS = 6  # each adds what the last order broke; plans seen so far need one


def latent_constraints(plan: Plan, findings: list[Finding], rulebase: RuleBase, matcher: str) -> list[Finding]:
    """`precede` and `wait` findings that would speak if the steps stood in the order of work.

    They are no findings about the plan as written; the order of work has to keep them all the same.
    """
    latent: list[Finding] = []
    known = {f.id for f in findings}
    written = [step.id for step in plan.steps]
    for _ in range(ROUNDS):
        order = order_of_work(plan, [*findings, *latent], rulebase.vocabulary)
        if [step.id for step in order.steps] == written:
            break
        moved = replace(plan, steps=order.steps)
        base = make_facts(moved, rulebase.vocabulary)
        spoken = make_findings(run(rulebase, base.facts, matcher), moved, base, rulebase)
        fresh = [f for f in spoken if f.kind in ("precede", "wait") and f.id not in known]
        if not fresh:
            break
        latent += fresh
        known |= {f.id for f in fresh}
    return latent
