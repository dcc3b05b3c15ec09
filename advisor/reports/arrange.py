"""The arrangement that every report for people shares: first things, then steps in order."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.review.model import Finding, Report


@dataclass(slots=True)
class Entry:
    """A finding as shown once, with all the steps that it is about."""

    finding: Finding
    steps: list[str]


@dataclass(slots=True)
class Arranged:
    """Findings in the places where a reader meets them."""

    first: list[Entry]
    steps: list[tuple[str, list[Entry]]]


def same(finding: Finding) -> tuple[object, ...]:
    """What two findings have in common that a reader meets as one, named with all its steps."""
    numbers = tuple((n.name, n.value, n.place) for n in finding.numbers)
    return finding.rule, finding.signal, finding.what, finding.because, numbers


def arrange(report: Report) -> Arranged:
    """Sort the findings: plan-wide and referrals first, the rest under the first step that they are about."""
    order = [str(o["step"]) for o in report.order]
    first: list[Entry] = []
    by_step: dict[str, list[Entry]] = {step: [] for step in order}
    merged: dict[tuple[object, ...], Entry] = {}
    rank = {step: place for place, step in enumerate(order)}
    # Within a signal word, what follows from advice comes after the advice: first test, then wait for the result.
    for finding in sorted(
        report.findings, key=lambda f: (rank.get(f.step or "", -1), -f.rank, f.advised, f.rule, f.id)
    ):
        key = same(finding)
        if key in merged:
            merged[key].steps.append(finding.step or "")
            continue
        entry = Entry(finding, [finding.step or ""])
        merged[key] = entry
        if finding.step is None or finding.kind == "refer":
            first.append(entry)
        else:
            by_step.setdefault(finding.step, []).append(entry)
    first.sort(key=lambda e: -e.finding.rank)
    return Arranged(first, [(step, by_step[step]) for step in order])
