"""What reports for people show of a finding and of a step: words only, in the order in which they are read."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING

from msgspec import Struct

from advisor.plan.model import Entity, Plan
from advisor.reports.arrange import Arranged, Entry
from advisor.reports.data import number_name
from advisor.reports.notes import Note, bibliography, presumes, public_url, resting, source_words
from advisor.reports.opened import account_words, accounts, question_words
from advisor.reports.schedule_text import argument
from advisor.reports.screen_words import screen_words
from advisor.review.finding import Cited, Figure, Finding
from advisor.review.model import Report
from advisor.review.who import who_words
from advisor.rulebase.model import CONTROLS, SIGNALS
from advisor.showing import both

if TYPE_CHECKING:
    from advisor.reports.charts import Chart

LEVELS = {
    "eliminate": "Take the danger away",
    "substitute": "Use something milder",
    "engineer": "Build a safeguard",
    "administer": "Work by a rule",
    "protect": "Wear protection",
}
HOLDS = ("require", "refer")
_CAUTION = SIGNALS.index("caution")
QUESTIONS = 3  # told in full; the command that shows the rest is named
_FIRST = ("kind", "do", "to", "using", "with", "by", "in", "on", "material", "coats", "for")
_AFTER = ("after", "note")  # said elsewhere


class NumberView(Struct, frozen=True):
    """A number as text, with its working where it has one, and where what goes into it came from."""

    name: str
    value: str
    working: str
    sources: str
    inputs: tuple[str, ...] = ()


class SourceView(Struct, frozen=True):
    """A source as words, with its public address where it has one."""

    words: str
    url: str


class NoteView(Struct, frozen=True):
    """A note at the end: what a finding rests on, and its sources."""

    number: int
    ids: tuple[str, ...]
    resting: tuple[str, ...]
    sources: tuple[SourceView, ...]
    advised: bool
    line: str


class FindingView(Struct, frozen=True):
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
    sources: tuple[SourceView, ...]
    advised: bool
    charts: tuple[Chart, ...]
    ids: tuple[str, ...]  # of every finding that is shown here as one
    who: str  # who may do it, in words
    grave: bool  # caution or above
    presumed: bool  # whether it rests on a value that nobody stated
    short_numbers: tuple[str, ...]  # those that the sentences do not say
    number: int = 0  # of its note; 0 for none
    told_with: int = 0  # number of the note with which it counts as one practice; 0 where it counts itself

    @property
    def source_line(self) -> str:
        """All sources on one line."""
        return "; ".join(one.words for one in self.sources)

    @property
    def summary(self) -> str:
        """What there is to unfold, in words."""
        said = [] if self.grave else ["why"]
        said += ["what helps"] if self.controls else []
        said += ["how the numbers were worked out"] if self.numbers else []
        text = ", ".join(said)
        return text[:1].upper() + text[1:]


class StepSheet(Struct, frozen=True):
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


def finding_view(entry: Entry, report: Report, number: int = 0) -> FindingView:
    """A finding of the report for people; `number` is that of its note."""
    from advisor.reports import charts  # a text has none

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
        sources=source_views(finding.sources),
        advised=finding.advised,
        charts=tuple(charts.charts_of(finding, units)),
        ids=tuple(entry.ids),
        who=who_words(finding.who, report.plan.units),
        grave=finding.rank >= _CAUTION,
        presumed=presumes(finding),
        short_numbers=tuple(short_number(n, units) for n in untold(finding, units)),
        number=number,
        told_with=entry.told_with,
    )


def controls(finding: Finding) -> tuple[tuple[str, str], ...]:
    """The controls of a finding with the plain name of their level, best level first."""
    ordered = sorted(finding.controls, key=lambda c: CONTROLS.index(c[0]))
    return tuple((LEVELS[level], text) for level, text in ordered)


def source_views(sources: Sequence[Cited]) -> tuple[SourceView, ...]:
    """Sources as words with their addresses."""
    return tuple(SourceView(source_words(one), public_url(one)) for one in sources)


def note_views(notes: Iterable[Note]) -> list[NoteView]:
    """The notes as words."""
    return [NoteView(n.number, n.ids, n.resting, source_views(n.sources), n.advised, n.line_words) for n in notes]


def short_number(number: Figure, units: str) -> str:
    """A number's name and value."""
    return f"{number_name(number, units)} {both(number.value, number.dimension, units)}"


