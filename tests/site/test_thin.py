"""Thin plans of three to six lines, with the questions of somebody in the trade, written before they were tried.

`thin/` (twelve plans) was written by somebody who had not read the rules, `thin_more/` (six) by whoever mended what the
twelve showed, before any of the mends: it guards against mending single plans.

Of the expected questions of warning or above told as a finding or among the first eight, first and last: 30 and 42 of
43 in the twelve; 18 of 30 and 26 of 30 in the six (three of the eight gained are rules that spoke before, judged
later). Of what was open at warning or above, settled by the first eight answers: 74 and 90 %; in the six 69 and 88 %.
With signal words by harm and practices gathered: 41 of 43 and 26 of 30; 90.6 and 92 %.
With three hundred rules more: 38 of 43 and 23 of 30; of what was open 90 and 87.2 %: new questions (smoke alarms,
windows that open) pushed out who lives in the house. With what is asked of a room, of the house, of a wall's part in it
and of gear put together, and an alarm weighed as what is asked of any work: 43 of 43 and 27 of 30; 94 and 93.5 %.
Three draws of the answers swing by two in a hundred; by eight draws it was then 92.8 and 92.4 %. Since what is silly at
such a thing is not open any more (a fifth of what was, and all of it settled easily): 92.3 and 92.9 %.
The three that the six miss: asbestos in the putty of a window that the plan does not list, whether a wall that it does
not list keeps fire from the house, and carbon monoxide alarms, which a finding asks for once it is known that fuel
burns.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import pytest
from thin_plans import FIRST, GRAVE, MORE, THIN, expected, met, names, settled

from advisor.review.model import Report
from advisor.review.reviewing import review

# at least so many in a hundred of the expected questions, and of what is open; the six are measured, not mended for
BOUNDS = [(THIN, 97, 92), (MORE, 90, 92)]
DRAWS = 8  # of the answers; the bound of the issue is 90


@cache
def _report(name: str, folder: Path) -> Report:
    return review(folder / f"{name}.yaml")


@pytest.mark.parametrize(("folder", "told", "_"), BOUNDS, ids=lambda b: b.name if isinstance(b, Path) else str(b))
def test_most_grave_questions_are_told_or_stand_first(folder: Path, told: int, _: int, capsys: Any) -> None:
    asked = [one for name in names(folder) for one in expected(name, folder) if one.signal in GRAVE]
    missed = [f"{one.plan}: {one.about}" for one in asked if not met(one, _report(one.plan, folder), folder)]
    with capsys.disabled():
        print(f"\n{len(asked) - len(missed)} of {len(asked)} grave questions told or among the first {FIRST}")
    assert len(asked) >= 30
    assert 100 * (len(asked) - len(missed)) >= told * len(asked), missed


@pytest.mark.parametrize(("folder", "_", "share"), BOUNDS, ids=lambda b: b.name if isinstance(b, Path) else str(b))
def test_eight_answers_settle_most_of_what_is_grave(folder: Path, _: int, share: int, capsys: Any) -> None:
    done = total = 0
    for name in names(folder):
        for seed in range(DRAWS):
            one, of = settled(name, seed, folder)
            done, total = done + one, total + of
    with capsys.disabled():
        print(f"\n{done} of {total} grave open practices settled by the first {FIRST} answers")
    assert total > 100
    assert 100 * done >= share * total


@pytest.mark.parametrize("name", names())
def test_a_thin_plan_is_never_told_to_go_ahead(name: str) -> None:
    """Each has something open, and says so before anything else."""
    report = _report(name, THIN)

    assert report.open
    assert report.questions
    assert all(account.known for account in report.account)
