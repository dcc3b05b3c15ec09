"""Several ways to meet one finding, each tried on the plan: what it costs, how long it takes, what it leaves."""

from __future__ import annotations

from msgspec import Struct

from advisor.plan import read_plan
from advisor.review.compare import Comparison, compare
from advisor.review.finding import Finding
from advisor.review.model import Report
from advisor.review.reviewing import review_plan
from advisor.review.revision.revise import TakenChange, apply
from advisor.rulebase.base import RuleBase


class Way(Struct, frozen=True):
    """One way tried: its level of the hierarchy of controls, what was written, and what became of the plan."""

    level: str  # empty: the usual advice
    control: str  # the words of the rule for that level
    changes: tuple[TakenChange, ...]
    text: str
    report: Report
    proof: Comparison

    def becomes(self, finding: Finding) -> str:
        """What becomes of the finding itself: gone, answered or still there."""
        if finding.id in {f.id for f in self.report.findings}:
            return "still there"
        return "answered" if finding.id in {one.about.id for one in self.proof.answered} else "gone"

    def leaves(self) -> list[Finding]:
        """What the way brings along."""
        return list(self.proof.new)


def ways(text: str, name: str, finding: Finding, rulebase: RuleBase, old: Report) -> list[Way]:
    """Each way that the rule of the finding knows, best level first; the usual advice where it knows no other."""
    levels = [level for drawn in finding.drawn[:1] for level, _ in drawn.conclusion.ways]
    controls = dict(reversed(finding.controls))
    found = []
    for level in levels or [""]:
        changes: list[TakenChange] = []
        plan = read_plan(text, rulebase.vocabulary, name)
        after = apply(text, plan, [finding], rulebase, name, changes.append, level)
        report = review_plan(read_plan(after, rulebase.vocabulary, name), rulebase)
        found.append(Way(level, controls.get(level, ""), tuple(changes), after, report, compare(old, report)))
    return found
