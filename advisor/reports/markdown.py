"""The report as Markdown (CommonMark, with tables): for a review in writing."""

from __future__ import annotations

import re
from collections.abc import Sequence

from advisor.errors import Problem
from advisor.reports.answered import EXPLAINED, HEADING, hold_views
from advisor.reports.arrange import single
from advisor.reports.clean import legible
from advisor.reports.data import waiver_words
from advisor.reports.opened import also_open, left_open, open_by_question, silence, unheard_line
from advisor.reports.schedule_text import summary
from advisor.reports.text import first_thing, headline
from advisor.reports.totals import plan_row, totals_line
from advisor.reports.unchecked import foot_lines, head_words
from advisor.reports.view import (
    FindingView,
    Sheet,
    change_words,
    cited,
    finding_view,
    first_views,
    more_questions,
    questions,
    sheets,
)
from advisor.review.model import Report

_ACTIVE = re.compile(r"([\\`*_\[\]<>&|~$#])")
_LINK = re.compile(r"(?i)\b(https?|ftp|mailto)(?=:)|\b(www)(?=\.)")


def as_markdown(reports: Sequence[Report], problems: Sequence[Problem] = ()) -> str:
    """One document for one report or many."""
    if len(reports) == 1 and not problems:
        return "\n".join(_report(reports[0], 1)) + "\n"
    lines = ["# Plans reviewed before the work", "", escape(totals_line(reports, problems)), ""]
    header = ("Plan", "Danger", "Warning", "Caution", "Notice", "Accepted", "Open", "Do this first")
    lines += _table(header, [plan_row(report) for report in reports])
    if problems:
        lines += ["", "## Plans that were not reviewed", "", *(f"- {escape(str(p))}" for p in problems)]
    for report in reports:
        lines += ["", *_report(report, 2)]
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


def _report(report: Report, level: int) -> list[str]:
    head = "#" * level
    first = first_thing(report)
    lines = [f"{head} {escape(report.plan.title or report.plan.file)}", ""]
    if told := head_words(report):
        lines += [f"**{escape(told)}**", ""]
    if first:
        lines += [f"Checked before the work: {headline(report)}. Plan: {code(report.plan.file)}.", ""]
        lines += [escape(also_open(report)), ""] if also_open(report) else []
        lines += [f"**Do this first:** {escape(first.what)}", ""]
    else:
        lines += [f"**{escape(silence(report))}** Plan: {code(report.plan.file)}.", ""]
    if views := first_views(report):
        lines += [f"{head}# Before anything else", ""]
        for view in views:
            lines += _finding(view)
    if holds := hold_views(report):
        lines += [f"{head}# {HEADING}", "", EXPLAINED, "", *(f"- [ ] {escape(view.line)}" for view in holds), ""]
    lines += [f"{head}# Steps in the order of work", ""]
    for sheet in sheets(report):
        lines += _sheet(sheet, head)
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
    return lines + _foot(report, head)


def _sheet(sheet: Sheet, head: str) -> list[str]:
    lines = [f"{head}## Step {sheet.place}. {escape(sheet.step)}", "", f"Planned: {escape(sheet.words)}.", ""]
    if sheet.note:
        lines += [f"Note: {escape(sheet.note)}", ""]
    if sheet.moved:
        lines += [f"Moved: {escape(sheet.moved)}", ""]
    if sheet.account:
        lines += [f"Practices: {escape(sheet.account)}", ""]
    for view in sheet.findings:
        lines += _finding(view)
    if not sheet.findings:
        lines += ["Spoken of at an earlier step." if sheet.elsewhere else "No finding here.", ""]
    return lines


def _finding(view: FindingView) -> list[str]:
    box = "[ ] " if view.hold else ""
    where = f" (at {', '.join(view.steps)})" if len(view.steps) > 1 else ""
    lines = [f"- {box}**{view.signal.upper()}:** {escape(view.what + where)}", ""]
    if view.to:
        lines += [f"  Work for: {escape(view.to)}.", ""]
    lines += [f"  Why: {escape(view.because)}", ""]
    lines += [f"  {n}. {level}: {escape(text)}" for n, (level, text) in enumerate(view.controls, 1)]
    lines += [""] if view.controls else []
    for number in view.numbers:
        worked = f", worked out as {escape(number.working)}" if number.working else ""
        lines += [f"  - {escape(number.name)}: {escape(number.value)}{worked}"]
    lines += [""] if view.numbers else []
    for chart in view.charts:
        lines += [f"  {escape(chart.summary)}", ""]
        lines += ["  " + row for row in _table(chart.header, chart.rows)] + [""]
    for text in view.resting:
        lines += [f"  Rests on this. {escape(text)}", ""]
    advised = "; follows from advice given here" if view.advised else ""
    sources = escape("; ".join(view.sources))
    return [*lines, f"  Sources: {sources}{advised}. Finding: {', '.join(map(code, view.ids))}", ""]


def _foot(report: Report, head: str) -> list[str]:
    lines: list[str] = []
    if report.schedule:
        lines += [f"{head}# Time and money", "", *(f"- {escape(text)}" for text in summary(report.schedule)), ""]
    if report.questions:
        lines += [f"{head}# Questions, the weightiest first", ""]
        lines += [f"- {escape(text)}" for text in questions(report)]
        lines += ["", escape(more_questions(report)), ""] if more_questions(report) else [""]
    if report.gear:
        rows = [(g.gear, "have" if g.owned else "GET", ", ".join(g.steps), g.because) for g in report.gear]
        lines += [f"{head}# What protects you", "", *_table(("Gear", "Have it?", "For", "Why"), rows), ""]
    lines += [f"{head}# What is not judged", "", escape(left_open(report)), ""]
    lines += [f"- {escape(ask)} {escape(hangs)}." for ask, hangs in open_by_question(report)]
    lines += [""] if report.open else []
    if unused := unheard_line(report):
        lines += [escape(unused), ""]
    lines += [f"- {escape(line)}" for line in foot_lines(report)]
    lines += [f"- {escape(text)}" for text in change_words(report)]
    if sources := cited(report):
        lines += ([] if lines[-1] == "" else [""]) + [
            f"{head}# Sources",
            "",
            *(f"- {code(key)}: {escape(text)}" for key, text in sources),
        ]
    return [*lines, "", f"{head}# Cautions", "", *(f"- {escape(text)}" for text in report.cautions)]
