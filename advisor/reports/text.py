"""The report for a person at a terminal: one screen first, then three lines a finding, the rest in notes at the end."""

from __future__ import annotations

import io
import os
import sys
import textwrap
from collections.abc import Sequence
from dataclasses import dataclass

from advisor.reports.arrange import Arranged, Entry, arrange
from advisor.reports.clean import legible
from advisor.reports.data import made_by_words, waiver_words
from advisor.reports.first import LEGEND, First, first_screen
from advisor.reports.notes import Note, bibliography, note_words, numbered, presumes, words_used
from advisor.reports.opened import (
    account_words,
    accounts,
    left_open,
    open_by_question,
    question_words,
    unheard_line,
)
from advisor.reports.schedule_text import argument, report_lines
from advisor.reports.screen import SCREEN, STYLES, WIDTH, Lines, screen_lines
from advisor.reports.unchecked import foot_lines
from advisor.reports.view import QUESTIONS, gear_lines, input_words, short_number, untold
from advisor.review.model import Finding, Number, Report, StepAccount
from advisor.review.who import who_words
from advisor.rulebase.model import CONTROLS, SIGNALS

_CAUTION = SIGNALS.index("caution")


@dataclass(frozen=True, slots=True)
class Shape:
    """What of the report is shown, and how wide."""

    width: int = WIDTH
    lines: int = 0  # at most so many lines; 0: all of the report, 24 for a brief one
    brief: bool = False  # the first screen alone
    every: bool = False  # what stands in notes beside each finding, and all questions
    working: bool = False  # how each number was worked out
    step: str = ""  # one step alone
    only: str = ""  # findings of this signal word and graver


def as_text(report: Report, *, colour: bool = False, shape: Shape = Shape(), get: Sequence[str] | None = None) -> str:
    """The report as text; with colour only on a terminal that wants it. `get`: what to buy, rent or borrow."""
    if get is None:
        from advisor.reports.supplies import to_get

        get = to_get(report)
    first = first_screen(report, get)
    if shape.brief:
        lines = screen_lines(first, shape.width, shape.lines or SCREEN)
    else:
        lines = _Writer(report, shape).whole(first)
    lines = [(legible(text), style) for text, style in lines]
    if shape.lines and len(lines) > shape.lines:
        left = len(lines) - shape.lines + 1
        lines = [*lines[: shape.lines - 1], (f"… and {left} lines more, left out by --lines", "dim")]
    if colour and sys.stdout.isatty() and not os.environ.get("NO_COLOR"):
        return _paint(lines, shape.width)
    return "\n".join(text for text, _ in lines) + "\n"


