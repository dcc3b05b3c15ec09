"""The report for a person at a terminal: one screen first, then three lines a finding, the rest in notes at the end."""

from __future__ import annotations

import io
import os
import sys
from collections.abc import Sequence

from msgspec import Struct

from advisor.reports import text_end
from advisor.reports.arrange import Arranged, Entry, arrange, left_out_words
from advisor.reports.begin import off_lines
from advisor.reports.clean import legible
from advisor.reports.first import LEGEND, First, first_screen
from advisor.reports.notes import Note, note_words, numbered, presumes
from advisor.reports.opened import (
    account_words,
    accounts,
)
from advisor.reports.said_short import harm_told, sentence, sentences
from advisor.reports.screen import SCREEN, STYLES, WIDTH, Lines, explained, screen_lines
from advisor.reports.screen_words import screen_words
from advisor.reports.text_end import Writer
from advisor.reports.view import input_words, short_number, untold
from advisor.review.asked import RulesOfStep
from advisor.review.finding import Figure, Finding
from advisor.review.model import Report
from advisor.review.who import who_words
from advisor.rulebase.model import CONTROLS, SIGNALS

_SAYS_LITTLE = 45  # letters: a shorter sentence names a cause and no loss
_CAUTION = SIGNALS.index("caution")


class Shape(Struct, frozen=True):
    """What of the report is shown, and how wide."""

    width: int = WIDTH
    lines: int = 0  # at most so many lines; 0: all of the report, 24 for a brief one
    brief: bool = False  # the first screen alone
    every: bool = False  # what stands in notes beside each finding, and all questions
    working: bool = False  # how each number was worked out
    step: str = ""  # one step alone
    only: str = ""  # findings of this signal word and graver


WHOLE = Shape()


def as_text(report: Report, *, colour: bool = False, shape: Shape = WHOLE, get: Sequence[str] | None = None) -> str:
    """The report as text; with colour only on a terminal that wants it. `get`: what to buy, rent or borrow."""
    if get is None:
        from advisor.reports.supplies import to_get

        get = to_get(report)
    first = first_screen(report, get, "" if shape.step else shape.only)
    if shape.brief:
        lines = screen_lines(first, shape.width, shape.lines or SCREEN, report.plan.units)
        lines += explained(lines, shape.width, (shape.lines or SCREEN) - len(lines), report.plan.units, first.title)
    else:
        lines = _Writer(report, shape).whole(first)
    lines = [(legible(text), style) for text, style in lines]
    if shape.lines and len(lines) > shape.lines:
        left = len(lines) - shape.lines + 1
        lines = [*lines[: shape.lines - 1], (f"… and {left} lines more, left out by --lines", "dim")]
    if colour and sys.stdout.isatty() and not os.environ.get("NO_COLOR"):
        return _paint(lines, shape.width)
    return "\n".join(text for text, _ in lines) + "\n"


