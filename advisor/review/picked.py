"""The findings of one signal word and graver, for forms of the report that are read by programs or by the line."""

from __future__ import annotations

from msgspec.structs import replace

from advisor.review.model import NotTold, Report
from advisor.review.told_once import told
from advisor.rulebase.model import SIGNALS


def picked(report: Report, word: str) -> Report:
    """The report with what is told at that word or a graver one; how much else there was goes with it."""
    least = SIGNALS.index(word)
    shown = told(report.findings, report.plan)
    kept = {name for finding in shown if finding.rank >= least for name in (finding.id, *finding.of)}
    left = [one for one in report.open if one.rank < least]
    count = sum(finding.rank < least for finding in shown)
    return replace(
        report,
        findings=[finding for finding in report.findings if finding.id in kept],
        open=[one for one in report.open if one.rank >= least],
        left_out=NotTold(word, count, len({one.rule for one in left})),
    )
