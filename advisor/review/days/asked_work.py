"""Work that findings ask for beside the steps of a plan: to set up, to wash and let dry, to clean and to check."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from functools import lru_cache
from typing import Any

from msgspec import Struct

from advisor.review.finding import Finding
from advisor.review.order.constraints import minutes
from advisor.tables import rules_words, words_listed
from advisor.units import read_quantity


class AskedWork(Struct, frozen=True):
    """One such piece of work: its name, its time, and the hands-off time after it [min]."""

    name: str
    work: int
    wait: int
    along: bool = False  # its wait runs together with the one before it: wood rests while its coat dries


class AskedOfStep(Struct, frozen=True):
    """What is asked before a step and after it, each in the order in which it is done."""

    before: tuple[AskedWork, ...] = ()
    after: tuple[AskedWork, ...] = ()


class _AskedRow(Struct, frozen=True):
    """A row of the table, with the actions at whose steps it is no work of its own."""

    asked: AskedWork
    not_at: tuple[str, ...]


_Side = dict[str, _AskedRow]  # by rule, or by the action that advice adds
_BEFORE, _AFTER, _BEHIND = _SIDES = ("before", "after", "behind")


def asked_work(findings: Iterable[Finding], actions: Mapping[str, str]) -> dict[str, AskedOfStep]:
    """By step; what only follows from advice counts too, since the calendar is that of the advice.

    `actions` tells what is done at each step."""
    keys: dict[str, dict[str, set[str]]] = {}  # by step and side, the rows that are asked for
    for finding in findings:
        if finding.step is not None and finding.kind in ("require", "warn"):
            for side, step, key in _rows_of(finding):
                keys.setdefault(step, {}).setdefault(side, set()).add(key)
    found = {}
    for step, own in sorted(keys.items()):
        before, after, behind = (_named(side, own.get(side, set()), actions.get(step, "")) for side in _SIDES)
        found[step] = AskedOfStep(before, behind + after)
    return {step: one for step, one in found.items() if one.before or one.after}


def _rows_of(finding: Finding) -> Iterator[tuple[str, str, str]]:
    """The rows that a finding asks for: side, step and key. A rule that has a row goes by that alone."""
    own = [side for side in _SIDES if finding.rule in _known()[side]]
    if {_BEFORE, _AFTER} & {*own}:
        yield from ((side, str(finding.step), finding.rule) for side in own)
        return
    for place, step, action in _added(finding):
        # Behind its step it is done long before the one that it is asked for: stripper is washed off at once.
        side, key = (_BEFORE if place == _BEFORE else _BEHIND), (finding.rule if own else action)
        if key in _known()[side]:
            yield side, step, key


def _added(finding: Finding) -> set[tuple[str, str, str]]:
    """What the advice of a finding adds: before or after, which step, and what is done."""
    return {
        (advice.place[0], str(drawn.env[advice.place[1].name]), str(dict(advice.values).get("do")))
        for drawn in finding.drawn
        for advice in drawn.conclusion.advice
        if advice.form == "add" and advice.place is not None
    }


def uncounted(findings: Iterable[Finding], steps: Collection[str]) -> tuple[str, ...]:
    """What advice adds to these steps besides: work without hours here, a word for each piece at each step."""
    known = _known()
    pieces = set()
    for finding in findings:
        if finding.step not in steps or finding.decides or any(finding.rule in known[side] for side in _SIDES):
            continue
        rows = {key for _, _, key in _rows_of(finding)} if finding.kind in ("require", "warn") else set()
        pieces |= {(finding.step, do) for do in finding.adds if do not in rows}
    return tuple(sorted(do for _, do in pieces))


def _named(side: str, keys: set[str], action: str) -> tuple[AskedWork, ...]:
    """What is asked for on one side of a step, in the order of the list, each name once."""
    rows = (row for key, row in _known()[side].items() if key in keys and action not in row.not_at)
    return tuple(dict.fromkeys(row.asked for row in rows))


@lru_cache(maxsize=1)
def _known() -> dict[str, _Side]:
    plain: dict[str, Any] = rules_words("report/asked_work.yaml")
    return {side: {key: _row(said) for key, said in plain[side].items()} for side in _SIDES}


def _row(said: dict[str, str]) -> _AskedRow:
    work, wait = (minutes(read_quantity(said.get(key, "0 min"), "time").si) for key in ("work", "wait"))
    asked = AskedWork(said["name"], work, wait, said.get("along") == "yes")
    return _AskedRow(asked, words_listed(said.get("not_at", "")))
