"""Two plans, or a plan before and after advice was taken: the proof as text, data and Markdown, and an account."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterable
from typing import Any

from advisor.reports.answered import answered_data, hold_data
from advisor.reports.clean import legible
from advisor.reports.data import as_utf8, open_data
from advisor.reports.markdown import code, escape
from advisor.reports.schedule_text import count
from advisor.reports.view import LEVELS
from advisor.review.asked import OpenPractice
from advisor.review.compare import Comparison
from advisor.review.days.model import Timetable
from advisor.review.finding import Finding
from advisor.review.model import Report
from advisor.review.order.told import PlaceInOrder
from advisor.review.revision.revise import TakenChange
from advisor.review.revision.ways import Way
from advisor.rulebase.model import SIGNALS

WIDTH = 80
Row = tuple[str, str, str, str]  # word, signal, id, title
WORDS = {
    "gone": "gone because the plan changed",
    "moved": "gone because a step moved",
    "answered": "answered: tick what is to get and to find out first",
    "new": "new",
    "still": "still there",
    "open": "still open",
}


def rows(found: Comparison) -> list[Row]:
    """Every finding as reports tell it, and every practice, with what became of it, the gravest first in each group."""
    told: dict[tuple[str, str], Row] = {}
    for word, group in _groups(found):
        for one in group:
            name, title = one.id, one.title
            if isinstance(one, Finding):
                name, title = found.told_as(one).id, found.told_as(one).title
            known = told.get((word, name))
            if known is None or SIGNALS.index(one.signal) > SIGNALS.index(known[1]):
                told[word, name] = (word, one.signal, name, title)
    # What a report tells in one finding is gone where nothing of it is left.
    left = {name for word, name in told if word in ("new", "still")}
    return [row for (word, name), row in told.items() if word not in ("gone", "moved") or name not in left]


def _groups(found: Comparison) -> Iterable[tuple[str, Iterable[Finding | OpenPractice]]]:
    answered = [one.about for one in found.answered]
    yield from (("gone", found.gone), ("moved", found.moved), ("answered", answered))
    yield from (("new", found.new), ("still", found.same), ("open", found.open))


def numbers(found: Comparison) -> dict[str, int]:
    """How many practices are gone, moved, answered, new, still there and open, each counted once, as a review does."""
    rules: dict[str, set[str]] = {}
    for word, group in _groups(found):
        rules[word] = {found.told_as(one).rule if isinstance(one, Finding) else one.rule for one in group}
    speaks = rules["new"] | rules["still"]
    rules["new"] -= rules["still"]
    rules["gone"] -= speaks | rules["moved"]
    rules["moved"] -= speaks
    return {word: len(own) for word, own in rules.items()}


def counts(found: Comparison) -> str:
    """`41 gone, 2 moved, 12 answered, 3 new, 5 still there, 140 still open`, as practices."""
    words = {"still": "still there", "open": "still open"}
    said = ", ".join(f"{number} {words.get(word, word)}" for word, number in numbers(found).items())
    return f"Practices, each counted once: {said}."


def in_short(found: Comparison, questions_before: int, questions_after: int, still_open: int) -> str:
    """What an answer did in one line: `2 warnings gone, 1 danger new (Lead test …), 1 question new; 7 open.`"""
    parts = []
    for group, word in (((*found.gone, *found.moved), "gone"), (found.new, "new")):
        for signal in reversed(SIGNALS):
            titles = {f.rule: f.title for f in group if f.signal == signal}
            if titles:
                named = f" ({next(iter(titles.values()))}{' …' if len(titles) > 1 else ''})" if word == "new" else ""
                parts.append(f"{count(len(titles), signal)} {word}{named}")
    more = questions_after - questions_before
    if more:
        parts.append(f"{count(abs(more), 'question')} {'new' if more > 0 else 'fewer'}")
    return f"{', '.join(parts) or 'No finding comes or goes'}; {still_open} open."


def as_text(found: Comparison, every: bool = False, more: Iterable[str] = ()) -> str:
    """What became of each finding, then `more`; open practices of warning and above, or all of them."""
    told: dict[tuple[str, str, str], list[str]] = {}
    titles: dict[str, str] = {}
    kept = 0
    for word, signal, own, title in rows(found):
        if word == "open" and not every and SIGNALS.index(signal) < SIGNALS.index("warning"):
            kept += 1
            continue
        # What is open stands at many steps: one practice is one line.
        key = own.partition("@")[0] if word == "open" else own
        told.setdefault((word, signal, key), []).append(own)
        titles[key] = title
    lines = [
        f"{word:<8} {signal:<8} {own[0] if len(own) == 1 else f'{key} at {len(own)} steps'}: {titles[key]}"
        for (word, signal, key), own in told.items()
    ]
    if kept:
        lines.append(f"and {kept} more still open, below warning")
    return "\n".join(part for line in [*lines, counts(found), *more] for part in _set_in(legible(line))) + "\n"


def _set_in(line: str) -> list[str]:
    """A line at the width of a terminal; what goes on below is set in."""
    return textwrap.wrap(line, WIDTH, subsequent_indent="    ", break_on_hyphens=False, break_long_words=False)


def order_lines(old: list[PlaceInOrder], new: list[PlaceInOrder]) -> list[str]:
    """Steps that came, went or changed places."""
    before, after = [o.step for o in old], [o.step for o in new]
    lines = []
    for words, text in (
        ([s for s in after if s not in before], "new steps"),
        ([s for s in before if s not in after], "steps gone"),
    ):
        if words:
            lines.append(f"{text}: {', '.join(words)}")
    kept = [s for s in before if s in after]
    if kept != [s for s in after if s in before]:
        lines.append(f"order of the others: {', '.join(s for s in after if s in before)}")
    return lines


def as_data(found: Comparison, old: Report, new: Report) -> dict[str, Any]:
    """The comparison as plain data."""
    return {
        "schema": 1,
        "old": {"file": old.plan.file, "title": old.plan.title},
        "new": {"file": new.plan.file, "title": new.plan.title},
        **{word: [_brief(f) for f in group] for word, group in (("gone", found.gone), ("moved", found.moved))},
        "answered": [answered_data(one) for one in found.answered],
        **{word: [_brief(f) for f in group] for word, group in (("added", found.new), ("still", found.same))},
        "open": [open_data(one) for one in found.open],
        "hold_points": [hold_data(point) for point in found.holds],
        "practices": numbers(found),
        "order": {"old": [o.step for o in old.order], "new": [o.step for o in new.order]},
    }


def _brief(finding: Finding) -> dict[str, Any]:
    return {
        "id": finding.id,
        "rule": finding.rule,
        "title": finding.title,
        "signal": finding.signal,
        "step": finding.step,
        "what": finding.what,
    }


def as_json(found: Comparison, old: Report, new: Report) -> str:
    """The same as JSON text."""
    return as_utf8(json.dumps(as_data(found, old, new), ensure_ascii=False, indent=2)) + "\n"


def as_markdown(found: Comparison, old: Report, new: Report) -> str:
    """The comparison as a document."""
    lines = [f"# {escape(old.plan.title or old.plan.file)}: before and after", "", escape(counts(found)), ""]
    told = rows(found)
    for word, heading in WORDS.items():
        own = [row for row in told if row[0] == word]
        if own:
            lines += [f"## {heading[:1].upper()}{heading[1:]}", ""]
            lines += [f"- **{signal.upper()}:** {escape(title)} {code(name)}" for _, signal, name, title in own] + [""]
    if steps := order_lines(old.order, new.order):
        lines += ["## Steps", "", *(f"- {escape(line)}" for line in steps), ""]
    return "\n".join(lines)


def account(changes: Iterable[TakenChange], moved: bool, found: Comparison, title: str) -> str:
    """What was changed in a plan and why, as a short Markdown document."""
    lines = [f"# {escape(title)}: what was changed and why", ""]
    for one in changes:
        lines += [f"- {escape(one.what)}. **{one.signal.upper()}** {code(one.finding)}: {escape(one.because)}"]
    if moved:
        lines += ["- Steps were moved to where what they need is so."]
    lines += ["", f"What came of it: {escape(counts(found))}", ""]
    if found.holds:
        lines += ["Nothing that is still to get or to find out is so yet. Tick it first.", ""]
    return "\n".join(lines)


def ways_text(finding: Finding, found: Iterable[Way], old: Report, width: int = 80) -> str:
    """What each way writes, costs, takes and leaves, best level first."""
    lines = [*_wrapped(f"{finding.signal.upper()}: {finding.what}", "", width), f"now: {_span(old)}", ""]
    for way in found:
        level = LEVELS.get(way.level, "The usual advice")
        lines += _wrapped(f"{level}{f': {way.control}' if way.control else ''}", "", width)
        for change in way.changes:
            lines += _wrapped(change.what, "  + ", width)
        if not way.changes:
            lines.append("  nothing that a plan could say more")
        grave = [f for f in way.leaves() if f.rank >= SIGNALS.index("caution")]
        brings = "; ".join(f"{f.signal}: {f.title}" for f in grave) or "nothing of caution or above"
        lines += _wrapped(
            f"{_span(way.report)}; the finding is {way.becomes(finding)}; it brings {brings}", "  = ", width
        )
        lines.append("")
    return "\n".join(map(legible, lines))


def _span(report: Report) -> str:
    """Money, hours and days of a plan, as far as it tells."""
    schedule = report.schedule
    if not isinstance(schedule, Timetable):
        return "no calendar"
    money = schedule.money
    cost = f"{money.costs.total:,.0f} USD" if money.costs else "no prices"
    missing = len(money.unpriced)
    return (
        f"{cost}{f' ({missing} without a price)' if missing else ''}, {schedule.work_hours:g} h of work,"
        f" {schedule.ready_days} day{'s' * (schedule.ready_days != 1)}"
    )


def _wrapped(text: str, first: str, width: int) -> list[str]:
    return textwrap.wrap(text, width, initial_indent=first, subsequent_indent=" " * len(first), break_on_hyphens=False)
