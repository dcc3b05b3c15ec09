"""The report for a person at a terminal: 80 columns, short enough to act on."""

from __future__ import annotations

import io
import os
import sys
import textwrap

from advisor.plan.model import Basis, things
from advisor.reports.answered import EXPLAINED, HEADING, hold_views
from advisor.reports.arrange import Entry, arrange
from advisor.reports.clean import legible
from advisor.reports.data import number_name, waiver_words
from advisor.reports.opened import (
    MOST_QUESTIONS,
    account_words,
    accounts,
    also_open,
    left_open,
    not_judged,
    question_words,
    silence,
    unheard_line,
)
from advisor.reports.schedule_text import argument, report_lines, tight
from advisor.reports.unchecked import NOT_SETTLED, foot_lines, head_words, headline_addition
from advisor.review.gathered import told
from advisor.review.model import Finding, Gear, Number, Report, StepAccount
from advisor.units import both

WIDTH = 80
Lines = list[tuple[str, str]]  # text, style
_STYLES = {"danger": "bold white on red", "warning": "bold yellow", "caution": "yellow", "notice": "cyan"}


def as_text(report: Report, *, colour: bool = False, width: int = WIDTH, working: bool = False) -> str:
    """The report as text; with colour only on a terminal that wants it, with each number's working on request."""
    lines: Lines = []
    arranged = arrange(report)
    _head(lines, report, width)
    if arranged.first:
        _title(lines, "BEFORE ANYTHING ELSE")
        for entry in arranged.first:
            _entry(lines, entry, report, width, working)
    _holds(lines, report, width)
    _title(lines, "STEPS IN THE ORDER OF WORK")
    moves = {str(o["step"]): str(o["why"]) for o in report.order if o.get("why")}
    above = {step for entry in arranged.first for step in entry.steps}
    _steps(lines, arranged.steps, moves, above, report, width, working)
    _accepted(lines, report, width)
    _schedule(lines, report, width)
    _questions(lines, report, width)
    _gear(lines, report.gear, width)
    _foot(lines, report, width)
    lines = [(legible(text), style) for text, style in lines]
    if colour and sys.stdout.isatty() and not os.environ.get("NO_COLOR"):
        return _paint(lines)
    return "\n".join(text for text, _ in lines) + "\n"


def _holds(lines: Lines, report: Report, width: int) -> None:
    """What is still to get and to find out, to tick."""
    views = hold_views(report)
    if views:
        _title(lines, HEADING.upper())
        _wrap(lines, EXPLAINED, width, "  ", "dim")
    for view in views:
        _wrap(lines, view.line, width, "  [ ] ")


def _steps(
    lines: Lines,
    steps: list[tuple[str, list[Entry]]],
    moves: dict[str, str],
    above: set[str],
    report: Report,
    width: int,
    working: bool,
) -> None:
    """Steps with something to say in full; quiet ones between them named on one line."""
    quiet: list[str] = []
    own = accounts(report)
    spoken = above | {step for _, entries in steps for entry in entries for step in entry.steps}
    for number, (step, entries) in enumerate(steps, 1):
        if not entries and step not in moves:
            if step in spoken:
                _flush(lines, quiet, width)
                _step(lines, f"{number:>3}. {step}: see above", own.get(step), width)
                continue
            account = own.get(step)
            if account is None or account.known:
                told = f" ({len(account.met)} met, {len(account.open)} open)" if account and account.concerned else ""
                quiet.append(f"{number}. {step}{told}")
                continue
        _flush(lines, quiet, width)
        _step(lines, f"{number:>3}. {step}", own.get(step), width)
        if step in moves:
            _wrap(lines, moves[step], width, "     ")
        for entry in entries:
            _entry(lines, entry, report, width, working)
    _flush(lines, quiet, width)


def _step(lines: Lines, title: str, account: StepAccount | None, width: int) -> None:
    """The step, and how many practices concern it."""
    lines.append((title, "bold"))
    if account is not None:
        _wrap(lines, account_words(account), width, "     ", "dim" if account.known else "")


