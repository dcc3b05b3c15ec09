"""The report as one HTML file: no script, nothing fetched, readable on a phone, fit to print."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import lru_cache
from pathlib import Path
from typing import Any
from urllib.parse import quote

from jinja2 import FileSystemLoader, StrictUndefined
from jinja2.sandbox import ImmutableSandboxedEnvironment
from markupsafe import Markup
from msgspec import Struct
from msgspec.structs import replace

from advisor.errors import Problem
from advisor.reports.answered import EXPLAINED, HEADING, HoldView, hold_views
from advisor.reports.arrange import arrange, graver, single
from advisor.reports.calendar_chart import calendar_chart, days_of
from advisor.reports.charts import Chart
from advisor.reports.clean import legible
from advisor.reports.data import made_by_words, waiver_words
from advisor.reports.first import MOST_DANGERS, MOST_GET, First, first_screen
from advisor.reports.notes import numbered, words_used
from advisor.reports.opened import gravest_open_words, left_open, open_by_question, unheard_line
from advisor.reports.place import HEADING as WHERE
from advisor.reports.place import place_asked, place_line, place_rows
from advisor.reports.pointing import COMMANDS, Points
from advisor.reports.schedule_text import summary
from advisor.reports.supplies import to_get
from advisor.reports.totals import PLAN_HEADER, cautions_of, often_words, plan_row, totals_line, worst_first
from advisor.reports.unchecked import foot_lines
from advisor.reports.view import (
    FindingView,
    NoteView,
    StepSheet,
    change_words,
    cited,
    finding_view,
    first_views,
    gear_lines,
    more_questions,
    note_views,
    questions,
    sheets,
)
from advisor.review.model import Report


class _View(Struct, frozen=True):
    """A report as words for the template."""

    title: str
    file: str
    first: First
    most_dangers: int
    points: Points
    findings_first: list[FindingView]
    holds: list[HoldView]
    left_out: str  # how many milder findings, where only some were asked for
    holds_heading: str
    holds_told: str
    calendar: Chart | None
    time: list[str]  # what the calendar comes to
    days: list[tuple[str, list[StepSheet]]]  # the day on which they start; empty where there is no calendar
    quiet: list[StepSheet]
    accepted: list[tuple[FindingView, str]]
    questions: list[str]
    more_questions: str
    gear: list[tuple[str, str]]
    where: str  # heading of what is known of another country
    place_rows: list[tuple[str, str, str]]
    place_asked: str
    open: str  # what is not judged
    by_question: list[tuple[str, str]]  # what is open, by the question that would settle it
    unused: str
    accepted_open: list[tuple[str, str, str, str]]
    not_checked: list[str]
    changes: list[str]
    words: list[tuple[str, str]]
    notes: list[NoteView]
    sources: list[tuple[str, str, str]]
    cautions: tuple[str, ...]


def as_html(
    reports: Sequence[Report],
    problems: Sequence[Problem] = (),
    *,
    every: bool = False,
    points: Points = COMMANDS,
    only: str = "",
    files: Mapping[str, str] | None = None,
) -> str:
    """One page for one report or many; plans that could not be read are named with their mistakes.

    With `every` all that can be unfolded stands open, on paper too. `points` says where more stands.
    `only` a signal word: findings of it and graver, and how many others there are. With `files`, the page of each plan
    by the plan's file, the reports are left to those.
    """
    reports = worst_first(reports)
    alone = len(reports) == 1 and not problems and files is None
    title = plan_title(reports[0]) if alone else "Plans reviewed before the work"
    return render(
        "review.html.j2",
        title=title,
        alone=alone,
        views=[report_view(report, points, only) for report in (reports if files is None else ())],
        every=every,
        columns=PLAN_HEADER,
        plans=[_plan_named(report, files or {}) for report in reports],
        often=often_words(reports),
        totals=totals_line(reports, problems),
        cautions=cautions_of(reports) if files is not None else (),
        problems=[str(problem) for problem in problems],
        made_by=made_by_words(reports[0]) if reports else "",
    )


def _plan_named(report: Report, files: Mapping[str, str]) -> tuple[str, str, str, tuple[str, ...]]:
    """A plan among others: its title, its file, where its own page is (empty: on this one), and its row."""
    file, *row = plan_row(report)
    return plan_title(report), file, quote(files.get(file, "")), tuple(row)


def as_brief_html(report: Report, points: Points = COMMANDS) -> str:
    """The first screen as a page: a summary on one sheet of paper."""
    first = _first(report, points)
    said = [
        first.counts,
        first.left,
        first.start,
        *first.may_be,
        first.today,
        *first.not_yet,
        *(one.line for one in first.not_yours),
        *(one.short for one in first.dangers[:MOST_DANGERS]),
    ]
    said += first.get[:MOST_GET]  # of what stands on the page alone words are explained
    return render(
        "brief.html.j2",
        title=plan_title(report),
        sheet="short",
        first=first,
        most=MOST_DANGERS,
        points=points,
        words=words_used(said, report.plan.units, report.name),
        cautions=report.cautions,
        made_by=made_by_words(report),
    )


def _first(report: Report, points: Points) -> First:
    return replace(first_screen(report, to_get(report)), place=place_line(report, points.country))


def plan_title(report: Report) -> str:
    """What the plan is called, or its file, with the day of the review."""
    return report.name


def render(template: str, **values: Any) -> str:
    """A template filled; every string is made legible and escaped."""
    return _environment().get_template(template).render(**({"made_by": ""} | values))


@lru_cache(maxsize=1)
def _environment() -> ImmutableSandboxedEnvironment:
    return environment()


def environment(*folders: Path) -> ImmutableSandboxedEnvironment:
    """Templates of these folders and of the reports: sandboxed, every string made legible and escaped."""
    made = ImmutableSandboxedEnvironment(
        loader=FileSystemLoader([*folders, Path(__file__).parent / "templates"]),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        finalize=_legible,
    )
    made.filters["as_css"] = as_css
    return made


def as_css(text: str) -> Markup:
    """A text as a string of CSS: every letter but the plainest by its number, so that none can end the string."""
    letters = (c if c.isascii() and c.isalnum() else f"\\{ord(c):06x} " for c in legible(text))
    return Markup(f'"{"".join(letters)}"')


def _legible(value: Any) -> Any:
    # Markup comes from templates and drawings, which clean their own lettering.
    return legible(value) if isinstance(value, str) and not isinstance(value, Markup) else value


def by_day(all_sheets: list[StepSheet], days: dict[str, str]) -> list[tuple[str, list[StepSheet]]]:
    """Sheets by the day on which they start; each on its own where there is no calendar."""
    if not days:
        return [("", [sheet]) for sheet in all_sheets]
    groups: dict[str, list[StepSheet]] = {label: [] for label in dict.fromkeys(days.values())}
    for sheet in all_sheets:
        groups.setdefault(days.get(sheet.step, "No day"), []).append(sheet)
    return [(label, group) for label, group in groups.items() if group]


def report_view(report: Report, points: Points = COMMANDS, only: str = "") -> _View:
    """A report as words for the macros of `parts.html.j2`."""
    arranged = arrange(report)
    notes = numbered(arranged)
    arranged, left = graver(arranged, only)
    shown = [notes[id(entry)] for entry in arranged.entries()]
    all_sheets = sheets(report, arranged, notes)
    first = _first(report, points)
    sentences = [f"{e.finding.what} {e.finding.because}" for e in arranged.entries()]
    return _View(
        title=plan_title(report),
        file=report.plan.file,
        first=first,
        most_dangers=MOST_DANGERS,
        points=points,
        findings_first=first_views(report, arranged, notes),
        left_out=left,
        holds=hold_views(report),
        holds_heading=HEADING,
        holds_told=EXPLAINED,
        calendar=calendar_chart(report),
        time=summary(report.schedule),
        days=by_day([s for s in all_sheets if s.speaks], days_of(report)),
        quiet=[s for s in all_sheets if not s.speaks],
        accepted=[(finding_view(single(a.finding), report), waiver_words(a.waiver)) for a in report.accepted],
        questions=questions(report),
        more_questions=more_questions(report, points.questions),
        gear=gear_lines(report),
        where=WHERE,
        place_rows=place_rows(report),
        place_asked=place_asked(report),
        open=f"{left_open(report)} {gravest_open_words(report)}".rstrip(),
        by_question=open_by_question(report),
        unused=unheard_line(report),
        accepted_open=[
            (a.practice.signal, a.practice.title, waiver_words(a.waiver), a.practice.id) for a in report.accepted_open
        ],
        not_checked=foot_lines(report),
        changes=change_words(report),
        words=words_used([*sentences, *first.get], report.plan.units, report.name),
        notes=note_views(shown),
        sources=cited(report),
        cautions=report.cautions,
    )
