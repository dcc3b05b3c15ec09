"""Findings as a table for a spreadsheet (RFC 4180). No cell can start a formula."""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence

from advisor.errors import Problem
from advisor.reports.clean import legible
from advisor.reports.data import number_name
from advisor.reports.notes import resting, source_words
from advisor.review.asked import OpenPractice
from advisor.review.finding import Finding
from advisor.review.model import Report
from advisor.review.set_aside import Waiver
from advisor.review.told_once import told
from advisor.showing import show

HEADER = (
    "plan", "line", "finding", "rule", "title", "kind", "signal", "step", "what", "because",
    "controls", "numbers", "rests on", "sources", "advised", "status", "reason", "by", "until", "who", "made by",
    "group",
)  # fmt: skip
# What spreadsheets read as the start of a formula, also in its full width.
_FORMULA = ("=", "+", "-", "@", "＝", "＋", "－", "＠")


def as_csv(reports: Sequence[Report], problems: Sequence[Problem] = ()) -> str:
    """One row a finding; accepted ones and plans that could not be read have their status in `status`."""
    rows: list[Sequence[object]] = [HEADER]
    for report in reports:
        shown = told(report.findings, report.plan)
        first = {finding.rule: finding.id for finding in reversed(shown)}  # of each practice
        rows += [_row(report, finding, None, first[finding.rule]) for finding in shown]
        rows += [_row(report, one.finding, one.waiver) for one in report.accepted]
        for missed in report.missed():
            row = dict.fromkeys(HEADER, "") | {"plan": report.plan.file, "rule": missed.rule, "title": missed.title}
            row |= {"signal": missed.signal, "what": f"Not checked: {missed.message}.", "status": "not checked"}
            rows.append(tuple(row.values()))
        asked = {question.name: question.ask for question in report.questions}
        rows += [_open_row(report, one, None, asked) for one in report.open]
        rows += [_open_row(report, one.practice, one.waiver, asked) for one in report.accepted_open]
    for report in reports:
        if report.left_out:
            row = dict.fromkeys(HEADER, "") | {"plan": report.plan.file, "what": report.left_out.told}
            rows.append(tuple((row | {"status": "left out", "made by": made_by(report)}).values()))
    for change in sorted({change for report in reports for change in report.changes}, key=lambda c: c.rule):
        row = dict.fromkeys(HEADER, "") | {"rule": change.rule, "status": f"rule {change.how}", "by": change.pack}
        rows.append(tuple((row | {"reason": change.reason}).values()))
    for problem in problems:
        row = dict.fromkeys(HEADER, "") | {"plan": problem.file, "line": str(problem.line or "")}
        rows.append(tuple((row | {"what": problem.message, "status": "cannot be read"}).values()))
    return table(rows)


def table(rows: Iterable[Sequence[object]]) -> str:
    """Rows as CSV text with every cell neutralised."""
    import csv  # what names the columns of others needs no writer

    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerows([cell(str(value)) for value in row] for row in rows)
    return out.getvalue()


def cell(text: str) -> str:
    """Text that a spreadsheet takes as text: an apostrophe goes before what would start a formula."""
    clean = legible(text)
    return f"'{clean}" if clean.lstrip().startswith(_FORMULA) else clean


def made_by(report: Report) -> str:
    """Version and rules in one cell."""
    return " ".join(one for one in report.made_by if one)


def _row(report: Report, finding: Finding, waiver: Waiver | None, group: str = "") -> tuple[object, ...]:
    """A finding; `group` is the first finding of its practice: those with the same one are counted once."""
    units = report.plan.units
    numbers = [f"{number_name(n, units)} {show(n.value, n.dimension, units).text}" for n in finding.numbers]
    return (
        report.plan.file, finding.step_line or "", finding.id, finding.rule, finding.title, finding.kind,
        finding.signal, finding.step or "", finding.what, finding.because,
        "; ".join(f"{level}: {text}" for level, text in finding.controls), "; ".join(numbers),
        " ".join(resting(finding)), "; ".join(source_words(s) for s in finding.sources),
        "yes" if finding.advised else "no", "accepted" if waiver else "speaks",
        waiver.reason if waiver else "", waiver.by if waiver else "",
        waiver.until.isoformat() if waiver and waiver.until else "", finding.who, made_by(report), group or finding.id,
    )  # fmt: skip


def _open_row(report: Report, one: OpenPractice, waiver: Waiver | None, asked: dict[str, str]) -> tuple[object, ...]:
    """A practice that is open: what would be asked stands where a finding says what to do."""
    row = dict.fromkeys(HEADER, "") | {"plan": report.plan.file, "line": str(one.line or ""), "finding": one.id}
    row |= {"rule": one.rule, "title": one.title, "kind": "open", "signal": one.signal, "step": one.step or ""}
    row["what"] = " ".join(asked[name] for name in one.asks[:2] if name in asked)
    row["status"] = "accepted" if waiver else "open"
    row["made by"] = made_by(report)
    if waiver:
        row |= {"reason": waiver.reason, "by": waiver.by, "until": waiver.until.isoformat() if waiver.until else ""}
    return tuple(row.values())