def untold(finding: Finding, units: str) -> list[Figure]:
    """The numbers that the sentences do not say: of a notice only those along a run."""
    told = f"{finding.what} {finding.because}"
    numbers = [n for n in finding.numbers if n.working is not None or n.place is not None]
    numbers = [n for n in numbers if finding.rank >= _CAUTION or n.place is not None]
    kept = [n for n in numbers if n.name not in screen_words()["working_only"]]
    return [n for n in kept if both(n.value, n.dimension, units) not in told]


def _number(number: Figure, units: str) -> NumberView:
    working = number.working
    return NumberView(
        number_name(number, units),
        both(number.value, number.dimension, units),
        working.working(units) if working else "",
        "; ".join(working.sources) if working else "",
        input_words(number),
    )


def input_words(number: Figure) -> tuple[str, ...]:
    """What went into a number, each with where it came from: `area: line 12: area of doors`."""
    formula = (f"formula: {number.working.in_words}",) if number.working else ()
    return (*formula, *(f"{name}: {where}" for name, where in number.inputs)) if number.inputs else ()


def first_views(report: Report, arranged: Arranged, notes: Mapping[int, Note]) -> list[FindingView]:
    """The findings that come before anything else, with the numbers of their notes."""
    return [finding_view(entry, report, notes[id(entry)].number) for entry in arranged.first]


def sheets(report: Report, arranged: Arranged, notes: Mapping[int, Note]) -> list[StepSheet]:
    """One sheet a step, in the order of work."""
    moves = {o.step: o.why for o in report.order if o.why}
    spoken = {step for _, entries in arranged.steps for entry in entries for step in entry.steps}
    spoken |= {step for entry in arranged.first for step in entry.steps}
    entities = {step.id: step for step in report.plan.steps}
    counts = accounts(report)
    found = []
    for place, (own, entries) in enumerate(arranged.steps, 1):
        step = entities[own]
        views = tuple(finding_view(entry, report, notes[id(entry)].number) for entry in entries)
        elsewhere = own in spoken and not views
        account = account_words(counts[own]) if own in counts else ""
        found.append(StepSheet(place, own, step_words(step), moves.get(own, ""), step.note, views, elsewhere, account))
    return found


def step_words(step: Entity) -> str:
    """What the plan says of a step, on one line: `sand doors; with random-orbit sander; for 5 h`."""
    said = {name: step.values[name].text for name in _in_order(step)}
    does = [said[name] for name in ("do", "to") if said.get(name)]
    words = (": " if " " in does[0] else " ").join(does) if does else ""  # `open wall: wall`
    rest = [f"{n.replace('_', ' ')} {v}" for n, v in said.items() if n not in ("do", "to", *_AFTER) and v]
    return "; ".join([words, *rest])


def _in_order(entity: Entity) -> list[str]:
    """The attributes of a thing in one order, however the author wrote them: the usual first, then by name."""
    return sorted(entity.values, key=lambda n: (_FIRST.index(n) if n in _FIRST else len(_FIRST), n))


def part_words(plan: Plan, sort: str) -> list[tuple[str, str]]:
    """The things of a sort with all that the plan says of them."""
    return [
        (own, "; ".join(f"{n.replace('_', ' ')} {entity.values[n].text}" for n in _in_order(entity)))
        for own, entity in plan.entities.get(sort, {}).items()
        if entity.values
    ]


def questions(report: Report) -> list[str]:
    """The weightiest questions, each with what it decides."""
    return [question_words(q) for q in report.questions[:QUESTIONS]]


def more_questions(report: Report, where: str) -> str:
    """How many questions are left, and where they stand; `{plan}` in it is the plan as a command takes it."""
    more = len(report.questions) - QUESTIONS
    return f"And {more} more: {where.replace('{plan}', argument(report))}" if more > 0 else ""


def change_words(report: Report) -> list[str]:
    """What packs of one's own did to the rules, and why."""
    return [f"Rule {c.rule} was {c.how} by {c.pack}: {c.reason}" for c in report.changes]


def cited(report: Report) -> list[tuple[str, str, str]]:
    """The bibliography of the report: every key with its full citation and its public address, by key."""
    return [(s.key, s.citation, public_url(s)) for s in bibliography([report])]


def gear_lines(report: Report, told: int = 0) -> list[tuple[str, str]]:
    """What protects: what to get and what is there, each with its steps; note `told` has named the former."""
    found = []
    for label, owned in (("get", False), ("have", True)):
        own = [f"{g.gear} ({', '.join(g.steps)})" for g in report.gear if g.owned is owned]
        if own:
            found.append((label, f"what [{told}] names." if told and not owned else f"{'; '.join(own)}."))
    return found
