"""The order of work as text: hold points, steps with the reason of each move, calendar, what it comes to."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from typing import Any, NamedTuple

from advisor.reports.arrange import arrange
from advisor.reports.calendar_chart import rows_of, runs_back, starts
from advisor.reports.clean import legible
from advisor.reports.data import made_by_words
from advisor.reports.not_yours import there_at
from advisor.reports.notes import words_below, words_used
from advisor.reports.order_data import place_of_step
from advisor.reports.schedule_text import argument, day, hours, moment, slip, summary
from advisor.reports.screen_words import screen_words
from advisor.reports.unchecked import NOT_SETTLED
from advisor.review.days.model import Moment, WorkRow
from advisor.review.finding import Finding
from advisor.review.model import Report
from advisor.review.order.told import PlaceInOrder
from advisor.review.order.work_order import WorkOrder
from advisor.review.told_once import untwinned
from advisor.review.wording import listed
from advisor.rulebase.model import SIGNALS

WIDTH = 80
_GRAVE = SIGNALS.index("warning")
_LABEL = 24  # letters of a step's name in the calendar


def as_order_text(report: Report, work: WorkOrder) -> str:
    """The whole order of work at 80 columns."""
    lines = _lines(report, work)
    lines += words_below(lines, report, WIDTH, ruled=True)
    lines += ["", made_by_words(report)]
    return "\n".join(map(legible, lines)) + "\n"


def words_of_order(report: Report, work: WorkOrder) -> list[tuple[str, str]]:
    """What the order says that is not everyday, with its meaning."""
    return words_used(_lines(report, work), report.plan.units, report.name)


def _lines(report: Report, work: WorkOrder) -> list[str]:
    """The order without its words."""
    lines: list[str] = []
    _wrap(lines, report.plan.title or report.plan.file, "")
    _title(lines, "ORDER OF WORK")
    for ring in work.rings:
        _wrap(lines, ring.told(), "  ! ")
    there, early, bans = there_at(report), {**_left_until(report), **_in_a_wait(report)}, bans_at(report)
    for row in work.entries():
        lines.append(f"{row.place:>3}. {row.step}")
        if row.step in there:
            _wrap(lines, f"Call before it: {there[row.step]}.", "     ")
        for said in (row.why, row.waiting, early.get(row.step, "")):
            if said:
                _wrap(lines, said, "     ")
        # Below the number of their step, as in the report: above it they read as the step before's.
        for ban in bans.get(row.step, ()):
            _wrap(lines, ban.said, "      !  ")
        for finding in told_holds(work, row.step):
            _wrap(lines, f"{finding.signal.upper()}: {finding.what}", "     [ ] ")
    _given_up(lines, report, work)
    _elsewhere(lines, report)
    _calendar(lines, report)
    _title(lines, "WHAT IT COMES TO")
    for one in summary(report.schedule):
        _wrap(lines, one, "  ")
    _presumed(lines, report)
    _title(lines, "WHY IN THIS ORDER")
    _wrap(lines, moved_words(work, report), "  ")
    for c in work.constraints:
        after = f", {hours(c.lag / 60)} later" if c.lag else ""
        _wrap(lines, f"{c.first} before {c.then}{after}: {c.reason} ({c.rule})", "  - ")
    _title(lines, "CAUTIONS")
    for caution in report.cautions:
        _wrap(lines, caution, "  - ")
    return lines


def _told_here(finding: Finding) -> bool:
    """Whether this page tells it at its step: a grave ban, or work that goes to somebody else."""
    return finding.step is not None and finding.kind in ("warn", "refer") and finding.rank >= _GRAVE


class Ban(NamedTuple):
    """A grave thing that is not to be done as planned, with its number in the report."""

    finding: Finding
    number: int

    @property
    def said(self) -> str:
        """`DANGER: No dry cutting of stone indoors. [4]`."""
        return f"{self.finding.signal.upper()}: {self.finding.what} [{self.number}]"


def bans_at(report: Report) -> dict[str, list[Ban]]:
    """For each step what is not to be done there as planned, the gravest first."""
    found: dict[str, list[Ban]] = {}
    for number, entry in enumerate(arrange(report).entries(), 1):
        for step in entry.steps if _told_here(entry.finding) else ():
            found.setdefault(step, []).append(Ban(entry.finding, number))
    return {step: sorted(own, key=lambda ban: -ban.finding.rank) for step, own in found.items()}


def in_working_order(holds: Sequence[Finding]) -> list[Finding]:
    """The hold points of a step in the order in which they are done: first the tests, then the set-up of the place."""
    words = screen_words()
    stages = words["working_order"]

    def stage(finding: Finding) -> int:
        adds = set(finding.adds)
        if adds & set(words["working_order_last"]):
            return len(stages) + 1
        return next((n for n, own in enumerate(stages) if adds & set(own)), len(stages))

    return sorted(holds, key=stage)


def told_holds(work: WorkOrder, step: str) -> list[Finding]:
    """The hold points of a step as a person reads them: in working order, each practice once."""
    return in_working_order(untwinned(work.holds.get(step, [])))


def _in_a_wait(report: Report) -> dict[str, str]:
    """The steps that the calendar begins before one above them, so that list and calendar tell one order."""
    found: dict[str, str] = {}
    last: WorkRow | None = None  # of those above, the one that begins last
    for row in rows_of(report):
        if last is not None and row.step != last.step and starts(row.begins) < starts(last.begins):
            where = f"Begins on {moment(row.begins)}, before {_piece(last)}: it fits into a wait of the steps above."
            found.setdefault(row.step, where)
        if last is None or starts(row.begins) > starts(last.begins):
            last = row
    return found


def _left_until(report: Report) -> dict[str, str]:
    """The steps that could be done sooner, if the house were to do without something sooner."""
    held = [row for row in rows_of(report) if row.held_back]
    return {row.step: f"Left until {day(row.begins)}: the house keeps what it takes away till then." for row in held}


def _piece(row: WorkRow) -> str:
    """A row by its name, a later coat or what is asked for beside a step told apart from the whole step."""
    if row.task:
        return f"{row.task} of {row.step}"
    return f"coat {row.coat} of {row.step}" if row.coat and row.coat > 1 else row.step


def _given_up(lines: list[str], report: Report, work: WorkOrder) -> None:
    """What no order keeps, and what of the author's own gave way."""
    for one in report.given_up:
        if one.first:
            by = "your own after" if one.rule == "after" else one.rule
            _wrap(lines, f"Not kept: {one.first} before {one.step} ({by}).", "  ! ")
        else:
            _wrap(lines, f"No order keeps this at {one.step}: {one.because} ({one.rule})", "  ! ")
    if work.settled is not None and not work.settled.within_bound:
        _wrap(lines, NOT_SETTLED, "  ! ")


