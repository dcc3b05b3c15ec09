"""Two reviews side by side: findings gone, new and unchanged."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.review.model import Finding, Report


@dataclass(frozen=True, slots=True)
class Comparison:
    """Findings of an old and a new review, by id. A changed signal counts as gone and new."""

    gone: tuple[Finding, ...]
    new: tuple[Finding, ...]
    same: tuple[Finding, ...]

    def worst_new(self) -> int:
        """The gravest new signal as a rank; -1 where nothing is new."""
        return max((f.rank for f in self.new), default=-1)


def compare(old: Report, new: Report) -> Comparison:
    """What became of the findings."""
    before = {(f.id, f.signal) for f in old.findings}
    after = {(f.id, f.signal) for f in new.findings}
    return Comparison(
        tuple(f for f in old.findings if (f.id, f.signal) not in after),
        tuple(f for f in new.findings if (f.id, f.signal) not in before),
        tuple(f for f in new.findings if (f.id, f.signal) in before),
    )
