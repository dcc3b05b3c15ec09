"""The report as data. Renderers read these objects and nothing else."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from advisor.calculators import Result
from advisor.plan.model import Basis, Plan
from advisor.review.supply import Supply
from advisor.review.wording import Wording
from advisor.rulebase.countries import Country
from advisor.rulebase.model import SIGNALS, Change
from advisor.site.hanging import Hanging
from advisor.site.model import Site

CAUTIONS = (
    "This is a check before the work. It is not a permit, an inspection or professional advice.",
    "Local code and the product's own label rule over everything printed here.",
    "Licensed work goes to licensed people. Ask your building department what that covers.",
    "It knows only what the plan says. What the plan leaves out can still hurt you. When in doubt, stop.",
)


@dataclass(frozen=True, slots=True)
class Number:
    """A number of a finding with its working. `value` is in base units of `dimension`."""

    name: str
    value: float
    dimension: str
    working: Result | None
    place: float | None = None  # along a run [m]
    inputs: tuple[tuple[str, str], ...] = ()  # what went in, and where that came from


@dataclass(frozen=True, slots=True)
class Cited:
    """A source as printed: key, full citation, place in the work. An empty key is common practice."""

    key: str
    citation: str
    locator: str
    url: str = ""  # where the public may read it


@dataclass(slots=True)
class Finding:
    """What one rule says about one step (or about the plan as a whole)."""

    id: str
    rule: str
    title: str
    pack: str
    kind: str
    signal: str
    step: str | None
    step_line: int
    what: str
    because: str
    controls: tuple[tuple[str, str], ...]
    numbers: tuple[Number, ...]
    sources: tuple[Cited, ...]
    rests_on: tuple[Basis, ...]
    advised: bool
    first: str | None = None  # precede, wait: the step that comes first
    duration: float | None = None  # wait [s]
    to: str = ""  # refer: to whom
    wording: Wording | None = None  # the sentences before the values were put in
    adds: tuple[str, ...] = ()  # what the steps do that its advice adds
    decides: bool = False  # whether its advice adds a step that decides the rest: a test, a permit
    drawn: list[object] = field(default_factory=list)  # advisor.engine.run.Drawn, for `why`
    answer: tuple[str, ...] = ()  # of a need: move, again or unknown, and the steps that are meant; empty: do it
    wants: tuple[str, ...] = ()  # gear, tools and products that its advice names
    parts: tuple[str, ...] = ()  # the parts that it is about
    who: str = ""  # who may do it: you, helper, licensed: TRADE, laboratory, local code
    of: tuple[str, ...] = ()  # ids of the findings that it tells, where it tells several (`review/gathered.py`)
    steps: tuple[str, ...] = ()  # steps that it is about too

    @property
    def rank(self) -> int:
        """Gravity: 0 notice to 3 danger."""
        return SIGNALS.index(self.signal)


@dataclass(frozen=True, slots=True)
class Question:
    """A question whose answer would change the report."""

    ask: str
    sort: str
    id: str
    attribute: str
    presumed: str
    because: str
    hangs: tuple[str, ...]  # ids of findings
    rank: int
    name: str = ""
    line: int = 0  # where the answer would be written
    of: tuple[str, ...] = ()  # rules that hang on it: those that speak, and those that are open
    settles: tuple[str, ...] = ()  # rules that are open no more after any answer
    answers: tuple[Answer, ...] = ()
    keys: tuple[tuple[str, str, str], ...] = ()  # all that it asks for at once: sort, id, attribute
    also: tuple[str, ...] = ()  # in words, what it asks and does not name

    @property
    def decides(self) -> str:
        """What a grave answer brings, in words: `If gas cooktop: danger, flames and sparks out`.

        An answer that brings something by itself is named before one that only helps to, and a word before a figure:
        the figure of an answer lies at the end of a range, where nobody expects it.
        """
        told = [answer for answer in self.answers if answer.decides]
        if not told:
            return ""
        grave = {answer.value: SIGNALS.index(answer.decides.partition(":")[0]) for answer in told}
        best = min(told, key=lambda a: (not a.comes, any(map(str.isdigit, a.value)), -grave[a.value]))
        comes = "comes" if best.comes else "may come"
        return f'With the answer "{best.value}" {comes} a {best.decides}'


@dataclass(frozen=True, slots=True)
class Answer:
    """An answer that a person would give: ids of what comes and goes, and the gravest of what it brings or helps."""

    value: str
    comes: tuple[str, ...]
    goes: tuple[str, ...]
    decides: str
    key: tuple[str, str, str]  # where it would be written: sort, id, attribute; empty for a thing


@dataclass(frozen=True, slots=True)
class OpenPractice:
    """A practice that does not speak, and would for some answer to what is unknown."""

    rule: str
    title: str
    pack: str
    signal: str
    step: str | None
    line: int
    parts: tuple[str, ...]
    unknown: tuple[tuple[str, str, str], ...]  # sort, id, attribute
    missing: tuple[tuple[str, str], ...]  # kind of thing that may be there, where
    asks: tuple[str, ...]  # names of questions

    @property
    def id(self) -> str:
        """Rule and step, as for a finding."""
        return f"{self.rule}@{self.step}" if self.step else self.rule

    @property
    def rank(self) -> int:
        """Gravity: 0 notice to 3 danger."""
        return SIGNALS.index(self.signal)


@dataclass(frozen=True, slots=True)
class StepAccount:
    """Which practices concern a step: rules that speak, that are met, that are open."""

    step: str
    speaks: tuple[str, ...]
    met: tuple[str, ...]
    open: tuple[str, ...]
    named: bool = False  # some rule looks for such a step: it is what other practices ask for
    answered: tuple[str, ...] = ()  # rules that rest on what is still to get or to find out

    @property
    def concerned(self) -> bool:
        """Whether any practice concerns the step."""
        return bool(self.speaks or self.met or self.open or self.answered)

    @property
    def known(self) -> bool:
        """Whether any rule here knows the work, be it only as what others ask for."""
        return self.concerned or self.named


@dataclass(frozen=True, slots=True)
class Unheard:
    """What the plan states and nothing reads for that thing."""

    line: int
    sort: str
    thing: str
    attribute: str
    meant: str


@dataclass(frozen=True, slots=True)
class Gear:
    """A piece of protective gear: the steps that need it, why, and whether the crew has it."""

    gear: str
    steps: tuple[str, ...]
    because: str
    owned: bool


@dataclass(frozen=True, slots=True)
class NotChecked:
    """A rule that could not work something out, or was given up, and why."""

    rule: str
    title: str
    message: str
    signal: str = ""  # the gravest word that a rule given up might have said; empty where it only lacked a value
    may: str = ""  # the gravest word of a rule that was checked, where only whether it is open is not known


@dataclass(frozen=True, slots=True)
class Waiver:
    """A risk that somebody accepted: of one rule, at one step or in one plan, for a reason, until a day."""

    rule: str
    step: str  # empty: any step
    plan: str  # file name, with or without its ending, or the end of its path; empty: any plan
    reason: str
    by: str
    until: date | None
    file: str
    line: int


@dataclass(frozen=True, slots=True)
class Accepted:
    """A finding that a waiver accepts. It is listed, and it no longer counts."""

    finding: Finding
    waiver: Waiver


@dataclass(frozen=True, slots=True)
class AcceptedOpen:
    """An open practice that a waiver accepts: nobody needs to ask any more."""

    practice: OpenPractice
    waiver: Waiver


@dataclass(frozen=True, slots=True)
class HoldPoint:
    """An entry of the plan that is still to get or to find out: a box to tick before its steps."""

    section: str  # to_get or to_find_out
    text: str
    before: tuple[str, ...]  # steps; before any work where it is empty
    line: int


@dataclass(frozen=True, slots=True)
class Answered:
    """A practice that rests on entries of the plan: it no longer counts, and they are ticked before the step."""

    finding: Finding | None
    practice: OpenPractice | None
    by: tuple[HoldPoint, ...]

    @property
    def about(self) -> Finding | OpenPractice:
        """What is answered: what spoke, or what was open."""
        found = self.finding or self.practice
        assert found is not None
        return found


@dataclass(slots=True)
class Report:
    """Everything that a review came to."""

    plan: Plan
    findings: list[Finding]
    order: list[dict[str, object]]
    schedule: dict[str, object]
    questions: list[Question]
    not_checked: list[NotChecked]
    gear: list[Gear]
    looked_at: dict[str, int]  # pack title to number of its rules
    changes: tuple[Change, ...]
    latent: list[Finding] = field(default_factory=list)  # constraints that only another order would break
    cautions: tuple[str, ...] = CAUTIONS
    accepted: list[Accepted] = field(default_factory=list)
    open: list[OpenPractice] = field(default_factory=list)
    account: list[StepAccount] = field(default_factory=list)
    unheard: list[Unheard] = field(default_factory=list)
    accepted_open: list[AcceptedOpen] = field(default_factory=list)
    site: Site | None = None
    moves: list[dict[str, object]] = field(default_factory=list)
    given_up: list[dict[str, object]] = field(default_factory=list)
    supplies: list[Supply] = field(default_factory=list)
    made_by: tuple[str, str] = ("", "")  # version of the program, hash of the rules
    dated: str = ""  # the day of the review, where somebody named it: nothing printed depends on the clock
    holds: list[HoldPoint] = field(default_factory=list)  # all that is to get and to find out
    answered: list[Answered] = field(default_factory=list)
    hanging: list[Hanging] = field(default_factory=list)  # what a walk asks by; only where one is begun
    country: Country | None = None  # whose words and tables count; None for that of the rules
    settled: bool = True  # no order that keeps as much moves fewer steps; else that was not found out within the bound

    @property
    def name(self) -> str:
        """What stands on top of each page: what the plan is called, or its file, and the day where one is named."""
        called = self.plan.title or self.plan.file
        return f"{called}, {self.dated}" if self.dated else called

    def counts(self) -> dict[str, int]:
        """How many practices speak with each signal word, gravest first: one at several steps counts once."""
        from advisor.review.gathered import told
        from advisor.review.practices import counts, practices

        return counts(practices(told(self.findings, self.plan)))

    def count(self, signal: str) -> int:
        """How many practices speak with the signal word, by the gravest of each."""
        return self.counts()[signal]

    def worst(self) -> int:
        """The gravest signal as a rank, -1 where there is no finding. What a rule given up might have said counts."""
        missed = [SIGNALS.index(one.signal) for one in self.missed()]
        return max((*missed, *(finding.rank for finding in self.findings)), default=-1)

    def missed(self) -> list[NotChecked]:
        """The rules that were given up and might have said something, the gravest first."""
        found = [one for one in self.not_checked if one.signal]
        return sorted(found, key=lambda n: (-SIGNALS.index(n.signal), n.rule, n.message))

    def worst_open(self) -> int:
        """The gravest signal of what is open, or not known to be closed, as a rank; -1 where nothing is."""
        unknown = [SIGNALS.index(word) for one in self.not_checked if (word := one.signal or one.may)]
        return max((*unknown, *(one.rank for one in self.open)), default=-1)
