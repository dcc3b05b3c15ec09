"""One practice, one finding: all that a rule says of a plan, with the steps and things that it says it of."""

from __future__ import annotations

from collections.abc import Iterable
from functools import reduce

from msgspec import Struct

from advisor.plan.model import Basis
from advisor.review.finding import Finding
from advisor.review.wording import Wording, joined
from advisor.rulebase.model import SIGNALS


class ToldPractice(Struct, frozen=True):
    """A rule that speaks. `findings` are what it says step by step, in the order of the plan's steps."""

    findings: tuple[Finding, ...]

    @property
    def first(self) -> Finding:
        """The finding at its first step, whose id is the practice's. The ids of the others stay valid."""
        return self.findings[0]

    @property
    def gravest(self) -> Finding:
        """The first of those that carry its gravest word."""
        return max(self.findings, key=lambda f: f.rank)

    @property
    def advised(self) -> bool:
        """Whether it would not stand without other advice."""
        return all(finding.advised for finding in self.findings)

    @property
    def rests_on(self) -> tuple[Basis, ...]:
        """All that is presumed or unknown behind any of its findings."""
        return tuple(dict.fromkeys(basis for finding in self.findings for basis in finding.rests_on))

    def told(self) -> tuple[str, str, tuple[tuple[str, str], ...]]:
        """What is said, why, and the controls: for all its parts in one sentence, where one can hold them all."""
        wordings = [finding.wording for finding in self.findings]
        if len(wordings) > 1 and all(wordings):
            one = reduce(_both, wordings)
            if one is not None:
                return one.filled()
        return self.gravest.what, self.gravest.because, self.gravest.controls


def practices(findings: Iterable[Finding]) -> list[ToldPractice]:
    """The findings of each rule together, rules in the order in which they first speak."""
    found: dict[str, list[Finding]] = {}
    for finding in findings:
        found.setdefault(finding.rule, []).append(finding)
    return [ToldPractice(tuple(one)) for one in found.values()]


def counts(told: Iterable[ToldPractice]) -> dict[str, int]:
    """How many practices speak with each signal word, gravest first: one at several steps counts once."""
    own = [one.gravest.signal for one in told]
    return {word: own.count(word) for word in reversed(SIGNALS)}


def advised_counts(told: Iterable[ToldPractice]) -> dict[str, int]:
    """The same of those that would not stand without other advice."""
    return counts(one for one in told if one.advised)


def _both(one: Wording | None, other: Wording | None) -> Wording | None:
    return joined(one, other) if one is not None and other is not None else None
