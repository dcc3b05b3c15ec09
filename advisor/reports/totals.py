"""Many plans at a glance: one line each, gravest count first, and what they come to together."""

from __future__ import annotations

import textwrap
from collections import Counter
from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import asdict

from advisor.errors import Problem
from advisor.reports.arrange import arrange, left_out_words
from advisor.reports.clean import legible
from advisor.reports.data import SCHEMA, as_data, as_utf8, made_by_data, made_by_words
from advisor.reports.first import headline, today
from advisor.reports.opened import open_counts, open_practices
from advisor.reports.view import change_words
from advisor.review.asked import OpenPractice
from advisor.review.model import Report
from advisor.review.told_once import group_of, names, told
from advisor.rulebase.model import SIGNALS

WORDS = ("danger", "warning", "caution", "notice")
PLAN_HEADER = ("Plan", "Danger", "Warning", "Caution", "Notice", "Accepted", "Open", "Today")
MOST_OFTEN, MOST_OPEN = 10, 5  # told of a class


def is_plan(report: Report) -> bool:
    """Whether the report is of a plan, and not of a file of waivers."""
    return bool(report.looked_at)


def totals(reports: Sequence[Report], problems: Sequence[Problem]) -> dict[str, int]:
    """What all plans come to, as numbers of findings; people are told how many things there are to read."""
    each = [report.counts() for report in reports]
    counts = {word: sum(counts[word] for counts in each) for word in WORDS}
    read, broken = sum(map(is_plan, reports)), len({problem.file for problem in problems})
    accepted, left = sum(len(r.accepted) for r in reports), sum(map(open_practices, reports))
    return {"plans": read, "unreadable": broken, **counts, "accepted": accepted, "open": left}


def totals_line(reports: Sequence[Report], problems: Sequence[Problem]) -> str:
    """What all plans come to, in one sentence."""
    numbers = totals(reports, problems)
    shown = sum((arrange(report).counts() for report in reports), Counter[str]())
    said = [f"{shown[word]} {word}{'s' * (shown[word] != 1)}" for word in WORDS if shown[word]]
    plans = f"{numbers['plans']} plan{'s' * (numbers['plans'] != 1)} reviewed"
    accepted = f"; {numbers['accepted']} accepted" if numbers["accepted"] else ""
    left = f"; {numbers['open']} practices open" if numbers["open"] else ""
    broken = f"; {numbers['unreadable']} not reviewed" if numbers["unreadable"] else ""
    return f"{plans}: {', '.join(said) or 'no findings'}{left}{accepted}{broken}."


class Often(Struct, frozen=True):
    """A practice over many plans, by the code that reports tell it with: where it speaks, and where it is open."""

    rule: str
    title: str
    speaks: int
    open: int
    signal: str  # its gravest word in any of them


def often(reports: Sequence[Report]) -> list[Often]:
    """Those first that concern the most plans, and of like ones the gravest."""
    speak, left, titles = Counter[str](), Counter[str](), dict[str, str]()
    gravest: dict[str, int] = {}
    for report in filter(is_plan, reports):
        findings = told(report.findings, report.plan)
        speaking = {f.rule: f.title for f in findings}
        own = {name for f in report.findings for name in (f.rule, *names(f))}
        left_open = [_open_as_told(one) for one in report.open]
        opened = {rule: title for rule, title, _ in left_open if rule not in own}
        for rule, rank in [*((f.rule, f.rank) for f in findings), *((rule, rank) for rule, _, rank in left_open)]:
            gravest[rule] = max(rank, gravest.get(rule, 0))
        speak.update(speaking.keys())
        left.update(opened.keys())
        titles |= opened | speaking
    ordered = sorted(titles, key=lambda rule: (-speak[rule], -left[rule], -gravest[rule], rule))
    return [Often(rule, titles[rule], speak[rule], left[rule], SIGNALS[gravest[rule]]) for rule in ordered]


def _open_as_told(one: OpenPractice) -> tuple[str, str, int]:
    """A practice that is open by the code, title and rank with which reports tell it."""
    group = group_of(one.rule)
    return (group.id, group.title, one.rank) if group else (one.rule, one.title, one.rank)


def cautions_of(reports: Sequence[Report]) -> tuple[str, ...]:
    """The usual cautions, which all plans have alike."""
    return next((report.cautions for report in reports if is_plan(report)), ())


