"""Whom to call and for which steps: trades, laboratories, the building department."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.reports.arrange import Entry, arrange
from advisor.reports.begin import TRADE_NOTE
from advisor.review.metric import localized
from advisor.review.model import Report
from advisor.review.who import LABORATORY, LICENSED, LOCAL_CODE, before_all, trades_touched, who_words
from advisor.review.wording import listed

_DEPARTMENT = "your building department"
_ASKED_TOO = " about a permit too"


def calls(entries: Sequence[Entry], report: Report) -> dict[str, list[str]]:
    """Whom to call, each with the steps: trades, laboratories, the building department."""
    found: dict[str, list[str]] = {}
    for entry in entries:
        who = entry.finding.who
        if entry.finding.rank == 0 or (who not in (LABORATORY, LOCAL_CODE) and not who.startswith(LICENSED)):
            continue
        name = _DEPARTMENT if who == LOCAL_CODE else who_words(who)
        own = found.setdefault(name, [])
        own += [step for step in entry.steps if step and step not in own]
    if asked := before_all(report, "permit"):
        own = found.pop(_DEPARTMENT, [])
        found[f"{_DEPARTMENT}{_ASKED_TOO}"] = [*own, *(step for step in asked if step not in own)]
    for trade, touched in trades_touched(report.plan).items():
        name = who_words(LICENSED + trade)
        if left := [step for step in touched if step not in found.get(name, ())]:
            found[f"{name} {TRADE_NOTE}"] = left
    return found


def call_words(entries: Sequence[Entry], report: Report) -> str:
    """The same on one line."""
    said = [f"{name} ({', '.join(steps)})" if steps else name for name, steps in calls(entries, report).items()]
    return localized("; ".join(said), report.plan.units)


def call_short(entries: Sequence[Entry], report: Report) -> str:
    """Whom to call, without the steps: where a line has no room for them."""
    names = (name.removesuffix(_ASKED_TOO).partition(" ")[2] for name in calls(entries, report))  # no `a` and `your`
    return localized("; ".join(names), report.plan.units)


def there_at(report: Report) -> dict[str, str]:
    """For each step who is to be asked or to be there before it begins, in words."""
    found: dict[str, list[str]] = {}
    for name, steps in calls(arrange(report).entries(), report).items():
        for step in steps:
            found.setdefault(step, []).append(name.removesuffix(_ASKED_TOO))
    return {step: localized(listed(names), report.plan.units) for step, names in found.items()}
