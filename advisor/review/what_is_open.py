"""What is open, the account of each step, the questions and what was not heard, as data of the report."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from functools import partial

from msgspec import Struct, field

from advisor.later import LaterRow
from advisor.plan.model import Basis, FactBase, Plan
from advisor.review.asked import Answer, OpenPractice, Question, RulesOfStep
from advisor.review.finding import Finding
from advisor.review.model import NotChecked
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import Rule
from advisor.site.answers import Offer
from advisor.site.hanging import Hanging, hanging
from advisor.site.likely import rare
from advisor.site.limits import REASONS
from advisor.site.possible import Possible
from advisor.site.questions import Asked, Asker, Questions
from advisor.site.standing import Practice, Standing, missing, standing, unknowns
from advisor.site.unheard import Unheard, unheard
from advisor.site.usual import Usual, usual_of

Key = tuple[str, str, str]


class Opened(Struct):
    """What the report says beside its findings."""

    questions: list[Question] = field(default_factory=list)
    open: list[OpenPractice] = field(default_factory=list)
    account: list[RulesOfStep] = field(default_factory=list)
    unheard: list[Unheard] = field(default_factory=list)
    not_checked: list[NotChecked] = field(default_factory=list)
    hanging: list[Hanging] = field(default_factory=list)


def opened_by(
    plan: Plan,
    base: FactBase,
    findings: list[Finding],
    rulebase: RuleBase,
    unchecked: Mapping[str, str],
    possible: Possible | None = None,
    by_states: Iterable[Practice] = (),
    walking: bool = False,
) -> Opened:
    """What is open beside the findings of a plan; `unchecked` are the rules that the engine gave up, with reasons.

    `walking` gathers what a walk weighs its questions by: for a large plan that is much.
    """
    told_at = {(f.rule, f.step or "") for f in findings}
    found = standing(plan, base, rulebase, told_at, possible, by_states, unchecked)
    told: dict[Key, list[str]] = {}
    basis: dict[Key, Basis] = {}
    hangs: dict[Key, list[Finding]] = {}
    for finding in findings:
        for one in finding.rests_on:
            key = (one.sort, one.id, one.attribute)
            told.setdefault(key, []).append(finding.rule)
            hangs.setdefault(key, []).append(finding)
            basis[key] = one
    adds = sorted({add for finding in findings for add in finding.adds})
    asked = Asker(plan, rulebase, found, told, adds).ask()
    spoken = {(f.rule, f.step or "") for f in findings}
    lines = {step.id: step.line for step in plan.steps}
    order = {question.id: place for place, question in enumerate(asked.asked)}
    usual = usual_of(rulebase)
    practices = [
        _practice(one, found, asked, order, lines, plan, usual)
        for one in found.open
        if (one.rule.id, one.step) not in spoken
    ]
    practices.sort(key=lambda p: (-p.rank, p.rule, p.line, p.step or ""))
    return Opened(
        [_question(one, base, basis, hangs) for one in asked.asked],
        practices,
        _account(found, findings),
        unheard(plan, rulebase),
        _not_known(found, rulebase, unchecked),
        _hanging(found, findings, spoken, plan, rulebase) if walking else [],
    )


def _hanging(
    found: Standing, findings: list[Finding], spoken: Collection[tuple[str, str]], plan: Plan, rulebase: RuleBase
) -> list[Hanging]:
    told = [(f.rule, f.step or "", f.rank, [(b.sort, b.id, b.attribute) for b in f.rests_on]) for f in findings]
    return [one for one in hanging(found, told, plan, rulebase) if one.speaks or (one.rule, one.step) not in spoken]


def _not_known(found: Standing, rulebase: RuleBase, unchecked: Mapping[str, str]) -> list[NotChecked]:
    """The rules of which nobody knows whether they are open, beside those that were not checked at all."""
    rows = []
    for name, reason in sorted(found.possible.given_up.items()):
        rule = rulebase.rule(name)
        word = rule.gravest if rule else ""
        if rule and word and name not in unchecked:
            rows.append(NotChecked(name, rule.title, REASONS[reason], may=word))
    return rows


def _practice(
    one: Practice,
    found: Standing,
    asked: Questions,
    order: dict[str, int],
    lines: dict[str, int],
    plan: Plan,
    usual: Usual,
) -> OpenPractice:
    names = {name for way in one.ways for name in asked.of(way)}
    kinds = sorted((found.absent[own].kind, found.absent[own].where) for own in missing(one.ways))
    keys = tuple(key for key in unknowns(one.ways) if not key[1].startswith("?"))
    asks = tuple(sorted(names, key=lambda n: (order.get(n, len(order)), n)))
    return OpenPractice(
        one.rule.id, one.rule.title, one.rule.pack, one.signal, one.step or None, lines.get(one.step, 0),
        one.parts, keys, tuple(kinds), asks, rare(one.ways, found.cells, plan, usual),
    )  # fmt: skip


def _question(one: Asked, base: FactBase, basis: dict[Key, Basis], hangs: dict[Key, list[Finding]]) -> Question:
    rests = [finding for key in sorted(one.keys) for finding in hangs.get(key, ())]
    known = next(
        (
            basis.get(key) or base.presumptions.get(key)
            for key in sorted(one.keys)
            if key in basis or key in base.presumptions
        ),
        None,
    )
    return Question(
        one.ask, one.sort, one.thing, one.attribute, known.value if known else "", known.because if known else "",
        tuple(dict.fromkeys(f.id for f in rests)), max([one.rank, *(f.rank for f in rests)]), one.id, one.line,
        one.of, one.settles, LaterRow(partial(map, _answer, one.offers)), tuple(sorted(one.keys)), one.also,
    )  # fmt: skip


def _answer(offer: Offer) -> Answer:
    comes = tuple(f"{rule}@{step}" if step else rule for rule, step in offer.comes)
    goes = tuple(f"{rule}@{step}" if step else rule for rule, step in offer.goes)
    return Answer(offer.value, comes, goes, offer.decides, offer.key, offer.rare)


def _account(found: Standing, findings: list[Finding]) -> list[RulesOfStep]:
    """The account of each step, with what only advice or another order brings among what speaks."""
    spoken: dict[str, set[str]] = {}
    for finding in findings:
        if finding.step:
            spoken.setdefault(finding.step, set()).add(finding.rule)
    accounts = []
    for one in found.account:
        speaks = spoken.get(one.step, set()) | set(one.speaks)
        met, still = ([rule for rule in rules if rule not in speaks] for rules in (one.met, one.open))
        accounts.append(RulesOfStep(one.step, tuple(sorted(speaks)), tuple(met), tuple(still), one.named))
    return accounts


def stands(
    rule: Rule, step: str | None, plan: Plan, base: FactBase, rulebase: RuleBase, unchecked: Mapping[str, str]
) -> list[str]:
    """Why a rule is silent, in words: it is open (and what would settle it), met, or concerns no such step."""
    found = standing(plan, base, rulebase, (), unchecked=unchecked)
    if rule.id in found.possible.given_up:
        return [f"{rule.id} does not speak of this plan as it stands. {REASONS[found.possible.given_up[rule.id]]}."]
    asked = Asker(plan, rulebase, found, {}, ()).ask()
    asks = {one.id: one.ask for one in asked.asked}
    left = [one for one in found.open if one.rule.id == rule.id and step in (None, one.step)]
    lines = []
    for one in left:
        names = sorted({name for way in one.ways for name in asked.of(way)}, key=list(asks).index)
        where = f" at {one.step}" if one.step else ""
        lines.append(
            f"{rule.id} is open{where}: some answer would make it speak. {' '.join(asks[n] for n in names[:3])}"
        )
    if left:
        return lines
    met = [one.step for one in found.account if rule.id in one.met and step in (None, one.step)]
    if met:
        return [f"{rule.id} is met at {', '.join(met)}: what is stated, or what leaving out says, keeps it quiet."]
    if not any(c.step is not None for c in rule.conclusions):
        return [f"{rule.id} is silent: it is about the whole plan, or deduces what other rules read."]
    where = f"step {step}" if step else "any step of this plan"
    return [f"{rule.id} does not concern {where}: its work or its kind of thing is not there."]
