"""The end of the report at a terminal: what is accepted, time, questions, gear, cautions, words, notes, sources."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.reports.answered import EXPLAINED, HEADING, hold_views
from advisor.reports.data import made_by_words, waiver_words
from advisor.reports.not_yours import HEADING as NOT_YOURS
from advisor.reports.not_yours import Theirs
from advisor.reports.notes import Note, bibliography, note_words, public_url, words_below
from advisor.reports.opened import (
    also_open,
    gravest_open_words,
    left_open,
    open_by_question,
    question_words,
    unheard_line,
)
from advisor.reports.place import HEADING as WHERE
from advisor.reports.place import place_asked, place_rows
from advisor.reports.schedule_text import argument, report_lines
from advisor.reports.screen import Lines
from advisor.reports.unchecked import foot_lines
from advisor.reports.view import QUESTIONS, gear_lines
from advisor.reports.wrapped import wrapped
from advisor.review.model import Report


class Writer:
    """A report being written, line by line."""

    def __init__(self, report: Report, width: int) -> None:
        self.report, self.width, self.lines = report, width, Lines()

    def title(self, text: str, told: str = "") -> None:
        """A heading; `told` on its line, where there is room."""
        self.lines.append(("", ""))
        if told and len(text) + len(told) + 2 > self.width:
            self.lines.append((text, "bold"))
            self.wrap(told, "  ", "dim")
        else:
            self.lines.append((f"{text}  {told}".rstrip(), "bold"))

    def wrap(self, text: str, indent: str, style: str = "", hang: str = "") -> None:
        """Text wrapped to the width, its further lines under the first."""
        blank = " " * len(indent) + hang
        self.lines.extend([(line, style) for line in wrapped(text, self.width, indent, blank)])

    def height(self, text: str) -> int:
        """How many lines a finding of that text takes."""
        return len(wrapped(text, self.width - 6))


def theirs(w: Writer, found: Sequence[Theirs]) -> None:
    """Who else is to do what, and when, to tick when it is agreed."""
    if found:
        w.wrap(f"{NOT_YOURS}: call, and have there at the time.", "  ", "bold")
    for one in found:
        w.wrap(f"{one.line}.", "  [ ] ")


def holds(w: Writer) -> None:
    """What is still to get and to find out, to tick."""
    if views := hold_views(w.report):
        w.title(HEADING.upper())
        w.wrap(EXPLAINED, "  ", "dim")
    for view in views:
        w.wrap(view.line, "  [ ] ")


def accepted(w: Writer) -> None:
    """What a waiver accepts."""
    report = w.report
    if report.accepted or report.accepted_open:
        w.title("ACCEPTED BY A WAIVER")
    for one in report.accepted:
        where = f" ({one.finding.step})" if one.finding.step else ""
        w.wrap(f"{one.finding.signal.upper()}: {one.finding.what}{where}", "  - ")
        w.wrap(f"{waiver_words(one.waiver)} [{one.finding.rule}]", "    ")
    for left in report.accepted_open:
        where = f" ({left.practice.step})" if left.practice.step else ""
        w.wrap(f"Open, {left.practice.signal}: {left.practice.title}{where}", "  - ")
        w.wrap(f"{waiver_words(left.waiver)} [{left.practice.rule}]", "    ")


def schedule(w: Writer) -> None:
    """Time and money."""
    if shown := report_lines(w.report, w.width):
        w.title("TIME AND MONEY")
        w.lines.extend((line, "") for line in shown)


def questions(w: Writer, every: bool) -> None:
    """The weightiest questions with what they decide."""
    asked = w.report.questions
    most = len(asked) if every else QUESTIONS
    if asked:
        w.title("QUESTIONS, THE WEIGHTIEST FIRST")
    if len(asked) > most:
        heading = f"{w.lines.pop()[0]} ({most} of {len(asked)}). All: advisor questions"
        whole = f"{heading} {argument(w.report)}"
        w.wrap(whole if len(whole) <= w.width else heading, "", "bold")
    for question in asked[:most]:
        w.wrap(question_words(question), "  - ")
    w.wrap(gravest_open_words(w.report), "  ")


def gear(w: Writer) -> None:
    """What protects you: what is there, what to get."""
    if not w.report.gear:
        return
    w.title("WHAT PROTECTS YOU")
    for label, own in gear_lines(w.report):
        w.wrap(own if label == "have" else f"{own} In amounts: advisor supplies.", f"  {label:<5}")


def gear_there(w: Writer) -> None:
    """The same on a line below the finding that names what to get."""
    there = "".join(f" You have: {own}" for label, own in gear_lines(w.report) if label == "have")
    w.wrap(f"Amounts to get: advisor supplies.{there}", "      ")


def place(w: Writer, every: bool) -> None:
    """What is known of the country, where it is another than that of the rules, and what is to be asked there."""
    rows, asked = place_rows(w.report), place_asked(w.report)
    if rows or asked:
        w.title(WHERE.upper())
    for meaning, value, source in rows:
        w.wrap(f"{meaning}: {value}." + (f" {source}." if every else ""), "  ", "", "  ")
    if asked:
        w.wrap(asked, "  ")


def foot(w: Writer, every: bool) -> None:
    """What is not judged, and the cautions."""
    report = w.report
    said = [left for left in (left_open(report), unheard_line(report)) if left]
    said = [left for left in said if left != also_open(report)]  # the first screen says that
    said += foot_lines(report)
    said += [f"Rule {c.rule} was {c.how} by {c.pack}: {c.reason}" for c in report.changes]
    if said or every:
        w.title("WHAT IS NOT JUDGED")
    for text in said:
        w.wrap(text, "  ")
    if every:
        for ask, hangs in open_by_question(report):
            w.wrap(f"{ask} {hangs}.", "  - ")
    w.title("CAUTIONS")
    w.wrap(" ".join(report.cautions), "  ")


def end_notes(w: Writer, shown: Sequence[Note], beside: bool) -> None:
    """Words explained, notes, sources."""
    blank_then_heading = 2
    for number, line in enumerate(words_below([text for text, _ in w.lines], w.report, w.width)):
        w.lines.append((line, "bold" if number < blank_then_heading else ""))
    if shown and not beside:
        w.title("NOTES")
        for note in shown:
            w.wrap(note_words(note), f"  [{note.number}] ", "dim")
    cited = {source.key for note in shown for source in note.sources}
    if books := [source for source in bibliography([w.report]) if source.key in cited]:
        w.title("SOURCES")
        for source in books:
            w.wrap(f"{source.key}: {source.citation} {public_url(source)}".rstrip(), "  ", "dim", "  ")
    w.lines.append(("", ""))
    w.wrap(made_by_words(w.report), "", "dim")