def often_words(reports: Sequence[Report]) -> list[str]:
    """What a class should hear first: the practices that most often speak, all dangers of two plans, those most often
    open; then how many more there are."""
    if sum(map(is_plan, reports)) < 2:
        return []
    found = often(reports)
    common = [one for one in found if one.speaks > 1]
    common.sort(key=lambda one: (-one.speaks, -SIGNALS.index(one.signal)))
    speaking = [one for n, one in enumerate(common) if n < MOST_OFTEN or one.signal == WORDS[0]]
    waiting = sorted((one for one in found if one.open > 1), key=lambda o: (-o.open, o.rule))
    said = [f"speaks in {one.speaks} plans: {one.title} ({one.rule}), a {one.signal}" for one in speaking]
    said += [f"open in {one.open} plans: {one.title} ({one.rule})" for one in waiting[:MOST_OPEN]]
    more = len(common) - len(speaking), max(0, len(waiting) - MOST_OPEN)
    if any(more):
        said.append(
            f"and {more[0]} more that speak in several plans, {more[1]} more that are open: --format json has all"
        )
    return said


def worst_first(reports: Sequence[Report]) -> list[Report]:
    """Plans with the most dangers first, then warnings and so on; of like ones those of which most is not judged."""

    def weight(report: Report) -> tuple[object, ...]:
        shown = arrange(report).counts()
        return (*(-shown[word] for word in WORDS), -open_practices(report), report.plan.file)

    return sorted(reports, key=lambda report: (not is_plan(report), *weight(report)))


def plan_line(report: Report) -> str:
    """One plan: its file and what was found there."""
    accepted = f"; {len(report.accepted)} accepted" if report.accepted else ""
    left = f"; {open_practices(report)} open" if report.open and report.findings else ""
    if report.open and not report.findings:
        left = f", {open_counts(report)} at worst"
    return f"{report.plan.file}: {headline(report)}{left}{accepted}"


def plan_row(report: Report) -> tuple[str, ...]:
    """One plan as cells: file, counts from danger to notice, accepted, open, the first thing to do."""
    shown = arrange(report).counts()
    counts = [str(shown[word]) for word in WORDS]
    accepted, left = str(len(report.accepted)), str(open_practices(report))
    return (report.plan.file, *counts, accepted, left, today(report))


def many_as_text(reports: Sequence[Report], problems: Sequence[Problem], width: int = 0) -> str:
    """One line a plan, the worst first, then the totals, the waivers that fit nothing, and the cautions.

    With a width what is longer goes on below, set in; 0 wraps nothing.
    """
    broken = Counter(problem.file for problem in problems)
    # What could not be read may be worse than all the others.
    lines = [f"{file}: not reviewed, {n} problem{'s' * (n != 1)}" for file, n in sorted(broken.items())]
    lines += [plan_line(report) for report in worst_first(reports) if is_plan(report)]
    for report in reports:
        if not is_plan(report):
            lines += [f"{report.plan.file}: {finding.signal}: {finding.what}" for finding in report.findings]
    lines += sorted({text for report in reports for text in change_words(report)})
    left = sum(report.left_out.findings for report in reports if report.left_out)
    lines += [
        "",
        totals_line(reports, problems),
        *([left_out_words(left)] if left else []),
        "The whole report of a plan: advisor review PLAN.",
    ]
    if said := often_words(reports):
        lines += ["", "Most often:", *(f"  {text}" for text in said), ""]
    if problems:
        lines += ["What could not be read:", *(f"  {one}" for one in problems), ""]
    made = [made_by_words(reports[0])] if reports else []
    whole = [legible(line) for line in (*lines, *cautions_of(reports), *made)]
    return "\n".join(part for line in whole for part in (_wrapped(line, width) if width else [line])) + "\n"


def _wrapped(line: str, width: int) -> list[str]:
    indent = " " * (len(line) - len(line.lstrip()))
    hang = f"{indent}    "
    return textwrap.wrap(
        line, width, subsequent_indent=hang, break_on_hyphens=False, break_long_words=False, drop_whitespace=True
    ) or [""]


def many_as_json(reports: Sequence[Report], problems: Sequence[Problem]) -> str:
    """The reports of many plans with their totals as one JSON document."""
    data = {
        "schema": SCHEMA,
        "totals": totals(reports, problems),
        "often": [asdict(one) for one in often(reports)],
        "made_by": made_by_data(reports[0]) if reports else None,
        "reports": [as_data(report) for report in reports],
        "problems": [
            {"file": p.file, "line": p.line or None, "column": p.column or None, "message": p.message} for p in problems
        ],
    }
    import json

    return as_utf8(json.dumps(data, ensure_ascii=False, indent=2)) + "\n"
