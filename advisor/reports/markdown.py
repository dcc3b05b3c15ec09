"""The report as Markdown (CommonMark, with tables): for a review in writing."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from advisor.errors import Problem
from advisor.reports.answered import EXPLAINED, HEADING, hold_views
from advisor.reports.arrange import Arranged, arrange, graver, single
from advisor.reports.clean import legible
from advisor.reports.data import made_by_words, waiver_words
from advisor.reports.first import LEGEND, MOST_DANGERS, First, first_screen
from advisor.reports.not_yours import HEADING as NOT_YOURS
from advisor.reports.notes import numbered, words_used
from advisor.reports.opened import gravest_open_words, left_open, open_by_question, unheard_line
from advisor.reports.place import HEADING as WHERE
from advisor.reports.place import place_asked, place_rows
from advisor.reports.pointing import COMMANDS
from advisor.reports.schedule_text import summary
from advisor.reports.supplies import to_get
from advisor.reports.totals import PLAN_HEADER, cautions_of, often_words, plan_row, totals_line, worst_first
from advisor.reports.unchecked import foot_lines
from advisor.reports.view import (
    FindingView,
    NoteView,
    SourceView,
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

_ACTIVE = re.compile(r"([\\`*_\[\]<>&|~$#])")
_LINK = re.compile(r"(?i)\b(https?|ftp|mailto)(?=:)|\b(www)(?=\.)")


def as_markdown(
    reports: Sequence[Report],
    problems: Sequence[Problem] = (),
    *,
    only: str = "",
    files: Mapping[str, str] | None = None,
) -> str:
    """One document for one report or many; `only` a signal word: findings of it and graver, the others counted.

    With `files`, the document of each plan by the plan's file, the reports are left to those.
    """
    if len(reports) == 1 and not problems and files is None:
        return "\n".join(_report(reports[0], 1, only)) + "\n"
    reports = worst_first(reports)
    lines = ["# Plans reviewed before the work", "", escape(totals_line(reports, problems)), ""]
    lines += _table(PLAN_HEADER, [plan_row(report) for report in reports])
    if said := often_words(reports):
        lines += ["", "## Practices that speak or are open most often", "", *(f"- {escape(text)}" for text in said)]
    if problems:
        lines += ["", "## Plans that were not reviewed", "", *(f"- {escape(str(p))}" for p in problems)]
    if files is not None:
        lines += ["", "## Their reports", "", *(f"- {escape(plan)}: {code(file)}" for plan, file in files.items())]
        lines += ["", "## Cautions", "", *(f"- {escape(text)}" for text in cautions_of(reports))]
    for report in reports if files is None else ():
        lines += ["", *_report(report, 2, only)]
    return "\n".join(lines) + "\n"


def escape(text: str) -> str:
    """Text as Markdown that shows just this text: no markup, no link, no HTML."""
    clean = _ACTIVE.sub(r"\\\1", legible(text))
    return _LINK.sub(lambda m: f"{m.group(0)}&#8203;", clean)


def code(text: str) -> str:
    """Text as a code span, whatever backticks it holds."""
    clean = legible(text).replace("|", "/")
    fence = "`" * (max((len(run) for run in re.findall("`+", clean)), default=0) + 1)
    pad = " " if clean.startswith("`") or clean.endswith("`") else ""
    return f"{fence}{pad}{clean}{pad}{fence}"


def _table(header: Sequence[str], rows: Sequence[Sequence[str]]) -> list[str]:
    lines = ["| " + " | ".join(header) + " |", "|" + " --- |" * len(header)]
    return lines + ["| " + " | ".join(escape(cell) or " " for cell in row) + " |" for row in rows]


def _report(report: Report, level: int, only: str) -> list[str]:
    head = "#" * level
    arranged = arrange(report)
    notes = numbered(arranged)
    arranged, milder = graver(arranged, only)
    shown = [notes[id(entry)] for entry in arranged.entries()]
    first = first_screen(report, to_get(report))
    lines = [
        f"{head} {escape(first.title)}",
        "",
        *_screen(first),
        f"Plan: {code(report.plan.file)}. {escape(LEGEND)}",
        "",
    ]
    if views := first_views(report, arranged, notes):
        lines += [f"{head}# Before anything else", ""]
        for view in views:
            lines += _finding(view)
    if first.begin:
        lines += [f"{head}# Before you begin", "", *(f"- [ ] {escape(text)}" for text in first.begin), ""]
    if holds := hold_views(report):
        lines += [f"{head}# {HEADING}", "", EXPLAINED, "", *(f"- [ ] {escape(view.line)}" for view in holds), ""]
    lines += [f"{head}# Steps in the order of work", ""]
    for sheet in sheets(report, arranged, notes):
        lines += _sheet(sheet, head)
    lines += [milder, ""] if milder else []
    if report.accepted or report.accepted_open:
        lines += [f"{head}# Accepted by a waiver", ""]
        for one in report.accepted:
            view = finding_view(single(one.finding), report)
            said = f"**{view.signal.upper()}:** {escape(view.what)}"
            lines += [f"- {said} {escape(waiver_words(one.waiver))} {code(view.id)}"]
        for left in report.accepted_open:
            said = f"**OPEN, {left.practice.signal.upper()}:** {escape(left.practice.title)}."
            lines += [f"- {said} {escape(waiver_words(left.waiver))} {code(left.practice.id)}"]
        lines += [""]
    lines += _foot(report, head)
    return [*lines, *_end(report, head, arranged, note_views(shown)), "", escape(made_by_words(report))]


def _screen(first: First) -> list[str]:
    """The first screen."""
    lines = [f"{escape(first.counts)} {escape(first.left)}".rstrip(), ""]
    if first.start:
        lines += [f"**{escape(first.start)}**", ""]
    if first.missed:
        lines = [f"**{escape(first.missed)}**", "", *lines]
    if first.place:
        lines += [escape(first.place), ""]
    said = [
        (one.signal.upper(), f"{', '.join(one.steps)}{': ' if one.steps else ''}{one.short} [{one.number}]")
        for one in first.dangers[:MOST_DANGERS]
    ]
    said += [("And", first.more(MOST_DANGERS).removeprefix("and "))] if first.more(MOST_DANGERS) else []
    said += [("Not told", text) for text in first.may_be]
    said += [("Today", first.today)] if first.today else []
    said += [("Wait", text) for text in first.not_yet]
    said += [("Wait", first.more_waits)] if first.more_waits else []
    said += [(NOT_YOURS, one.line) for one in first.not_yours]
    said += [("Get", ", ".join(first.get))] if first.get else []
    said += [("Answer", text) for text in first.questions]
    said += [("Answer", f"{first.more_questions}: advisor questions")] if first.more_questions else []
    lines += [f"- {label}: {escape(text)}" for label, text in said]
    return [*lines, ""] if said else lines


def _sheet(sheet: StepSheet, head: str) -> list[str]:
    lines = [f"{head}## Step {sheet.place}. {escape(sheet.step)}", "", f"Planned: {escape(sheet.words)}.", ""]
    if sheet.note:
        lines += [f"Note: {escape(sheet.note)}", ""]
    if sheet.moved:
        lines += [f"Moved: {escape(sheet.moved)}", ""]
    if sheet.account:
        lines += [escape(sheet.account), ""]
    for view in sheet.findings:
        lines += _finding(view)
    if not sheet.findings:
        lines += ["Spoken of at an earlier step." if sheet.elsewhere else "No finding here.", ""]
    return lines


def _finding(view: FindingView) -> list[str]:
    box = "[ ] " if view.hold else ""
    where = f" (at {', '.join(view.steps)})" if len(view.steps) > 1 else ""
    counted = f", counted with {view.told_with}" if view.told_with else ""
    note = f" \\[{view.number}{counted}{', presumed' if view.presumed else ''}\\]" if view.number else ""
    lines = [f"- {box}**{view.signal.upper()}:** {escape(view.what + where)}{note}", ""]
    who = f"Who: {escape(view.who)}. " if view.grave and view.who else ""
    lines += [f"  {who}Why: {escape(view.because)}", ""]
    lines += [f"  {n}. {level}: {escape(text)}" for n, (level, text) in enumerate(view.controls, 1)]
    lines += [""] if view.controls else []
    for number in view.numbers:
        worked = f", worked out as {escape(number.working)}" if number.working else ""
        inputs = f" {escape(' '.join(number.inputs))}" if number.inputs else ""
        lines += [f"  - {escape(number.name)}: {escape(number.value)}{worked}{inputs}"]
    lines += [""] if view.numbers else []
    for chart in view.charts:
        lines += [f"  {escape(chart.summary)}", ""]
        lines += ["  " + row for row in _table(chart.header, chart.rows)] + [""]
    return lines


def _foot(report: Report, head: str) -> list[str]:
    lines: list[str] = []
    if report.schedule is not None:
        lines += [f"{head}# Time and money", "", *(f"- {escape(text)}" for text in summary(report.schedule)), ""]
    if report.questions:
        lines += [f"{head}# Questions, the weightiest first", ""]
        lines += [f"- {escape(text)}" for text in questions(report)]
        more = more_questions(report, COMMANDS.questions)
        lines += ["", escape(more), ""] if more else [""]
    if report.gear:
        lines += [
            f"{head}# What protects you",
            "",
            *(f"- {label}: {escape(said)}" for label, said in gear_lines(report)),
            "",
        ]
    rows, asked = place_rows(report), place_asked(report)
    if rows or asked:
        lines += [f"{head}# {WHERE}", ""]
        lines += [f"- {escape(f'{meaning}: {value}. {source}.')}" for meaning, value, source in rows]
        lines += [""] if rows else []
        lines += [escape(asked), ""] if asked else []
    lines += [f"{head}# What is not judged", "", escape(left_open(report)), ""]
    lines += [escape(gravest_open_words(report)), ""] if report.open else []
    lines += [f"- {escape(ask)} {escape(hangs)}." for ask, hangs in open_by_question(report)]
    lines += [""] if report.open else []
    if unused := unheard_line(report):
        lines += [escape(unused), ""]
    lines += [f"- {escape(line)}" for line in foot_lines(report)]
    lines += [f"- {escape(text)}" for text in change_words(report)]
    lines += [] if lines[-1] == "" else [""]
    return [*lines, f"{head}# Cautions", "", *(f"- {escape(text)}" for text in report.cautions), ""]


def _end(report: Report, head: str, arranged: Arranged, notes: Sequence[NoteView]) -> list[str]:
    """Words, notes, sources."""
    lines: list[str] = []
    said = [f"{e.finding.what} {e.finding.because}" for e in arranged.entries()]
    if words := words_used(said, report.plan.units, report.name):
        lines += [f"{head}# Words", "", *(f"- {escape(word)}: {escape(meaning)}" for word, meaning in words), ""]
    if notes:
        lines += [f"{head}# Notes", ""]
    for note in notes:
        advised = " Follows from advice given here." if note.advised else ""
        rests = f"{note.line}. " if note.line else ""
        rests += "".join(f"{escape(text)} " for text in note.resting)
        sources = "; ".join(link(one) for one in note.sources)
        ids = ", ".join(map(code, note.ids))
        lines += [f"- \\[{note.number}\\] {rests}Sources: {sources}.{advised} Finding: {ids}"]
    lines += [""] if notes else []
    if sources_cited := cited(report):
        said = [f"- {code(key)}: {escape(text)}{f' <{url}>' if url else ''}" for key, text, url in sources_cited]
        lines += [f"{head}# Sources", "", *said]
    return lines


def link(source: SourceView) -> str:
    """A source, linked where the public may read it."""
    return f"[{escape(source.words)}](<{source.url}>)" if source.url else escape(source.words)
