"""Checklists for a class: hold points as boxes with reasons; an exercise to fill in; its key, numbered alike."""

from __future__ import annotations

from collections.abc import Sequence
from string import ascii_lowercase

from msgspec import Struct

from advisor.plan.model import Plan
from advisor.reports.answered import HoldView, hold_views
from advisor.reports.arrange import Entry, arrange, goes_first
from advisor.reports.begin import begin_lines
from advisor.reports.calendar_chart import days_of
from advisor.reports.html import plan_title
from advisor.reports.not_yours import not_yours, trade_name
from advisor.reports.opened import gravest_open_words
from advisor.reports.unchecked import sheet_lines
from advisor.reports.view import FindingView, change_words, finding_view, part_words, step_words
from advisor.review.metric import localized
from advisor.review.model import Report
from advisor.review.who import LABORATORY, LICENSED, LOCAL_CODE, trades_touched

SORTS = {"house": "House", "room": "Rooms", "part": "Parts", "product": "Products", "crew": "Crew", "budget": "Budget"}
_FIRST = "Before anything else"
_NO_DAY = "No day"
_EVERY = "Every step, in the order of work"
_IN_ORDER = ("step", "day")  # groupings that run with the work
TASKS = {
    "list": "Tick a box when it is true or done. '!' is a hazard to keep in mind.",
    "exercise": "Read the plan. At each number write what can go wrong and what must be true first, if anything.",
    "answers": "The key. The numbers are those of the exercise; a letter for each answer.",
    "job": "A blank sheet for a usual job. Write in what is asked, tick what is true or done. '!' is a hazard.",
}
LIST, JOB, EXERCISE, KEY = "list", "job", "exercise", "answers"
ROOM = 3  # lines to write on: the same at each step, so that none tells how much there is to find
NOTHING = "No rule speaks here. What you found may still be right."
ASKED = "To find out first"
MOST_ASKED = 8


class ChecklistItem(Struct, frozen=True):
    """A finding with its number, which is the same in the exercise and in the key."""

    number: int
    view: FindingView
    letter: str = ""  # of a key: which of the answers to that number it is
    where: tuple[str, ...] = ()  # its steps, where the heading does not say them

    @property
    def mark(self) -> str:
        """`12`, or `12b` in a key."""
        return f"{self.number}{self.letter}"


class Group(Struct, frozen=True):
    """Items under one heading."""

    title: str
    items: tuple[ChecklistItem, ...]
    work: tuple[str, ...] = ()  # its steps, each to tick when it is done
    number: int = 0  # of an exercise and its key


class Checked(Struct, frozen=True):
    """A plan as a checklist."""

    title: str
    plan: tuple[tuple[str, tuple[str, ...]], ...]
    groups: tuple[Group, ...]
    holds: tuple[HoldView, ...]
    missed: tuple[str, ...]  # what was not checked
    begin: tuple[str, ...]  # what to ask and to shut off before any work
    changes: tuple[str, ...]
    cautions: tuple[str, ...]
    asked: tuple[str, ...] = ()  # what a blank sheet asks, to write in
    left: str = ""  # the gravest of what the answers decide
    theirs: tuple[str, ...] = ()  # who else is to do what, and when