def _elsewhere(lines: list[str], report: Report) -> None:
    """This page shows hold points only: say how many hazards and referrals stand in the review, and where."""
    more = [f for f in report.findings if not _told_here(f) and (f.kind in ("warn", "refer") or f.step is None)]
    if more:
        grave = sum(f.signal == "danger" for f in more)
        said = f"{len(more)} more, {grave} of them danger," if grave else f"{len(more)} more"
        where = f"in the whole report: advisor review {argument(report)}"
        told = "Here stands what must be true before a step, and what not to do there."
        _wrap(lines, f"{told} A number in brackets is that of the report. {said} {where}", "  ")


def entries(work: WorkOrder) -> list[dict[str, Any]]:
    """Hold points and steps in the order of work, each an entry of its own; a hold point stands before its step."""
    found: list[dict[str, Any]] = []
    for row in work.entries():
        found += [_hold(finding, row) for finding in told_holds(work, row.step)]
        found.append(place_of_step(row))
    return found


def _hold(finding: Finding, row: PlaceInOrder) -> dict[str, Any]:
    return {
        "hold": finding.id,
        "before": row.step,
        "line": row.line,
        "signal": finding.signal,
        "what": finding.what,
        "because": finding.because,
        "rule": finding.rule,
    }


def moved_words(work: WorkOrder, report: Report) -> str:
    """How far the order is from the author's."""
    if not work.turned:
        sooner = listed(list(_in_a_wait(report)))
        if sooner:
            return f"The list stands as you wrote it. The calendar begins {sooner} sooner, in a wait."
        return "The order is the one that you wrote."
    pairs = f"{work.turned} pair{'s' * (work.turned != 1)} of steps"
    steps = f"{len(work.moves)} step{'s' * (len(work.moves) != 1)}"
    sure = "fewer moves would not keep the rules" if work.exact else "the fewest that were found"
    return f"Against what you wrote, {steps} moved ({pairs} changed places): {sure}."


