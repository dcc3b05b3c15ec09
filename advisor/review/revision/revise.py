"""Advice put into a plan: steps, details of steps, and what is to get and to find out become lines of its file."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from msgspec import Struct, field

from advisor.errors import InputError
from advisor.plan import make_facts, read_plan
from advisor.plan.editing import PlanText
from advisor.plan.model import Plan
from advisor.plan.supposed import as_got
from advisor.review.asked import OpenPractice
from advisor.review.finding import Finding
from advisor.review.findings import make_findings
from advisor.review.model import Report
from advisor.review.reviewing import review_plan
from advisor.review.revision.editor import Editor, has_advice
from advisor.review.revision.entries import EntryWriter
from advisor.review.revision.written import ThingToFindOut, Written, in_short
from advisor.review.rules_there import settle
from advisor.review.told_once import names
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import SIGNALS
from advisor.site.run import run

ROUNDS = 12
OPEN_FROM = SIGNALS.index("warning")  # open practices of this word and graver are asked about


class TakenChange(Struct, frozen=True):
    """What was written into the plan, and for which finding or practice."""

    finding: str
    signal: str
    written: tuple[Written, ...]
    because: str

    @property
    def what(self) -> str:
        """What was written, in one line."""
        return in_short(self.written)


class Revision(Struct):
    """A plan's text before and after, the reviews of both, what was changed and why, and what could not be mended."""

    before: str
    after: str
    old: Report
    new: Report
    rounds: int
    left: list[Finding] = field(default_factory=list)
    changes: list[TakenChange] = field(default_factory=list)
    moved: bool = False


def accept(text: str, name: str, wanted: Iterable[str], rulebase: RuleBase) -> Revision:
    """Put the advice of the wanted findings (ids, rule ids, or `all`) into the plan, until nothing new comes.

    A round takes the advice of the findings that stand; what it brings along is taken in the next one. Steps that
    have to move are moved where the plan has them. With `open` grave practices that are open become questions to find
    out.
    """
    chosen = set(wanted)
    plan = read_plan(text, rulebase.vocabulary, name)
    old = report = review_plan(plan, rulebase)
    current, rounds = text, 0
    seen = {text}
    tried: set[str] = set()
    changes: list[TakenChange] = []
    moved = False
    for rounds in range(1, ROUNDS + 1):
        taken = [f for f in report.findings if "all" in chosen or (chosen & names(f) and f.id not in tried)]
        tried |= {f.id for f in taken}
        changed = apply(current, plan, taken, rulebase, name, changes.append)
        if changed == current:
            changed = reordered(current, report, chosen, rulebase, name)
            moved |= changed != current
        if changed == current and "open" in chosen:
            changed = asked(current, plan, report, rulebase, name, changes.append)
        if changed in seen:
            rounds -= 1
            break
        seen.add(changed)
        current = changed
        plan = read_plan(current, rulebase.vocabulary, name)
        report = review_plan(plan, rulebase)
    left = [f for f in report.findings if "all" in chosen or chosen & names(f)]
    return Revision(text, current, old, report, rounds, left, changes, moved)


def apply(
    text: str, plan: Plan, findings: Iterable[Finding], rulebase: RuleBase, name: str,
    told: Callable[[TakenChange], object] = lambda change: None, way: str = "", as_given: bool = False,
) -> str:  # fmt: skip
    """The text with the advice of the findings put in, one by one, as long as they stand, or `as_given`.

    Tests come first: whether the rest is needed hangs on them; then what puts something milder in its place. What
    the advice of an earlier finding has mended already is left alone. A change that would not read is left out.
    """
    wished: set[tuple[str, str, str]] = set()
    standing: set[tuple[str, str]] | None = None  # None: all of them
    look = Editor(PlanText(text), plan, rulebase, set())
    for finding in findings if as_given else sorted(findings, key=lambda f: _turn(f, look)):
        if standing is not None and (finding.rule, finding.step or "") not in standing:
            continue
        editor = Editor(PlanText(text), plan, rulebase, wished)
        editor.take(finding, way)
        changed = editor.document.text
        if changed == text:
            continue
        try:
            plan = read_plan(changed, rulebase.vocabulary, name)
        except InputError:
            continue  # such as an order that would wait for itself
        text = changed
        written = (*editor.written, *editor.entries.written)
        told(TakenChange(finding.id, finding.signal, written, finding.because))
        standing = _standing(plan, rulebase)
    return text


