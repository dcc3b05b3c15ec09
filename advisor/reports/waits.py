"""What must not be done, and until when."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from advisor.reports.arrange import Entry
from advisor.reports.screen_words import screen_words
from advisor.review.finding import Finding
from advisor.review.metric import localized
from advisor.review.model import Report
from advisor.review.order.lab_results import Awaited, result_time
from advisor.review.who import LICENSED, who_words
from advisor.review.wording import listed
from advisor.rulebase.model import SIGNALS

_GRAVE = SIGNALS.index("warning")


class Wait(Struct, frozen=True):
    """What must not be done, and until when, with the steps and the rules that ask for it."""

    text: str
    steps: tuple[str, ...]
    rules: tuple[str, ...]


def waits(entries: Sequence[Entry], report: Report) -> list[Wait]:
    """What must not be done, and until when: the gravest holds, steps that wait for the same together."""
    until_of: dict[str, list[str]] = {}
    rules: dict[str, list[str]] = {}
    held: set[str] = set()
    order = [o.step for o in report.order]
    days = _awaited(report)
    found = [e for e in entries if e.finding.kind in ("require", "refer") and e.finding.rank >= _GRAVE]
    # What decides goes first: until a test is back, nothing else about the step is sure.
    for entry in sorted(found, key=lambda e: (not e.finding.decides, -e.finding.rank)):
        for step in entry.steps:
            until = _until_at(entry.finding, days.get(step), report)
            if until and step and step not in held:
                held.add(step)
                until_of.setdefault(until, []).append(step)
                rules.setdefault(until, []).append(entry.finding.rule)
    said = []
    for until, steps in until_of.items():
        steps.sort(key=lambda s: order.index(s) if s in order else len(order))
        said.append(Wait(f"Do not start {listed(steps)} until {until}.", tuple(steps), tuple(rules[until])))
    return said


def _awaited(report: Report) -> dict[str, Awaited]:
    """For each step that waits for a laboratory what the calendar presumes."""
    return {row.step: row.waits_for for row in report.order if row.waits_for}


def _until_at(finding: Finding, awaited: Awaited | None, report: Report) -> str:
    """Until when one step waits: for all results that it waits for, if the finding asks for one, with their days."""
    if awaited is None or not any(map(result_time, finding.adds)):
        return localized(_until(finding), report.plan.units)
    return f"{localized(awaited.is_in, report.plan.units)} (about {awaited.days})"


def _until(finding: Finding) -> str:
    words = screen_words()
    for do in finding.adds:
        if do in words["until"]:
            return until_words(finding, do)
    if finding.kind == "refer":
        return f"{who_words(finding.who)} has it in hand" if finding.who.startswith(LICENSED) else "you have asked"
    return str(words["until_rule"].get(finding.rule, ""))


def until_words(finding: Finding, do: str) -> str:
    """What is waited for where the advice adds a step that does this: `somebody has looked at socket`."""
    return str(screen_words()["until"][do]).replace("{parts}", listed(list(finding.parts)) or "it")