def _calendar(lines: list[str], report: Report) -> None:
    rows = rows_of(report)
    if not rows:
        return
    _title(lines, "CALENDAR")
    longest = min(_LABEL, max(len(_label(row, 99)) for row in rows))
    wide = max(len(_short(at)) for row in rows for at in (row.begins, row.ends))
    lines.append(f"    {'step':<{longest}} {'from':<{wide}} {'to':<{wide}} {'work':>6} {'wait':>8} {'may slip':>8}")
    back = runs_back(rows)
    forbidden = bans_at(report)
    for row, earlier in zip(rows, back, strict=True):
        label = _label(row, longest)
        times = f"{_short(row.begins):<{wide}} {_short(row.ends):<{wide}}"
        work, wait = hours(row.hours or row.by_itself_hours), hours(row.wait_hours)
        mark = "*" if row.holds_up else " "
        slack = slip(row)
        late = "<" if earlier else " "
        ban = "!" if row.step in forbidden and not row.task else " "
        lines.append(f"{ban}{late}{mark} {label:<{longest}} {times} {work:>6} {wait:>8} {slack:>8}".rstrip())
    if forbidden:
        lines.append("  ! not to be done as planned: see what stands beside the ! at the step.")
    if any(row.task for row in rows):
        lines.append("  + is asked for here, before or after the step that it stands beside.")
    if any(row.coat for row in rows):
        lines.append("  (1), (2): first coat, second coat.")
    if any(back):
        lines.append("  < starts before the line above it: it fills a wait there, and no rule is broken.")
    lines.append("  * a delay here delays the end. May slip: working hours it may be late.")


def _label(row: WorkRow, longest: int) -> str:
    """The step, cut to fit, with the number of its coat."""
    if row.task:  # beside the row of its step: what it is goes before whose it is
        told = f"+ {row.task}"
        return told if len(told) <= longest else told[: longest - 1] + "…"
    coat = f" ({row.coat})" if row.coat else ""
    step, room = row.step, longest - len(coat)
    return (step if len(step) <= room else step[: room - 1] + "…") + coat


def _short(at: Moment) -> str:
    """A moment without its year, so that a row fits on a line."""
    return moment(at) if at.date is None else moment(at).replace(at.date, at.date[5:])


def _presumed(lines: list[str], report: Report) -> None:
    said = [f"{row.step} {text}" for row in rows_of(report) for text in row.presumed]
    if said:
        _title(lines, "PRESUMED")
        for one in said:
            _wrap(lines, f"{one}.", "  ? ")


def _title(lines: list[str], text: str) -> None:
    lines.extend(["", text, "-" * len(text)])


def _wrap(lines: list[str], text: str, indent: str) -> None:
    blank = " " * len(indent)
    # A long path is not cut: it is there to be copied.
    lines += textwrap.wrap(
        text, WIDTH, initial_indent=indent, subsequent_indent=blank, break_on_hyphens=False, break_long_words=False
    )
