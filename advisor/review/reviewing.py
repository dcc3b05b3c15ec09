"""A plan reviewed from end to end."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from msgspec.structs import replace

from advisor.engine.run import DEFAULT_MATCHER
from advisor.plan import make_facts, read_plan
from advisor.plan.model import FactBase, Plan
from advisor.plan.supposed import as_got, as_it_is
from advisor.review.advised import advised_facts, neighbor
from advisor.review.buying.gear import gear_table
from advisor.review.buying.supplies import supplies
from advisor.review.country_words import ask_country, asked_there, in_words_of
from advisor.review.finding import Finding
from advisor.review.findings import make_findings, number_twins
from advisor.review.hold_points import Entries, hold_points, without_answered
from advisor.review.metric import localized
from advisor.review.model import CAUTIONS, Report
from advisor.review.new_order import of_the_new_order
from advisor.review.not_checked import Unchecked
from advisor.review.order.moves import moves_told, not_kept
from advisor.review.planned_work import plan_work
from advisor.review.rules_there import settle
from advisor.review.set_aside import Answered
from advisor.review.untold import tell_untold
from advisor.review.what_is_open import opened_by
from advisor.rulebase.base import RuleBase, load_rulebase
from advisor.rulebase.countries import HOME, country_of
from advisor.site.evaluate import evaluate
from advisor.site.run import Judged, run
from advisor.version import VERSION

ROUNDS = 3  # advice upon advice upon advice; beyond that it would only repeat itself


def review(
    plan: str | Path | Mapping[str, Any],
    rules: Path | str | Sequence[Path | str] | None = None,
    *,
    matcher: str = DEFAULT_MATCHER,
    units: str = "",
) -> Report:
    """Review a plan: a path, YAML text, or a mapping. `rules` are folders of packs of one's own.

    `units` (us or metric) is how the report is told; by default as the plan says.

    Raises InputError, listing every mistake, for a plan or a rule that cannot be used.
    """
    folders = [rules] if isinstance(rules, str | Path) else list(rules or [])
    rulebase = load_rulebase([Path(f) for f in folders])
    read = read_plan(plan, rulebase.vocabulary)
    read.units = units or read.units
    return review_plan(read, rulebase, matcher=matcher)


def review_plan(plan: Plan, rulebase: RuleBase, *, matcher: str = DEFAULT_MATCHER, walking: bool = False) -> Report:
    """Review a plan that was read already, as it is while nothing of `to_get` is there.

    `walking` keeps what a walk through the questions weighs them by.
    """
    rulebase = settle(plan, rulebase)
    whole, plan = plan, as_it_is(plan)
    base = make_facts(plan, rulebase.vocabulary)
    outcome = run(rulebase, base.facts, matcher)
    possible = evaluate(plan, base, rulebase, outcome.unchecked)
    by_states = tell_untold(outcome, possible, plan, rulebase)
    findings = make_findings(outcome, plan, base, rulebase)
    unchecked = Unchecked(rulebase, outcome)
    findings += _of_advice(outcome, findings, plan, base, rulebase, matcher, unchecked)
    resting = _once_got(whole, findings, rulebase, matcher, unchecked)
    latent, others = of_the_new_order(plan, findings, rulebase, matcher, unchecked, outcome.site)
    findings += others
    number_twins(findings)
    work = plan_work(plan, [*findings, *latent], rulebase, site=outcome.site)
    findings += work.findings
    places = {step.id: place for place, step in enumerate(plan.steps)}
    findings.sort(key=lambda f: (places.get(f.step or "", -1), -f.rank, f.rule, f.id))
    opened = opened_by(plan, base, findings, rulebase, outcome.unchecked, possible, by_states, walking)
    findings = [f for f in findings if f.id not in resting]
    asked = (
        Entries(whole, rulebase.vocabulary).settle(opened.open, opened.questions)
        if whole.to_get or whole.to_find_out
        else []
    )
    settled = {one.about.id for one in asked}
    answered = sorted([*resting.values(), *asked], key=lambda a: (-a.about.rank, a.about.id))
    looked: dict[str, int] = {}
    for rule in rulebase.rules:
        title = rulebase.titles.get(rule.pack, rule.pack)
        looked[title] = looked.get(title, 0) + 1
    gear = gear_table(outcome.memory, plan, rulebase.vocabulary)
    wanted = supplies(whole, outcome.memory, rulebase.vocabulary, findings, gear)
    left = [one for one in opened.open if one.id not in settled]
    asks, left, gear, wanted = in_words_of(plan, opened.questions, left, gear, wanted, rulebase)
    asked_there([*findings, *latent], plan)
    return Report(
        whole,
        findings,
        work.order.entries(),
        work.schedule,
        ask_country(asks, plan, rulebase),
        [*unchecked.listed(), *opened.not_checked],
        gear,
        dict(sorted(looked.items())),
        rulebase.changes,
        latent=latent,
        open=left,
        account=without_answered(opened.account, answered, findings),
        unheard=opened.unheard,
        site=outcome.site,
        moves=moves_told(work.order),
        given_up=not_kept(work.order, plan),
        supplies=wanted,
        made_by=(VERSION, rulebase.digest),
        holds=hold_points(whole),
        answered=answered,
        country=None if plan.place.code == HOME else country_of(plan.place.code, rulebase.vocabulary),
        settled=work.order.exact,
        hanging=opened.hanging,
        cautions=tuple(localized(one, plan.units) for one in CAUTIONS),
    )


def _once_got(
    plan: Plan, findings: list[Finding], rulebase: RuleBase, matcher: str, unchecked: Unchecked
) -> dict[str, Answered]:
    """The findings that entries answer, by id; what comes with the things to get is added to the findings."""
    if not plan.to_get and not plan.to_find_out:
        return {}
    there = as_got(plan)
    spoken = findings
    if plan.to_get:
        base = make_facts(there, rulebase.vocabulary)
        outcome = unchecked.run(base.facts, matcher, "what it would say once all is got was not looked at")
        tell_untold(outcome, evaluate(there, base, rulebase, outcome.unchecked), there, rulebase)
        spoken = make_findings(outcome, there, base, rulebase)
        spoken += _of_advice(outcome, spoken, there, base, rulebase, matcher, unchecked)
    still = {f.id for f in spoken}
    entries = Entries(plan, rulebase.vocabulary)
    answers = {f.id: Answered(f, None, by) for f in findings if (by := entries.answer(f, still))}
    known = {f.id for f in findings}
    findings += [replace(f, advised=True) for f in spoken if f.id not in known]
    return answers


def _of_advice(
    outcome: Judged,
    findings: list[Finding],
    plan: Plan,
    base: FactBase,
    rulebase: RuleBase,
    matcher: str,
    unchecked: Unchecked,
) -> list[Finding]:
    """What the rules say of the advice itself: findings that would not be there without it."""
    known = {f.id for f in findings}
    more: list[Finding] = []
    advised = advised_facts(outcome.drawn, plan, base, rulebase.vocabulary)
    for _ in range(ROUNDS):
        if not advised:
            break
        facts = [*base.facts, *advised]
        outcome = unchecked.run(facts, matcher, "what it would say of the advice given here was not looked at")
        fresh = make_findings(outcome, plan, base, rulebase, known, advised=True)
        fresh = [f for f in (_at_a_step_of(plan, f) for f in fresh) if f is not None and f.id not in known]
        more += fresh
        known |= {f.id for f in fresh}
        new = advised_facts([d for f in fresh for d in f.drawn], plan, base, rulebase.vocabulary)
        if set(new) <= set(advised):
            break
        advised = tuple(dict.fromkeys((*advised, *new)))
    return more


def _at_a_step_of(plan: Plan, finding: Finding) -> Finding | None:
    """The finding, put to a step of the plan. Of an advised step itself only a danger is told, at its neighbor."""
    steps = {step.id: step.line for step in plan.steps}
    if finding.step is None or finding.step in steps:
        return finding
    beside = neighbor(finding.step)
    if finding.signal != "danger" or beside not in steps:
        return None
    return replace(finding, id=f"{finding.rule}@{beside}", step=beside, step_line=steps[beside])