class _Writer(Writer):
    """A report being written, line by line."""

    def __init__(self, report: Report, shape: Shape) -> None:
        super().__init__(report, shape.width)
        self.shape = shape
        self.arranged = arrange(report)
        self.notes = numbered(self.arranged)
        self.shown: list[Note] = []
        self.first_told: dict[str, int] = {}  # a reason or who does it, and the note of the finding that told it first

    def whole(self, first: First) -> Lines:
        """The screen, what comes before anything else, the steps, and what stands at the end."""
        alone = bool(self.shape.step)
        if alone:
            self.wrap(first.title, "", "bold")
            self.about()
        else:
            self.lines += screen_lines(first, self.shape.width, units=self.report.plan.units)
        entries = self.kept(self.arranged.first)
        if alone:
            entries = [entry for entry in entries if self.shape.step in entry.steps]
        begin = [] if alone else off_lines(self.report)
        theirs = () if alone else first.not_yours
        if entries or begin or theirs:
            self.title("BEFORE ANYTHING ELSE", LEGEND)
        text_end.theirs(self, theirs)
        for entry in entries:
            self.entry(entry, apart=True)
            if not alone and self.gear_told() == self.shown[-1].number:
                text_end.gear_there(self)
        for text in begin:
            self.wrap(text, "  [ ] ")
        if not alone and not self.shape.only:
            text_end.holds(self)
        legend = "" if entries or begin or theirs else LEGEND  # told once
        self.title("WHAT IS SAID OF IT" if alone else "STEPS IN THE ORDER OF WORK", legend)
        self.steps(self.alone() if alone else self.arranged)
        if self.shape.only:
            self.left_out()
        if not alone:
            self.end()
        text_end.end_notes(self, self.shown, self.shape.every)
        return self.lines

    def end(self) -> None:
        """What stands behind the steps; with `only` no more than was asked for: the rest of it is counted."""
        every = self.shape.every
        text_end.accepted(self)
        if not self.shape.only:
            text_end.schedule(self)
            text_end.questions(self, every)
            if every or not self.gear_told():
                text_end.gear(self)
            text_end.place(self, every)
        text_end.foot(self, every)

    def about(self) -> None:
        """What one step alone takes: its time, its supplies, what must hold before it."""
        from advisor.reports.one_step import about_step

        for title, said in about_step(self.report, self.shape.step):
            self.title(title)
            for text in said:
                self.wrap(text, "  - " if len(said) > 1 else "  ")

    def alone(self) -> Arranged:
        """All that is said of the one step asked for, also what the whole report tells at another step."""
        step = self.shape.step
        shared = [entry for _, entries in self.arranged.steps for entry in entries if step in entry.steps]
        return Arranged([], [(one, shared if one == step else []) for one, _ in self.arranged.steps])

    def kept(self, entries: list[Entry]) -> list[Entry]:
        """Those of the signal word asked for and graver."""
        least = SIGNALS.index(self.shape.only) if self.shape.only else 0
        return [entry for entry in entries if entry.finding.rank >= least]

    def left_out(self) -> None:
        """How many milder findings are not shown: what is left out must not be forgotten."""
        least = SIGNALS.index(self.shape.only)
        step = self.shape.step
        own = [entry for entry in self.arranged.entries() if not step or step in entry.steps]
        count = sum(entry.finding.rank < least for entry in own)
        if count:
            self.wrap(left_out_words(count), "  ")
        if not step:
            self.wrap("Time, questions and what to get are left out, too.", "  ")

    def steps(self, arranged: Arranged) -> None:
        """Steps with something to say in full; quiet ones between them named on one line."""
        report = self.report
        moves = {o.step: o.why for o in report.order if o.why}
        own, quiet = accounts(report), list[str]()
        spoken = {step for entry in self.kept(arranged.entries()) for step in entry.steps}
        milder = {step for entry in arranged.entries() for step in entry.steps} - spoken
        for number, (step, every) in enumerate(arranged.steps, 1):
            if self.shape.step and step != self.shape.step:
                continue
            entries, account = self.kept(every), own.get(step)
            if not entries and step not in moves:
                if step in spoken:
                    self.quiet(quiet)
                    self.step(f"{number:>3}. {step}: see above", account)
                    continue
                if step in milder:
                    self.quiet(quiet)
                    self.step(f"{number:>3}. {step}: milder findings alone, left out by --only", None)
                    continue
                if account is None or account.known:
                    told = f" ({len(account.open)} not judged yet)" if account and account.concerned else ""
                    quiet.append(f"{number}. {step}{told}")
                    continue
            self.quiet(quiet)
            self.step(f"{number:>3}. {step}", account)
            if step in moves:
                room = 2 * (self.shape.width - 5)
                self.wrap(moves[step] if self.shape.every else sentences(moves[step], room), "     ")
            for entry in entries:
                self.entry(entry)
        self.quiet(quiet)

    def step(self, title: str, account: RulesOfStep | None) -> None:
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

    def entry(self, entry: Entry, *, apart: bool = False) -> None:
        """A finding in three lines: what; who and why; numbers. What is milder than a warning stands in one.

        `apart` from the steps each names its own.
        """
        finding, every = entry.finding, self.shape.every
        note = self.notes[id(entry)]
        mark = "[ ] " if finding.kind in ("require", "refer") else "  ! "
        named = [step for step in entry.steps if step]
        where = f" ({', '.join(named)})" if len(entry.steps) > 1 or (apart and named) else ""
        grave = finding.rank >= _CAUTION
        who = f"Who: {who_words(finding.who, self.report.plan.units)}." if grave and finding.who else ""
        counted = f", counted with {entry.told_with}" if entry.told_with else ""
        number = f" [{note.number}{counted}{', presumed' if presumes(finding) else ''}]"
        text = f"{mark}{finding.signal.upper()}: {finding.what}{where}"
        whole = every or bool(self.shape.step)  # one step alone has the room
        why = finding.because if whole or finding.rank > _CAUTION else harm_told(finding.because)
        if not whole and grave:
            why, who = self.told(finding.because, why, "Why: see", note), self.told(who, who, "Who: as at", note)
        beside = f"{who} {why}".strip()
        in_one = not whole and (finding.rank <= _CAUTION or why.startswith("Why: see"))
        if not whole and finding.signal == "warning":  # a danger's reason has its own line, a warning's where it fits
            in_one = self.height(f"{text}{number} {beside}") < self.height(text + number) + self.height(beside)
        style = STYLES[finding.signal]
        if in_one and grave:
            self.wrap(f"{text}{number} {beside}", "  ", style, "    ")
        elif in_one:
            self.wrap(f"{self.filled(text, finding.because, number)}{number}", "  ", style, "    ")
        else:
            self.wrap(f"{text}{number}", "  ", style, "    ")
            self.wrap(beside, "      ")
        self.shown.append(note)
        if grave or every or self.shape.working or self.shape.step:
            self.numbers(finding)
        if every:
            ordered = sorted(finding.controls, key=lambda c: CONTROLS.index(c[0]))
            for level, text in ordered:
                self.wrap(f"{level}: {text}", "      - ")
            self.wrap(note_words(note), "      ", "dim")

    def filled(self, text: str, because: str, number: str) -> str:
        """A notice and its reason, in a sentence where more would take more lines and the sentence says enough."""
        first = sentence(because)
        said, whole = f"{text} {first}", f"{text} {harm_told(because)}"
        more = 1 if len(first) < _SAYS_LITTLE else 0
        return whole if self.height(whole + number) <= self.height(said + number) + more else said

    def told(self, text: str, said: str, see: str, note: Note) -> str:
        """What is said of the text: itself once, after that where it was told, if that spares a reader half a line."""
        first = self.first_told.setdefault(text, note.number)
        spares = len(said) - len(see) >= self.shape.width // 2
        return f"{see} [{first}]." if first != note.number and spares else said

    def gear_told(self) -> int:
        """The note of the finding that names all the gear to get, where it is shown; 0 for none."""
        return next((note.number for note in self.shown if note.ids == (screen_words()["names_gear"],)), 0)

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


def number_line(number: Figure, units: str) -> str:
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