def _flush(lines: Lines, quiet: list[str], width: int) -> None:
    if quiet:
        _wrap(lines, f"No finding at {'; '.join(quiet)}.", width, "  ", "dim", "  ")
        quiet.clear()


def _title(lines: Lines, text: str) -> None:
    lines.extend([("", ""), (text, "bold"), ("-" * len(text), "")])


def _wrap(lines: Lines, text: str, width: int, indent: str, style: str = "", hang: str = "") -> None:
    blank = " " * len(indent) + hang
    wrapped = textwrap.wrap(text, width, initial_indent=indent, subsequent_indent=blank, break_on_hyphens=False)
    lines.extend((line, style) for line in wrapped)


def headline(report: Report) -> str:
    """How many things of each signal word there are to read: one practice at several steps counts once.

    Where there are none, it says what is not judged and what does not fit: no findings must not read as all well.
    """
    shown = arrange(report).counts()
    counts = [(shown[word], word) for word in ("danger", "warning", "caution", "notice")]
    said = [f"{count} {word}{'s' * (count != 1)}" for count, word in counts if count]
    missed = headline_addition(report)
    if said:
        return "; ".join([", ".join(said), *([missed] if missed else [])])
    but = [words for words in (tight(report.schedule), missed) if words]
    left = not_judged(report)
    return "no findings" + (f", but {'; '.join(but)}" if but else "") + (f"; not judged yet: {left}" if left else "")


def _head(lines: Lines, report: Report, width: int) -> None:
    _wrap(lines, report.plan.title or report.plan.file, width, "", "bold")
    if not report.settled:
        _wrap(lines, NOT_SETTLED, width, "")
    first = first_thing(report)
    missed = head_words(report)
    if first is None:
        _wrap(lines, silence(report), width, "", "bold")
        _wrap(lines, missed, width, "", "bold")
        if short := tight(report.schedule):
            _wrap(lines, f"All the same: {short}.", width, "")
        return
    _wrap(lines, f"Checked before the work: {headline(report)}.", width, "")
    _wrap(lines, missed, width, "", "bold")
    if also := also_open(report):
        _wrap(lines, also, width, "")
    _wrap(lines, f"Do this first: {first.what}", width, "", "bold")


def first_thing(report: Report) -> Finding | None:
    """The one thing to do first: the gravest finding, the plan's own before those of advice, then the earliest."""
    if not report.findings:
        return None
    places = {str(o["step"]): i for i, o in enumerate(report.order)}
    gravest = min(
        told(report.findings, report.plan), key=lambda f: (-f.rank, f.advised, places.get(f.step or "", -1), f.rule)
    )
    return next((e.finding for e in arrange(report).entries() if gravest.id in e.ids), gravest)


def _entry(lines: Lines, entry: Entry, report: Report, width: int, working: bool) -> None:
    finding, units = entry.finding, report.plan.units
    mark = "[ ] " if finding.kind in ("require", "refer") else "  ! "
    where = f" ({', '.join(entry.steps)})" if len(entry.steps) > 1 else ""
    _wrap(
        lines,
        f"{mark}{finding.signal.upper()}: {finding.what}{where}",
        width,
        "  ",
        _STYLES[finding.signal],
        "    ",
    )
    numbers = [n for n in finding.numbers if n.working is not None or n.place is not None]
    said = finding.because
    if numbers and not working:
        said += f" ({'; '.join(short_number(n, units) for n in numbers)})"
    _wrap(lines, said, width, "      ")
    rests = f"? {_resting(finding.rests_on)} " if finding.rests_on else ""
    _wrap(lines, f"{rests}{_source_line(finding)}", width, "      ", "dim")
    if working:
        for number in finding.numbers:
            _wrap(lines, number_line(number, units), width, "      - ")