class _Writer:
    """A report being written, line by line."""

    def __init__(self, report: Report, shape: Shape) -> None:
        self.report, self.shape, self.lines = report, shape, Lines()
        self.arranged = arrange(report)
        self.notes = numbered(self.arranged)
        self.shown: list[Note] = []

    def whole(self, first: First) -> Lines:
        """The screen, what comes before anything else, the steps, and what stands at the end."""
        alone = bool(self.shape.step)
        if alone:
            self.wrap(first.title, "", "bold")
        else:
            self.lines += screen_lines(first, self.shape.width)
        entries = self.kept(self.arranged.first)
        if alone:
            entries = [entry for entry in entries if self.shape.step in entry.steps]
        if entries:
            self.title("BEFORE ANYTHING ELSE")
            for entry in entries:
                self.entry(entry)
        self.title("STEPS IN THE ORDER OF WORK")
        self.wrap(LEGEND, "  ", "dim")
        self.steps(self.arranged)
        if self.shape.only:
            self.left_out()
        if not alone:
            self.accepted()
            self.schedule()
            self.questions()
            self.gear()
            self.foot()
        self.end_notes()
        return self.lines

    def kept(self, entries: list[Entry]) -> list[Entry]:
        """Those of the signal word asked for and graver."""
        least = SIGNALS.index(self.shape.only) if self.shape.only else 0
        return [entry for entry in entries if entry.finding.rank >= least]

    def left_out(self) -> None:
        """How many milder findings are not shown: what is left out must not be forgotten."""
        least = SIGNALS.index(self.shape.only)
        count = sum(entry.finding.rank < least for entry in self.arranged.entries())
        if count:
            self.wrap(f"{count} milder finding{'s' * (count != 1)} left out by --only.", "  ")

    def steps(self, arranged: Arranged) -> None:
        """Steps with something to say in full; quiet ones between them named on one line."""
        report = self.report
        moves = {str(o["step"]): str(o["why"]) for o in report.order if o.get("why")}
        own, quiet = accounts(report), list[str]()
        spoken = {step for entry in arranged.entries() for step in entry.steps}
        for number, (step, every) in enumerate(arranged.steps, 1):
            if self.shape.step and step != self.shape.step:
                continue
            entries, account = self.kept(every), own.get(step)
            if not entries and step not in moves:
                if step in spoken:
                    self.quiet(quiet)
                    self.step(f"{number:>3}. {step}: see above", account)
                    continue
                if account is None or account.known:
                    told = f" ({len(account.met)} met, {len(account.open)} open)" if account and account.concerned else ""
                    quiet.append(f"{number}. {step}{told}")
                    continue
            self.quiet(quiet)
            self.step(f"{number:>3}. {step}", account)
            if step in moves:
                self.wrap(moves[step], "     ")
            for entry in entries:
                self.entry(entry)
        self.quiet(quiet)

    def step(self, title: str, account: StepAccount | None) -> None:
        """The step, and how many practices concern it: on its line where there is room."""
        said = account_words(account) if account is not None else ""
        if said and len(title) + len(said) + 2 <= self.shape.width:
            self.lines.append((f"{title}: {said}" if not title.endswith("above") else f"{title}; {said}", "bold"))
            return
        self.lines.append((title, "bold"))
        if said:
            self.wrap(said, "     ")

    def quiet(self, quiet: list[str]) -> None:
        """The quiet steps that were passed, on one line."""
        if quiet:
            self.wrap(f"No finding at {'; '.join(quiet)}.", "  ", "dim", "  ")
            quiet.clear()

    def entry(self, entry: Entry) -> None:
        """A finding in three lines: what and who; why; numbers. Of a notice what alone."""
        finding, every = entry.finding, self.shape.every
        note = self.notes[id(entry)]
        mark = "[ ] " if finding.kind in ("require", "refer") else "  ! "
        where = f" ({', '.join(entry.steps)})" if len(entry.steps) > 1 else ""
        grave = finding.rank >= _CAUTION
        who = f" Who: {who_words(finding.who)}." if grave and finding.who else ""
        number = f" [{note.number}{', presumed' if presumes(finding) else ''}]"
        self.wrap(f"{mark}{finding.signal.upper()}: {finding.what}{where}{who}{number}", "  ", STYLES[finding.signal], "    ")
        self.shown.append(note)
        if grave or every:
            self.wrap(finding.because, "      ")
        self.numbers(finding)
        if every:
            ordered = sorted(finding.controls, key=lambda c: CONTROLS.index(c[0]))
            for level, text in ordered:
                self.wrap(f"{level}: {text}", "      - ")
            self.wrap(note_words(note), "      ", "dim")

    def numbers(self, finding: Finding) -> None:
        """The numbers on one line, those left out that stand in the sentences; with their working on request."""
        units = self.report.plan.units
        if self.shape.working:
            for one in finding.numbers:
                self.wrap(number_line(one, units), "      - ")
                if said := input_words(one):
                    self.wrap("; ".join(said), "        from ", "dim")
            return
        numbers = [n for n in finding.numbers if n.working is not None or n.place is not None]
        if not self.shape.every:
            numbers = untold(finding, units)
        if numbers:
            self.wrap("; ".join(short_number(n, units) for n in numbers), "      = ")

    def accepted(self) -> None:
        """What a waiver accepts."""
        report = self.report
        if report.accepted or report.accepted_open:
            self.title("ACCEPTED BY A WAIVER")
        for one in report.accepted:
            where = f" ({one.finding.step})" if one.finding.step else ""
            self.wrap(f"{one.finding.signal.upper()}: {one.finding.what}{where}", "  - ")
            self.wrap(f"{waiver_words(one.waiver)} [{one.finding.rule}]", "    ")
        for left in report.accepted_open:
            where = f" ({left.practice.step})" if left.practice.step else ""
            self.wrap(f"Open, {left.practice.signal}: {left.practice.title}{where}", "  - ")
            self.wrap(f"{waiver_words(left.waiver)} [{left.practice.rule}]", "    ")

    def schedule(self) -> None:
        """Time and money."""
        if shown := report_lines(self.report, self.shape.width):
            self.title("TIME AND MONEY")
            self.lines.extend((line, "") for line in shown)

    def questions(self) -> None:
        """The weightiest questions with what they decide."""
        asked = self.report.questions
        most = len(asked) if self.shape.every else QUESTIONS
        if asked:
            self.title("QUESTIONS, THE WEIGHTIEST FIRST")
        for question in asked[:most]:
            self.wrap(question_words(question), "  - ")
        if len(asked) > most:
            self.lines.append((f"  and {len(asked) - most} more: advisor questions {argument(self.report)}", ""))

    def gear(self) -> None:
        """What protects you: what is there, what to get."""
        if not self.report.gear:
            return
        self.title("WHAT PROTECTS YOU")
        for label, said in gear_lines(self.report):
            self.wrap(said, f"  {label:<5}")
        self.lines.append((f"  All that is to get, in amounts: advisor supplies {argument(self.report)}", ""))

    def foot(self) -> None:
        """What is not judged, and the cautions."""
        report = self.report
        said = [left for left in (left_open(report), unheard_line(report)) if left]
        said += foot_lines(report)
        said += [f"Rule {c.rule} was {c.how} by {c.pack}: {c.reason}" for c in report.changes]
        self.title("WHAT IS NOT JUDGED")
        for text in said:
            self.wrap(text, "  ")
        if self.shape.every:
            for ask, hangs in open_by_question(report):
                self.wrap(f"{ask} {hangs}.", "  - ")
        self.title("CAUTIONS")
        for caution in report.cautions:
            self.wrap(caution, "  - ")

    def end_notes(self) -> None:
        """Words explained, notes, sources."""
        if words := words_used([text for text, _ in self.lines]):
            self.title("WORDS")
            for word, meaning in words:
                self.wrap(f"{word}: {meaning}.", "  ", "", "  ")
        if self.shown and not self.shape.every:
            self.title("NOTES")
            for note in self.shown:
                self.wrap(note_words(note), f"  [{note.number}] ", "dim")
        cited = {source.key for note in self.shown for source in note.sources}
        if books := [source for source in bibliography([self.report]) if source.key in cited]:
            self.title("SOURCES")
            for source in books:
                self.wrap(f"{source.key}: {source.citation}{f' {source.url}' if source.url else ''}", "  ", "dim", "  ")
        self.lines.append(("", ""))
        self.lines.append((made_by_words(self.report), "dim"))

    def title(self, text: str) -> None:
        """A heading with a line below."""
        self.lines.extend([("", ""), (text, "bold"), ("-" * len(text), "")])

    def wrap(self, text: str, indent: str, style: str = "", hang: str = "") -> None:
        """Text wrapped to the width, its further lines under the first."""
        blank = " " * len(indent) + hang
        wrapped = textwrap.wrap(
            text, self.shape.width, initial_indent=indent, subsequent_indent=blank, break_on_hyphens=False
        )
        self.lines.extend((line, style) for line in wrapped)


def number_line(number: Number, units: str) -> str:
    """A number with its working on one line."""
    text = short_number(number, units)
    return f"{text} = {number.working.working(units).rsplit(' = ', 1)[0]}" if number.working else text


def _paint(lines: Lines, width: int) -> str:
    from rich.console import Console
    from rich.text import Text

    out = io.StringIO()
    console = Console(file=out, force_terminal=True, width=max(width, 20), highlight=False, soft_wrap=True)
    for text, style in lines:
        console.print(Text(text, style=style), end="\n")
    return out.getvalue()
