"""The job hazard analysis: task, hazard, controls (the form of OSHA 3071), worst and likeliest first.

How bad and how sure is what the signal word says (ANSI Z535.6). Within a word, what the plan states comes
before what was presumed, because it is the likelier; what only our own advice brings is last, as it may never come.
"""

from __future__ import annotations

import json
import textwrap

from msgspec import Struct

from advisor.reports.arrange import Entry, arrange
from advisor.reports.clean import legible
from advisor.reports.data import SCHEMA, as_utf8, made_by_data, made_by_words
from advisor.reports.html import plan_title, render
from advisor.reports.likely import likely
from advisor.reports.notes import resting, source_words, words_below, words_used
from advisor.reports.table_csv import table
from advisor.reports.unchecked import sheet_lines
from advisor.reports.view import change_words, controls, short_number, step_words, untold
from advisor.review.finding import Finding
from advisor.review.model import Report
from advisor.review.who import who_words

HEADER = ("Task", "Hazard", "Controls")
_WIDTHS = (18, 28, 30)  # with two gaps of two: 80 columns
FORM = "Job hazard analysis in the form of OSHA 3071 (2002): task, hazard, controls."
ORDER = (
    "Worst first, by signal word. Within a word, what will come about is before what could, what the plan states "
    "before what was presumed, and what only advice given here brings is last."
)
LEFT_OUT = (
    "Notices are about the work and not about people. They stand in the review. "
    "A number in brackets is that of the review."
)


class HazardRow(Struct, frozen=True):
    """One hazard. `controls` begin with what the finding asks for; the rest are in the order of the hierarchy."""

    id: str
    signal: str
    tasks: tuple[str, ...]
    hazard: str
    likely: str
    controls: tuple[str, ...]
    sources: str
    who: str
    number: int = 0  # in the report
    figures: tuple[str, ...] = ()  # those that the sentences do not say


def hazard_rows(report: Report) -> list[HazardRow]:
    """The hazards to people, worst and likeliest first."""
    arranged = arrange(report)
    entries = [*arranged.first, *(entry for _, group in arranged.steps for entry in group)]
    places = {o.step: place for place, o in enumerate(report.order, 1)}

    def key(entry: Entry) -> tuple[object, ...]:
        finding = entry.finding
        return -finding.rank, *likely(finding), bool(finding.rests_on), places.get(entry.steps[0], 0), finding.id

    numbers = {id(entry): number for number, entry in enumerate(entries, 1)}
    kept = [entry for entry in sorted(entries, key=key) if entry.finding.signal != "notice"]
    return [_row(entry, report, places, numbers[id(entry)]) for entry in kept]


def _row(entry: Entry, report: Report, places: dict[str, int], number: int) -> HazardRow:
    finding = entry.finding
    words = {step.id: step_words(step) for step in report.plan.steps}
    tasks = tuple(f"{places[s]}. {s}: {words[s]}" for s in entry.steps if s in places) or ("The whole job",)
    asked = f"{finding.what} Who: {who_words(finding.who)}." if finding.who else finding.what
    listed = (asked, *(f"{level}: {text}" for level, text in controls(finding)))
    sources = "; ".join(source_words(s) for s in finding.sources)
    units = report.plan.units
    figures = tuple(short_number(one, units) for one in untold(finding, units))
    return HazardRow(
        finding.id, finding.signal, tasks, finding.because, _likely(finding), listed, sources, finding.who,
        number, figures,
    )  # fmt: skip


def _likely(finding: Finding) -> str:
    if finding.rests_on:
        return "Likely by what the plan tells; not all is known. " + " ".join(resting(finding))
    return "Follows from the advice given here." if finding.advised else "Follows from what the plan states."


