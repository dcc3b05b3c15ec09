"""What reports for people show of a finding and of a step: words only, in the order in which they are read."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.plan.model import Entity, Plan, things
from advisor.reports.arrange import Entry, arrange
from advisor.reports.charts import Chart, charts_of
from advisor.reports.data import number_name
from advisor.reports.notes import resting, source_words
from advisor.reports.opened import MOST_QUESTIONS, account_words, accounts, question_words
from advisor.reports.schedule_text import argument
from advisor.review.model import Cited, Finding, Number, Report
from advisor.rulebase.model import CONTROLS
from advisor.units import both

LEVELS = {
    "eliminate": "Do away with it",
    "substitute": "Use something milder",
    "engineer": "Build a safeguard",
    "administer": "Work by a rule",
    "protect": "Wear protection",
}
HOLDS = ("require", "refer")
_AFTER = ("after", "note")  # said elsewhere


@dataclass(frozen=True, slots=True)
class NumberView:
    """A number as text, with its working where it has one."""

    name: str
    value: str
    working: str
    sources: str


@dataclass(frozen=True, slots=True)
class FindingView:
    """A finding as text. `controls` stand in the order of the hierarchy, best first."""

    id: str
    rule: str
    title: str
    signal: str
    hold: bool
    steps: tuple[str, ...]
    what: str
    because: str
    to: str
    controls: tuple[tuple[str, str], ...]
    numbers: tuple[NumberView, ...]
    resting: tuple[str, ...]
    sources: tuple[str, ...]
    advised: bool
    charts: tuple[Chart, ...]
    ids: tuple[str, ...]  # of every finding that is shown here as one


@dataclass(frozen=True, slots=True)
class Sheet:
    """A step: its place in the order of work, what the plan says of it, why it moved, its findings."""

    place: int
    step: str
    words: str
    moved: str
    note: str
    findings: tuple[FindingView, ...]
    elsewhere: bool  # spoken of at an earlier step
    account: str  # how many practices concern it, in words

    @property
    def speaks(self) -> bool:
        """Whether there is more to say than that the step is there."""
        return bool(self.findings or self.moved or self.note)


def finding_view(entry: Entry, report: Report) -> FindingView:
    """A finding of the report for people."""
    finding, units = entry.finding, report.plan.units
    return FindingView(
        id=finding.id,
        rule=finding.rule,
        title=finding.title,
        signal=finding.signal,
        hold=finding.kind in HOLDS,
        steps=tuple(s for s in entry.steps if s),
        what=finding.what,
        because=finding.because,
        to=finding.to,
        controls=controls(finding),
        numbers=tuple(_number(n, units) for n in finding.numbers),
        resting=resting(finding),
        sources=tuple(source_words(s) for s in finding.sources),
        advised=finding.advised,
        charts=tuple(charts_of(finding, units)),
        ids=tuple(entry.ids),
    )


def controls(finding: Finding) -> tuple[tuple[str, str], ...]:
    """The controls of a finding with the plain name of their level, best level first."""
    ordered = sorted(finding.controls, key=lambda c: CONTROLS.index(c[0]))
    return tuple((LEVELS[level], text) for level, text in ordered)


def _number(number: Number, units: str) -> NumberView:
    working = number.working
    return NumberView(
        number_name(number, units),
        both(number.value, number.dimension, units),
        working.working(units) if working else "",
        "; ".join(working.sources) if working else "",
    )


def first_views(report: Report) -> list[FindingView]:
    """The findings that come before anything else."""
    return [finding_view(entry, report) for entry in arrange(report).first]


def sheets(report: Report) -> list[Sheet]:
    """One sheet a step, in the order of work."""
    arranged = arrange(report)
    moves = {str(o["step"]): str(o["why"]) for o in report.order if o.get("why")}
    spoken = {step for _, entries in arranged.steps for entry in entries for step in entry.steps}
    spoken |= {step for entry in arranged.first for step in entry.steps}
    entities = {step.id: step for step in report.plan.steps}
    counts = accounts(report)
    found = []
    for place, (own, entries) in enumerate(arranged.steps, 1):
        step = entities[own]
        views = tuple(finding_view(entry, report) for entry in entries)
        elsewhere = own in spoken and not views
        account = account_words(counts[own]) if own in counts else ""
        found.append(Sheet(place, own, step_words(step), moves.get(own, ""), step.note, views, elsewhere, account))
    return found


def step_words(step: Entity) -> str:
    """What the plan says of a step, on one line: `sand doors; with random-orbit sander; for 5 h`."""
    said = {name: value.text for name, value in step.values.items()}
    words = " ".join(said[name] for name in ("do", "to") if said.get(name))
    rest = [f"{n.replace('_', ' ')} {v}" for n, v in said.items() if n not in ("do", "to", *_AFTER) and v]
    return "; ".join([words, *rest])


def part_words(plan: Plan, sort: str) -> list[tuple[str, str]]:
    """The things of a sort with all that the plan says of them."""
    return [
        (own, "; ".join(f"{n.replace('_', ' ')} {v.text}" for n, v in entity.values.items()))
        for own, entity in plan.entities.get(sort, {}).items()
        if entity.values
    ]


def questions(report: Report) -> list[str]:
    """The weightiest questions, each with what it decides."""
    return [question_words(q) for q in report.questions[:MOST_QUESTIONS]]


def more_questions(report: Report) -> str:
    """How many questions are left, and the command that shows them."""
    more = len(report.questions) - MOST_QUESTIONS
    return f"And {more} more: advisor questions {argument(report)}" if more > 0 else ""


def change_words(report: Report) -> list[str]:
    """What packs of one's own did to the rules, and why."""
    return [f"Rule {c.rule} was {c.how} by {c.pack}: {c.reason}" for c in report.changes]


def cited(report: Report) -> list[tuple[str, str]]:
    """The bibliography of the report: every key with its full citation, by key."""
    findings = [*report.findings, *(a.finding for a in report.accepted)]
    return sorted({(s.key, s.citation) for f in findings for s in f.sources if s.key})