def checked(report: Report, by: str, start: int = 1, form: str = "list") -> Checked:
    """The findings of a plan in groups by step, day, trade or topic, numbered from `start`.

    Every step is there to tick, also one of which nothing is said: a step that advice added, such as proving wires
    dead, is what keeps somebody alive. A blank sheet of a job asks what its plan leaves open, too.
    """
    arranged = arrange(report)
    places = {o.step: place for place, o in enumerate(report.order, 1)}
    days = days_of(report)
    trades = {step: trade for trade, steps in trades_touched(report.plan).items() for step in steps}
    groups: dict[str, list[tuple[int, FindingView]]] = {_FIRST: []} if by in _IN_ORDER else {}
    work: dict[str, list[str]] = {}
    if form in (LIST, JOB):
        work = _work(report, by, places, days)
    if by == "day":
        groups |= {f"Work that starts on {day}": [] for day in days.values()}
    if by in _IN_ORDER:
        groups |= {title: [] for title in work}
    if by == "step" and form in (EXERCISE, KEY):
        groups |= {_step_title(own, place): [] for own, place in places.items()}
    for place, entry in enumerate(arranged.entries()):
        title = _trade_title(entry, trades, report.plan.units) if by == "trade" else _title(entry, by, places, days)
        groups.setdefault(title, []).append((place, finding_view(entry, report)))
    ordered = list(groups.items()) if by in _IN_ORDER else sorted(groups.items())
    ordered += [(title, []) for title in work if title not in groups]
    number = start
    found = []
    for title, views in ordered:
        if form in (EXERCISE, KEY):
            # A number a step, whatever is to be found there: the sheet must not tell how much that is.
            items = tuple(ChecklistItem(number, v, _letter(n), _where(v, by)) for n, (_, v) in enumerate(views))
            found.append(Group(title, items, number=number))
            number += 1
        elif views or title in work:
            # The number is that of the review, however the items are grouped.
            items = tuple(ChecklistItem(start + place, v, "", _where(v, by)) for place, v in views)
            found.append(Group(title, items, tuple(work.get(title, ()))))
    holds, missed = tuple(hold_views(report)), tuple(sheet_lines(report))
    changes = tuple(change_words(report))
    begin = tuple(begin_lines(report))
    blank = form == JOB
    theirs = tuple(f"{one.line}." for one in not_yours(arranged.entries(), report)) if by == "trade" else ()
    asked = tuple(question.ask for question in report.questions[:MOST_ASKED]) if blank else ()
    return Checked(
        plan_title(report), _plan(report.plan), tuple(found), holds, missed, begin, changes, report.cautions,
        asked, gravest_open_words(report) if blank else "", () if form in (EXERCISE, KEY) else theirs,
    )  # fmt: skip


def _where(view: FindingView, by: str) -> tuple[str, ...]:
    """The steps that are told at an item: all of several, and by trade or topic also a single one."""
    return view.steps if len(view.steps) > 1 or by not in _IN_ORDER else ()


def _letter(number: int) -> str:
    return ascii_lowercase[number % 26] * (number // 26 + 1)


def _work(report: Report, by: str, places: dict[str, int], days: dict[str, str]) -> dict[str, list[str]]:
    """The steps in the order of work, under the heading where each stands."""
    steps = {step.id: step for step in report.plan.steps}
    found: dict[str, list[str]] = {}
    for own, place in places.items():
        words = step_words(steps[own])
        if by == "step":
            found[_step_title(own, place)] = [words]
        else:
            title = (f"Work that starts on {days[own]}" if own in days else _NO_DAY) if by == "day" else _EVERY
            found.setdefault(title, []).append(f"step {place}, {own}: {words}")
    return found


def _step_title(own: str, place: int) -> str:
    return f"Step {place}. {own}"


def _title(entry: Entry, by: str, places: dict[str, int], days: dict[str, str]) -> str:
    finding, step = entry.finding, entry.steps[0]
    if by == "topic":
        return finding.pack.replace("-", " ").capitalize()
    if finding.step is None or goes_first(finding):
        return _FIRST
    if by == "day":
        return f"Work that starts on {days[step]}" if step in days else _NO_DAY
    return _step_title(step, places[step])


def _trade_title(entry: Entry, trades: dict[str, str], units: str) -> str:
    """The heading of who does it; where local code may ask for a trade, that trade and you."""
    finding = entry.finding
    # What is not to be done is told to whoever was about to do it.
    if finding.kind != "warn" and (finding.who == LABORATORY or finding.who.startswith(LICENSED)):
        return f"Work for: {trade_name(finding.who, units)}"
    touched = [trades[step] for step in entry.steps if step in trades] if finding.step else []
    if touched:
        return localized(f"Work for: {trade_name(LICENSED + touched[0])}, or for you where local code lets you", units)
    return (
        localized("Ask your building department who may do it", units) if finding.who == LOCAL_CODE else "Your own work"
    )


def _plan(plan: Plan) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """What the plan says, for those who are to find its hazards."""
    said = [
        (title, tuple(words if own == sort else f"{own}: {words}" for own, words in part_words(plan, sort)))
        for sort, title in SORTS.items()
    ]
    steps = tuple(f"{n}. {step.id}: {step_words(step)}" for n, step in enumerate(plan.steps, 1))
    return tuple((title, lines) for title, lines in [*said, ("Steps", steps)] if lines)


def many_checked(reports: Sequence[Report], by: str, form: str = "list") -> list[Checked]:
    """Several plans numbered through."""
    found: list[Checked] = []
    start = 1
    for report in reports:
        found.append(checked(report, by, start, form))
        groups = found[-1].groups
        start += len(groups) if form in (EXERCISE, KEY) else sum(len(group.items) for group in groups)
    return found
