"""Short lines of the page: how many findings, how much can be judged, what a change did."""

from __future__ import annotations

import re

from advisor.errors import clip
from advisor.reports.opened import open_practices
from advisor.review.compare import Comparison
from advisor.review.model import Report
from advisor.rulebase.model import SIGNALS

_NAMED = 3  # findings that a change is told with by name
_COMMAND = re.compile(r" See 'advisor [^']*'\.")
_FILE = re.compile(r" (?:List it first|Write)\b.*$", re.DOTALL)


def counts(report: Report) -> dict[str, int]:
    """Findings by signal word, and what is open."""
    return report.counts() | {"open": len(report.open)}


def gauge(report: Report) -> str:
    """How much of the plan can be judged."""
    speak = len({finding.rule for finding in report.findings})
    left = open_practices(report)
    met = len({rule for step in report.account for rule in step.met} - {f.rule for f in report.findings})
    told = f"Of {speak + left + met} practices that concern this plan {speak} are told below and {met} are kept"
    return f"{told}; {left} cannot be judged yet." if left else f"{told}."


def changed(found: Comparison) -> str:
    """What a change did to the findings: what is gone, what is new."""
    parts = []
    for group, word in (((*found.gone, *found.moved), "Gone"), (found.new, "New")):
        said = []
        for signal in reversed(SIGNALS):
            titles = list(dict.fromkeys(f.title for f in group if f.signal == signal))
            more = f" and {len(titles) - _NAMED} more" if len(titles) > _NAMED else ""
            said += [f"{signal.upper()}: {'; '.join(titles[:_NAMED])}{more}"] if titles else []
        parts += [f"{word}: {'. '.join(said)}."] if said else []
    return " ".join(parts) or "No warning is changed by it."


def plainly(message: str) -> str:
    """A message about a plan without what only somebody at a command line can use."""
    return _COMMAND.sub("", message)


def refused(message: str, value: str) -> str:
    """Why an answer was not taken, as it is told beside its field."""
    _, found, wanted = plainly(message).partition(" Expected ")
    if not found:
        return plainly(message)
    return f"'{clip(value)}' was not taken. Expected {_FILE.sub('', wanted)}"
