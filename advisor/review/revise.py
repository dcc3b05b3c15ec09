"""Advice put into a plan: hold points, steps, products and waits become lines of its file."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from advisor.engine.run import run
from advisor.errors import InputError
from advisor.plan import make_facts, read_plan
from advisor.plan.editing import PlanText
from advisor.plan.model import Plan
from advisor.review.advice_editor import Editor, has_advice
from advisor.review.gathered import names
from advisor.review.model import Finding, Report
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import RuleBase

ROUNDS = 8


@dataclass(slots=True)
class Revision:
    """A plan's text before and after, the reviews of both, and what could not be mended."""

    before: str
    after: str
    old: Report
    new: Report
    rounds: int
    left: list[Finding] = field(default_factory=list)


def accept(text: str, name: str, wanted: Iterable[str], rulebase: RuleBase) -> Revision:
    """Put the advice of the wanted findings (ids, rule ids, or `all`) into the plan, in a few rounds.

    A round takes the advice of the findings that stand; what it brings along is taken in the next one. Only
    `all` tries a finding again that stands after its advice was taken.
    """
    chosen = set(wanted)
    plan = read_plan(text, rulebase.vocabulary, name)
    old = report = review_plan(plan, rulebase)
    current, rounds = text, 0
    seen = {text}
    tried: set[str] = set()
    for rounds in range(1, ROUNDS + 1):
        taken = [f for f in report.findings if "all" in chosen or (chosen & names(f) and f.id not in tried)]
        tried |= {f.id for f in taken}
        changed = apply(current, plan, taken, rulebase, name)
        if changed in seen:
            rounds -= 1
            break
        seen.add(changed)
        current = changed
        plan = read_plan(current, rulebase.vocabulary, name)
        report = review_plan(plan, rulebase)
    left = [f for f in report.findings if "all" in chosen or chosen & names(f)]
    return Revision(text, current, old, report, rounds, left)


def apply(text: str, plan: Plan, findings: Iterable[Finding], rulebase: RuleBase, name: str) -> str:
    """The text with the advice of the findings put in, one by one, as long as they stand.

    Tests come first: whether the rest is needed hangs on them. What the advice of an earlier finding has mended
    already is left alone. A change that would not read is left out.
    """
    wished: set[tuple[str, str, str]] = set()
    standing: set[tuple[str, str]] | None = None  # None: all of them
    for finding in sorted(findings, key=lambda f: not (f.kind == "refer" and has_advice(f))):
        if standing is not None and (finding.rule, finding.step or "") not in standing:
            continue
        editor = Editor(PlanText(text), plan, rulebase, wished)
        editor.take(finding)
        changed = editor.document.text
        if changed == text:
            continue
        try:
            plan = read_plan(changed, rulebase.vocabulary, name)
        except InputError:
            continue  # such as an order that would wait for itself
        text = changed
        standing = _standing(plan, rulebase)
    return text


def _standing(plan: Plan, rulebase: RuleBase) -> set[tuple[str, str]]:
    """Rule and step of all that the rules say of the plan."""
    drawn = run(rulebase, make_facts(plan, rulebase.vocabulary).facts).drawn
    found = set()
    for one in drawn:
        step = one.conclusion.step
        found.add((one.why.variant.rule.id, str(one.env[step.name]) if step else ""))  # type: ignore[attr-defined]
    return found
