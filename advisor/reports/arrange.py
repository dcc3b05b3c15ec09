"""The arrangement that every report for people shares: first things, then steps in order."""

from __future__ import annotations

from dataclasses import dataclass

from advisor.engine.run import Drawn
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


# Steps that come before any work, by design: a test whose result decides the rest, and a permit.
_FIRST_STEPS = frozenset({"test for lead", "test for asbestos", "get permit"})


def goes_first(finding: Finding) -> bool:
    """Whether a finding of a step is still met before anything else: to a trade, a test, a permit."""
    return finding.kind == "refer" or bool(_added_steps(finding) & _FIRST_STEPS)


def _added_steps(finding: Finding) -> set[object]:
    """What the steps do that the finding's advice adds. A finding that no rule drew has none."""
    advice = [a for drawn in finding.drawn if isinstance(drawn, Drawn) for a in drawn.conclusion.advice]
    return {dict(a.values).get("do") for a in advice if a.form == "add"}


def same(finding: Finding) -> tuple[object, ...]:
    """What two findings have in common that a reader meets as one, named with all its steps."""
    numbers = tuple((n.name, n.value, n.place) for n in finding.numbers)
    return finding.rule, finding.signal, finding.what, finding.because, numbers


def arrange(report: Report) -> Arranged:
    """Sort the findings: what goes first, and the rest under the first step that each is about."""
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
        if finding.step is None or goes_first(finding):
            first.append(entry)
        else:
            by_step.setdefault(finding.step, []).append(entry)
    first.sort(key=lambda e: -e.finding.rank)
    return Arranged(first, [(step, by_step[step]) for step in order])
