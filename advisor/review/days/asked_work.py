"""Work that findings ask for beside the steps of a plan: to set up, to wash and let dry, to clean and to check."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from functools import lru_cache
from typing import Any

from msgspec import Struct

from advisor.review.finding import Finding
from advisor.review.order.constraints import minutes
from advisor.tables import rules_words
from advisor.units import read_quantity


class AskedWork(Struct, frozen=True):
    """One such piece of work: its name, its time, and the hands-off time after it [min]."""

    name: str
    work: int
    wait: int


class AskedOfStep(Struct, frozen=True):
    """What is asked before a step and after it, each in the order in which it is done."""

    before: tuple[AskedWork, ...] = ()
    after: tuple[AskedWork, ...] = ()


def asked_work(findings: Iterable[Finding]) -> dict[str, AskedOfStep]:
    """By step; what only follows from advice counts too, since the calendar is that of the advice."""
    before, after, behind = _known()
    rules: dict[str, set[str]] = {}
    earlier: dict[str, set[str]] = {}  # by the step behind which it is done, long before the one that it is asked for
    for finding in findings:
        if finding.step is not None and finding.kind in ("require", "warn"):
            rules.setdefault(finding.step, set()).add(finding.rule)
            for step in _added_after(finding) if finding.rule in behind else ():
                earlier.setdefault(step, set()).add(finding.rule)
    found = {
        step: AskedOfStep(
            _named(before, rules.get(step, set())),
            _named(behind, earlier.get(step, set())) + _named(after, rules.get(step, set())),
        )
        for step in sorted({*rules, *earlier})
    }
    return {step: one for step, one in found.items() if one.before or one.after}


def _added_after(finding: Finding) -> set[str]:
    """The steps behind which the advice of a finding adds work."""
    return {
        str(drawn.env[advice.place[1].name])
        for drawn in finding.drawn
        for advice in drawn.conclusion.advice
        if advice.form == "add" and advice.place is not None and advice.place[0] == "after"
    }


def uncounted(findings: Iterable[Finding], steps: Collection[str]) -> tuple[str, ...]:
    """What advice adds to these steps besides: work without hours here, a word for each piece at each step."""
    counted = {rule for side in _known() for rule in side}
    pieces = {
        (finding.step, do)
        for finding in findings
        if finding.step in steps and finding.rule not in counted and not finding.decides
        for do in finding.adds
    }
    return tuple(sorted(do for _, do in pieces))


def _named(side: dict[str, AskedWork], rules: set[str]) -> tuple[AskedWork, ...]:
    """What the rules ask for on one side of a step, in the order of the list, each name once."""
    return tuple(dict.fromkeys(asked for rule, asked in side.items() if rule in rules))


@lru_cache(maxsize=1)
def _known() -> tuple[dict[str, AskedWork], dict[str, AskedWork], dict[str, AskedWork]]:
    plain: dict[str, Any] = rules_words("report/asked_work.yaml")
    before, after, behind = (
        {rule: _asked(said) for rule, said in plain[side].items()} for side in ("before", "after", "behind")
    )
    return before, after, behind


def _asked(said: dict[str, str]) -> AskedWork:
    work, wait = (minutes(read_quantity(said.get(key, "0 min"), "time").si) for key in ("work", "wait"))
    return AskedWork(said["name"], work, wait)