def as_hazards_text(report: Report) -> str:
    """The three columns at 80 columns."""
    lines = [*textwrap.wrap(f"Job hazard analysis: {plan_title(report)}", 80), *textwrap.wrap(ORDER, 80), ""]
    lines += [line for text in sheet_lines(report) for line in textwrap.wrap(text, 80)]
    lines += [""] if report.missed() else []
    lines += [_across(HEADER), "  ".join("-" * width for width in _WIDTHS)]
    rows = hazard_rows(report)
    for row in rows:
        hazard = [
            f"[{row.number}] {row.signal.upper()}: {row.hazard}",
            *(f"= {one}" for one in row.figures),
            row.likely,
        ]
        cells = (list(row.tasks), hazard, [*row.controls, f"[{row.sources}]"])
        lines += [*_beside(cells), ""]
    if not rows:
        lines += ["No hazard was found by the rules. That is no proof: see the cautions.", ""]
    words = words_below(_said(rows), report)[1:]  # there is a blank line above it already
    lines += [*words, ""] if words else []
    lines += [
        *textwrap.wrap(LEFT_OUT, 80),
        *(line for text in (*change_words(report), *report.cautions) for line in textwrap.wrap(text, 80)),
        made_by_words(report),
    ]
    return "\n".join(legible(line).rstrip() for line in lines) + "\n"


def _said(rows: list[HazardRow]) -> list[str]:
    return [f"{row.signal} {row.hazard} {' '.join(row.controls)}" for row in rows]


def _across(cells: tuple[str, ...] | list[str]) -> str:
    return "  ".join(f"{cell:<{width}}" for cell, width in zip(cells, _WIDTHS, strict=True))


def _beside(cells: tuple[list[str], ...]) -> list[str]:
    """Paragraphs in columns beside each other."""
    columns = [
        [line for text in texts for line in textwrap.wrap(text, width, subsequent_indent=" ")]
        for texts, width in zip(cells, _WIDTHS, strict=True)
    ]
    tall = max(map(len, columns))
    return [_across([column[n] if n < len(column) else "" for column in columns]) for n in range(tall)]


def as_hazards_csv(report: Report) -> str:
    """The three columns for a spreadsheet, with what they rest on beside them."""
    header = ("Task", "Hazard", "Controls", "Signal", "How sure", "Sources", "Finding", "Number", "Figures")
    rows = [
        (
            "; ".join(row.tasks),
            row.hazard,
            " / ".join(row.controls),
            row.signal,
            row.likely,
            row.sources,
            row.id,
            row.number,
            "; ".join(row.figures),
        )
        for row in hazard_rows(report)
    ]
    missed = [("", f"Not checked: {one.title}: {one.message}.", "", one.signal, "Not known", "", one.rule, "", "")
              for one in report.missed()]  # fmt: skip
    return table([header, *rows, *missed])


def as_hazards_json(report: Report) -> str:
    """The rows as data."""
    rows = [
        {
            "finding": row.id,
            "number": row.number,
            "figures": list(row.figures),
            "signal": row.signal,
            "tasks": list(row.tasks),
            "hazard": row.hazard,
            "likely": row.likely,
            "controls": list(row.controls),
            "who": row.who,
            "sources": row.sources,
        }
        for row in hazard_rows(report)
    ]
    plan = {"file": report.plan.file, "title": report.plan.title}
    data = {"schema": SCHEMA, "plan": plan, "made_by": made_by_data(report), "hazards": rows}
    return as_utf8(json.dumps(data | {"cautions": list(report.cautions)}, ensure_ascii=False, indent=2)) + "\n"


def as_hazards_html(report: Report) -> str:
    """The three columns as one HTML file."""
    rows = hazard_rows(report)
    return render(
        "hazards.html.j2",
        title=plan_title(report),
        form=FORM,
        order=ORDER,
        left_out=LEFT_OUT,
        rows=rows,
        words=words_used(_said(rows), report.plan.units, report.name),
        missed=sheet_lines(report),
        changes=change_words(report),
        cautions=report.cautions,
        made_by=made_by_words(report),
    )
