"""Short lines of the page: how many findings, how much can be judged, what a change did."""

from __future__ import annotations

from advisor.review.compare import Comparison
from advisor.review.model import Report

_WORDS = ("danger", "warning", "caution", "notice")
_MOST_NAMED = 3


def _count(number: int, word: str) -> str:
    return f"{number} {word}{'s' * (number != 1)}"


def counts(report: Report) -> dict[str, int]:
    """Findings by signal word, and what is open."""
    return {word: report.count(word) for word in _WORDS} | {"open": len(report.open)}


def gauge(report: Report) -> str:
    """How much of the plan can be judged."""
    speak = len({finding.rule for finding in report.findings})
    left = len({one.rule for one in report.open})
    met = len({rule for step in report.account for rule in step.met} - {f.rule for f in report.findings})
    return f"{speak + left + met} practices concern this plan; {speak} speak, {met} are met, {left} cannot be told yet."


def changes(found: Comparison) -> str:
    """What a change did to the findings, in one sentence or two."""
    parts = []
    for group, one, many in ((found.new, "comes", "come"), ((*found.gone, *found.moved), "goes", "go")):
        for word in _WORDS:
            mine = [finding for finding in group if finding.signal == word]
            names = list(dict.fromkeys(finding.title for finding in mine))
            if mine:
                listed = "; ".join(names[:_MOST_NAMED]) + (" …" if len(names) > _MOST_NAMED else "")
                parts.append(f"{_count(len(mine), word)} {one if len(mine) == 1 else many} ({listed})")
    still = f" {_count(len(found.open), 'practice')} cannot be told yet." if found.open else ""
    return (f"{', '.join(parts)}." if parts else "No finding comes or goes.") + still