def _resting(basis: tuple[Basis, ...]) -> str:
    """What a finding rests on: presumptions with their reason, then what is simply not known; two of each."""
    presumed = [f"presumed {b.about} {b.value} ({b.because})" for b in basis if b.value]
    unknown = things(b for b in basis if not b.value)
    parts = _few(presumed, "; ")
    if unknown:
        parts.append("not known: " + "".join(_few(unknown, "; ")))
    text = "; ".join(parts)
    return text[0].upper() + text[1:] + "."


def _few(words: list[str], between: str, most: int = 2) -> list[str]:
    """The first words joined, and how many more there are; empty for none."""
    more = f" and {len(words) - most} more" if len(words) > most else ""
    return [between.join(words[:most]) + more] if words else []


def _source_line(finding: Finding) -> str:
    sources = _few([f"{s.key} {s.locator}".strip() if s.key else "common practice" for s in finding.sources], "; ")
    advised = "; follows from advice given here" if finding.advised else ""
    return f"[{'; '.join(sources)}{advised}; {finding.rule}]"


def short_number(number: Number, units: str) -> str:
    """A number's name and value."""
    return f"{number_name(number, units)} {both(number.value, number.dimension, units)}"


def number_line(number: Number, units: str) -> str:
    """A number with its working on one line."""
    text = short_number(number, units)
    return f"{text} = {number.working.working(units).rsplit(' = ', 1)[0]}" if number.working else text


def _accepted(lines: Lines, report: Report, width: int) -> None:
    if report.accepted or report.accepted_open:
        _title(lines, "ACCEPTED BY A WAIVER")
    for one in report.accepted:
        where = f" ({one.finding.step})" if one.finding.step else ""
        _wrap(lines, f"{one.finding.signal.upper()}: {one.finding.what}{where}", width, "  - ")
        _wrap(lines, f"{waiver_words(one.waiver)} [{one.finding.rule}]", width, "    ")
    for left in report.accepted_open:
        where = f" ({left.practice.step})" if left.practice.step else ""
        _wrap(lines, f"Open, {left.practice.signal}: {left.practice.title}{where}", width, "  - ")
        _wrap(lines, f"{waiver_words(left.waiver)} [{left.practice.rule}]", width, "    ")


def _schedule(lines: Lines, report: Report, width: int) -> None:
    shown = report_lines(report, width)
    if shown:
        _title(lines, "TIME AND MONEY")
        lines.extend((line, "") for line in shown)


def _questions(lines: Lines, report: Report, width: int) -> None:
    if not report.questions:
        return
    _title(lines, "QUESTIONS, THE WEIGHTIEST FIRST")
    for question in report.questions[:MOST_QUESTIONS]:
        _wrap(lines, question_words(question), width, "  - ")
    if len(report.questions) > MOST_QUESTIONS:
        more = len(report.questions) - MOST_QUESTIONS
        lines.append((f"  and {more} more: advisor questions {argument(report)}", ""))


def _gear(lines: Lines, gear: list[Gear], width: int) -> None:
    if not gear:
        return
    _title(lines, "WHAT PROTECTS YOU")
    for one in gear:
        owned = "have" if one.owned else "GET "
        _wrap(lines, f"{one.gear}: {', '.join(one.steps)} ({one.because})", width, f"  {owned}  ")


def _foot(lines: Lines, report: Report, width: int) -> None:
    said = [left for left in (left_open(report), unheard_line(report)) if left]
    said += foot_lines(report)
    said += [f"Rule {c.rule} was {c.how} by {c.pack}: {c.reason}" for c in report.changes]
    if said:
        _title(lines, "WHAT IS NOT JUDGED")
    for text in said:
        _wrap(lines, text, width, "  ")
    _title(lines, "CAUTIONS")
    for caution in report.cautions:
        _wrap(lines, caution, width, "  - ")


def _paint(lines: Lines) -> str:
    from rich.console import Console
    from rich.text import Text

    out = io.StringIO()
    console = Console(file=out, force_terminal=True, width=max(WIDTH, 20), highlight=False, soft_wrap=True)
    for text, style in lines:
        console.print(Text(text, style=style), end="\n")
    return out.getvalue()
