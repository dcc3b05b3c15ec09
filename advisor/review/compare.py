"""Two reviews side by side: what is gone, moved or answered, what is new, what still speaks, and what is still open."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct, field

from advisor.review.asked import OpenPractice
from advisor.review.finding import Finding
from advisor.review.model import Report
from advisor.review.set_aside import Answered, HoldPoint
from advisor.review.told_once import told
from advisor.site.verdicts import MOVE


class ToldAs(Struct, frozen=True):
    """A finding as reports tell it: one may stand for several."""

    id: str
    rule: str
    title: str


class Comparison(Struct, frozen=True):
    """Findings of an old and a new review, by id. A changed signal counts as gone and new."""

    gone: tuple[Finding, ...]  # the plan changed so that they speak no more
    moved: tuple[Finding, ...]  # gone because a step of the plan stands elsewhere now
    answered: tuple[Answered, ...]  # of the new plan: they wait for what is to get or to find out
    new: tuple[Finding, ...]
    same: tuple[Finding, ...]
    open: tuple[OpenPractice, ...]  # of the new plan
    holds: tuple[HoldPoint, ...]  # of the new plan
    names: Mapping[str, ToldAs] = field(default_factory=dict)  # by the id of each finding how a report tells it

    def told_as(self, finding: Finding) -> ToldAs:
        """The finding that a report tells it in; itself where it is told alone."""
        return self.names.get(finding.id, ToldAs(finding.id, finding.rule, finding.title))

    def worst_new(self) -> int:
        """The gravest new signal as a rank; -1 where nothing is new."""
        return max((f.rank for f in self.new), default=-1)


def compare(old: Report, new: Report) -> Comparison:
    """What became of the findings."""
    before = {(f.id, f.signal) for f in old.findings}
    after = {(f.id, f.signal) for f in new.findings}
    waiting = {one.about.id for one in new.answered if one.finding}
    gone = [f for f in old.findings if (f.id, f.signal) not in after and f.id not in waiting]
    moved = [f for f in gone if _by_moving(f, new)]
    return Comparison(
        tuple(f for f in gone if f not in moved),
        tuple(moved),
        tuple(new.answered),
        tuple(f for f in new.findings if (f.id, f.signal) not in before),
        tuple(f for f in new.findings if (f.id, f.signal) in before),
        tuple(new.open),
        tuple(new.holds),
        {
            name: ToldAs(one.id, one.rule, one.title)
            for report in (old, new)
            for one in told(report.findings, report.plan)
            for name in one.of or (one.id,)
        },
    )


def _by_moving(finding: Finding, new: Report) -> bool:
    """Whether it asked for another order of steps that the plan still has."""
    steps = {step.id for step in new.plan.steps}
    if finding.kind == "precede":
        return {finding.step, finding.first} <= steps
    return finding.answer[:1] == (MOVE,) and {finding.step, *finding.answer[1:]} <= steps