def _turn(finding: Finding, look: Editor) -> int:
    if (finding.kind == "refer" or finding.decides) and has_advice(finding):
        return 0
    return 1 if look.replaces(finding) else 2


def reordered(text: str, report: Report, chosen: set[str], rulebase: RuleBase, name: str) -> str:
    """The text with steps moved as the order of work has them, for the needs that were taken."""
    rows = [row for row in report.moves if "all" in chosen or chosen & set(row.needs)]
    moving = {step for row in rows for step in (row.step, *row.along)}
    if not moving:
        return text
    ordered = [one.step for one in report.order]
    lines = {step.id: step.line for step in report.plan.steps}
    written = sorted(lines, key=lines.__getitem__)
    document = PlanText(text)
    for place, step in enumerate(ordered):
        if step not in moving:
            continue
        before = ordered[place - 1] if place else None
        try:
            document.move_step(written.index(step), None if before is None else written.index(before))
        except KeyError:
            return text
        written.remove(step)
        written.insert(0 if before is None else written.index(before) + 1, step)
    try:
        read_plan(document.text, rulebase.vocabulary, name)
    except InputError:
        return text
    return document.text


def asked(
    text: str, plan: Plan, report: Report, rulebase: RuleBase, name: str, told: Callable[[TakenChange], object]
) -> str:
    """The text with a question to find out for each grave practice that is open, the weightiest questions first."""
    named = {question.name: question for question in report.questions}
    left: list[OpenPractice] = [one for one in report.open if one.rank >= OPEN_FROM]
    writer = EntryWriter(PlanText(text), plan, rulebase.vocabulary)
    covered: set[str] = set()
    for question in report.questions:
        mine = [one for one in left if question.name in one.asks and question.name in named]
        if not mine or question.sort not in ("house", "code", "crew", "room", "part", "product", "step"):
            continue
        steps = [one.step for one in mine if one.step]
        everywhere = len(steps) < len(mine)
        writer.ask(
            question.sort, question.id or question.sort, question.attribute, [] if everywhere else steps, question.ask
        )
        written = (ThingToFindOut(question.ask),)
        told(TakenChange(mine[0].id, mine[0].signal, written, f"{mine[0].title} hangs on it."))
        covered.add(question.name)
        left = [
            one for one in left
            if one not in mine or not (one.rule in question.settles or set(one.asks) <= covered)
        ]  # fmt: skip
    document = writer.document
    try:
        read_plan(document.text, rulebase.vocabulary, name)
    except InputError:
        return text
    return document.text


def _standing(plan: Plan, rulebase: RuleBase) -> set[tuple[str, str]]:
    """Rule and step of all that the rules say of the plan, what only waits for things to get left out."""
    from advisor.review.hold_points import Entries

    rulebase = settle(plan, rulebase)
    base = make_facts(plan, rulebase.vocabulary)
    findings = make_findings(run(rulebase, base.facts), plan, base, rulebase)
    if not plan.to_get and not plan.to_find_out:
        return {(f.rule, f.step or "") for f in findings}
    there = as_got(plan)
    got = make_facts(there, rulebase.vocabulary)
    spoken = make_findings(run(rulebase, got.facts), there, got, rulebase)
    still, entries = {f.id for f in spoken}, Entries(plan, rulebase.vocabulary)
    findings = [f for f in findings if not entries.answer(f, still)]
    return {(f.rule, f.step or "") for f in (*findings, *spoken) if f.id in still or f in findings}
