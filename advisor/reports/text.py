"""The report for a person at a terminal: 80 columns, short enough to act on."""

from __future__ import annotations

import io
import os
import sys
import textwrap

from advisor.reports.arrange import Entry, arrange
from advisor.reports.data import number_name
from advisor.review.model import Finding, Number, Report
from advisor.units import both

WIDTH = 80
_STYLES = {"danger": "bold white on red", "warning": "bold yellow", "caution": "yellow", "notice": "cyan"}


def as_text(report: Report, *, colour: bool = False, width: int = WIDTH) -> str:
    """The report as text; with colour only on a terminal that wants it."""
    lines: list[tuple[str, str]] = []  # text, style
    arranged = arrange(report)
    _head(lines, report, width)
    if arranged.first:
        _title(lines, "BEFORE ANYTHING ELSE")
        for entry in arranged.first:
            _entry(lines, entry, report, width)
    _title(lines, "STEPS IN THE ORDER OF WORK")
    for number, (step, entries) in enumerate(arranged.steps, 1):
        moved = next((str(o["why"]) for o in report.order if o["step"] == step and o.get("why")), "")
        lines.append((f"{number:>3}. {step}" + ("" if entries or moved else "   nothing found"), "bold"))
        if moved:
            _wrap(lines, moved, width, "     ")
        for entry in entries:
            _entry(lines, entry, report, width)
    _questions(lines, report, width)
    _gear(lines, arranged.gear, width)
    _foot(lines, report, width)
    return _paint(lines) if colour and _wants_colour() else "\n".join(text for text, _ in lines) + "\n"


def _title(lines: list[tuple[str, str]], text: str) -> None:
    lines.extend([("", ""), (text, "bold"), ("-" * len(text), "")])


def _wrap(lines: list[tuple[str, str]], text: str, width: int, indent: str, style: str = "", hang: str = "") -> None:
    wrapped = textwrap.wrap(text, width, initial_indent=indent, subsequent_indent=indent + hang, break_on_hyphens=False)
    lines.extend((line, style) for line in wrapped)


def headline(report: Report) -> str:
    """How many findings of each signal word there are."""
    counts = [(report.count(word), word) for word in ("danger", "warning", "caution", "notice")]
    said = [f"{count} {word}{'s' * (count != 1)}" for count, word in counts if count]
    return ", ".join(said) if said else "no findings"


def _head(lines: list[tuple[str, str]], report: Report, width: int) -> None:
    lines.append((report.plan.title or report.plan.file, "bold"))
    _wrap(lines, f"Checked before the work: {headline(report)}.", width, "")
    if first := first_thing(report):
        _wrap(lines, f"Do this first: {first.what}", width, "", "bold")
    elif not report.findings:
        total = sum(report.looked_at.values())
        _wrap(lines, f"{total} rules were looked at; none of them speaks. That is no proof: see the cautions.", width, "")


def first_thing(report: Report) -> Finding | None:
    """The one thing to do first: the gravest finding, the earliest among equals."""
    if not report.findings:
        return None
    places = {str(o["step"]): i for i, o in enumerate(report.order)}
    return min(report.findings, key=lambda f: (-f.rank, places.get(f.step or "", -1), f.rule))


def _entry(lines: list[tuple[str, str]], entry: Entry, report: Report, width: int) -> None:
    finding = entry.finding
    mark = "[ ] " if finding.kind in ("require", "refer") else "    "
    where = f" ({', '.join(entry.steps)})" if len(entry.steps) > 1 else ""
    lead = f"{finding.signal.upper()}: "
    text = f"{mark}{lead}{finding.what}{where}"
    _wrap(lines, text, width, "     ", _STYLES[finding.signal], "    ")
    why = finding.because
    _wrap(lines, why, width, "         ")
    for number in finding.numbers:
        _wrap(lines, number_line(number, report.plan.units), width, "         - ", "", "  ")
    for basis in finding.rests_on:
        held = f"Presumed: {basis.value} ({basis.because})." if basis.value else "Not known."
        _wrap(lines, f"{held} {basis.ask}", width, "         ? ", "", "  ")
    tail = "; ".join(
        (f"{s.key}, {s.locator}" if s.locator else s.key) if s.key else "common practice" for s in finding.sources
    )
    if finding.advised:
        tail += "; follows from the advice above"
    _wrap(lines, f"[{tail}]  {finding.rule}", width, "         ", "dim")


def number_line(number: Number, units: str) -> str:
    """A number with its working on one line."""
    text = f"{number_name(number, units)}: {both(number.value, number.dimension, units)}"
    return f"{text} = {number.working.working(units).rsplit(' = ', 1)[0]}" if number.working else text


def _questions(lines: list[tuple[str, str]], report: Report, width: int) -> None:
    if not report.questions:
        return
    _title(lines, "QUESTIONS, THE WEIGHTIEST FIRST")
    for question in report.questions[:7]:
        rules = sorted({name.partition("@")[0] for name in question.hangs})
        _wrap(lines, f"{question.ask} ({', '.join(rules)})", width, "  - ", "", "  ")
    if len(report.questions) > 7:
        more = len(report.questions) - 7
        lines.append((f"  and {more} more: advisor questions {os.path.basename(report.plan.file)}", ""))


def _gear(lines: list[tuple[str, str]], gear: list[tuple[str, str, str]], width: int) -> None:
    if not gear:
        return
    _title(lines, "WHAT PROTECTS EACH STEP")
    for step, needed, owned in gear:
        _wrap(lines, f"{step}: {needed}{f' (not owned: {owned})' if owned else ''}", width, "  ", "", "    ")


def _foot(lines: list[tuple[str, str]], report: Report, width: int) -> None:
    _title(lines, "WHAT WAS LOOKED AT")
    total = sum(report.looked_at.values())
    topics = ", ".join(name.lower() for name in report.looked_at)
    _wrap(lines, f"{total} rules: {topics}.", width, "  ")
    for one in report.not_checked:
        _wrap(lines, f"Not checked: {one.title}: {one.message}.", width, "  ", "", "  ")
    for change in report.changes:
        _wrap(lines, f"Rule {change.rule} was {change.how} by {change.pack}: {change.reason}", width, "  ", "", "  ")
    _title(lines, "CAUTIONS")
    for caution in report.cautions:
        _wrap(lines, caution, width, "  - ", "", "  ")


def _wants_colour() -> bool:
    return sys.stdout.isatty() and not os.environ.get("NO_COLOR")


def _paint(lines: list[tuple[str, str]]) -> str:
    from rich.console import Console
    from rich.text import Text

    out = io.StringIO()
    console = Console(file=out, force_terminal=True, width=max(WIDTH, 20), highlight=False, soft_wrap=True)
    for text, style in lines:
        console.print(Text(text, style=style), end="\n")
    return out.getvalue()
