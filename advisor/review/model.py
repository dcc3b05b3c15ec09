"""The report as data. Renderers read these objects and nothing else."""

from __future__ import annotations

from msgspec import Struct, field

from advisor.plan.model import Plan
from advisor.review.asked import OpenPractice, Question, RulesOfStep
from advisor.review.days.model import NoTimetable, Timetable
from advisor.review.finding import Finding
from advisor.review.order.told import MovedStep, NotKept, PlaceInOrder
from advisor.review.set_aside import Accepted, AcceptedOpen, Answered, HoldPoint
from advisor.review.supply import Supply
from advisor.rulebase.countries import Country
from advisor.rulebase.model import SIGNALS, Change
from advisor.site.hanging import Hanging
from advisor.site.model import SimulatedSite
from advisor.site.unheard import Unheard

CAUTIONS = (
    "This is a check before the work. It is not a permit, an inspection or professional advice.",
    "Local code and the product's own label rule over everything printed here.",
    "Licensed work goes to licensed people. Ask your building department what that covers.",
    "It knows only what the plan says. What the plan leaves out can still hurt you. When in doubt, stop.",
)


class Gear(Struct, frozen=True):
    """A piece of protective gear: the steps that need it, why, and whether the crew has it."""

    gear: str
    steps: tuple[str, ...]
    because: str
    owned: bool


class NotChecked(Struct, frozen=True):
    """A rule that could not work something out, or was given up, and why."""

    rule: str
    title: str
    message: str
    signal: str = ""  # the gravest word that a rule given up might have said; empty where it only lacked a value
    may: str = ""  # the gravest word of a rule that was checked, where only whether it is open is not known


class NotTold(Struct, frozen=True):
    """What a report does not tell as only some signal words were asked for: milder findings, and open practices."""

    only: str
    findings: int
    open: int

    @property
    def told(self) -> str:
        """The same in a sentence."""
        findings = f"{self.findings} milder finding{'s' * (self.findings != 1)}"
        practices = f"{self.open} open practice{'s' * (self.open != 1)}"
        return f"{findings} and {practices} left out by --only {self.only}."


class Report(Struct):
    """Everything that a review came to."""

    plan: Plan
    findings: list[Finding]
    order: list[PlaceInOrder]
    schedule: Timetable | NoTimetable | None  # None where no calendar was made
    questions: list[Question]
    not_checked: list[NotChecked]
    gear: list[Gear]
    looked_at: dict[str, int]  # pack title to number of its rules
    changes: tuple[Change, ...]
    latent: list[Finding] = field(default_factory=list)  # constraints that only another order would break
    cautions: tuple[str, ...] = CAUTIONS
    accepted: list[Accepted] = field(default_factory=list)
    open: list[OpenPractice] = field(default_factory=list)
    account: list[RulesOfStep] = field(default_factory=list)
    unheard: list[Unheard] = field(default_factory=list)
    accepted_open: list[AcceptedOpen] = field(default_factory=list)
    site: SimulatedSite | None = None
    moves: list[MovedStep] = field(default_factory=list)
    given_up: list[NotKept] = field(default_factory=list)
    supplies: list[Supply] = field(default_factory=list)
    made_by: tuple[str, str] = ("", "")  # version of the program, hash of the rules
    dated: str = ""  # the day of the review, where somebody named it: nothing printed depends on the clock
    holds: list[HoldPoint] = field(default_factory=list)  # all that is to get and to find out
    answered: list[Answered] = field(default_factory=list)
    hanging: list[Hanging] = field(default_factory=list)  # what a walk asks by; only where one is begun
    country: Country | None = None  # whose words and tables count; None for that of the rules
    left_out: NotTold | None = None  # only where a part of the findings was asked for
    settled: bool = True  # no order that keeps as much moves fewer steps; else that was not found out within the bound

    @property
    def name(self) -> str:
        """What stands on top of each page: what the plan is called, or its file, and the day where one is named."""
        called = self.plan.title or self.plan.file
        return f"{called}, {self.dated}" if self.dated else called

    def counts(self) -> dict[str, int]:
        """How many practices speak with each signal word, gravest first: one at several steps counts once."""
        from advisor.review.practices import counts, practices
        from advisor.review.told_once import told

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
