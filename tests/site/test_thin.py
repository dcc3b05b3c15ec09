"""Thin plans of three to six lines, with the questions of somebody who had not read the rules.

Measured first, before anything was mended for them: 25 of the 43 expected questions of warning or above were told as a
finding or stood among the first eight (counted by hand from the printed reports). After usual words, measures and
questions asked in one breath: 31. The bounds here are what is kept, not what is wanted: nine in ten are wanted. What is
missed hangs on rules or places that are not there (the ceiling around a fan, the earth behind a basement wall, ways out
of a basement, the outlet of a laundry, what carries a porch), so no evaluation of these rules can ask for it.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest
from thin_plans import FIRST, GRAVE, THIN, expected, met, names, settled

from advisor.review.model import Report
from advisor.review.reviewing import review


@cache
def _report(name: str) -> Report:
    return review(THIN / f"{name}.yaml")


def test_most_grave_questions_are_told_or_stand_first(capsys: Any) -> None:
    asked = [one for name in names() for one in expected(name) if one.signal in GRAVE]
    missed = [f"{one.plan}: {one.about}" for one in asked if not met(one, _report(one.plan))]
    with capsys.disabled():
        print(f"\n{len(asked) - len(missed)} of {len(asked)} grave questions told or among the first {FIRST}")
    assert len(asked) > 40
    assert len(missed) <= LEFT, missed


LEFT = 12


def test_eight_answers_settle_most_of_what_is_grave(capsys: Any) -> None:
    done = total = 0
    for name in names():
        for seed in range(3):
            one, of = settled(name, seed)
            done, total = done + one, total + of
    with capsys.disabled():
        print(f"\n{done} of {total} grave open practices settled by the first {FIRST} answers")
    assert total > 100
    assert done >= SETTLED * total


SETTLED = 0.65


@pytest.mark.parametrize("name", names())
def test_a_thin_plan_is_never_told_to_go_ahead(name: str) -> None:
    """Each has something open, and says so before anything else."""
    report = _report(name)

    assert report.open
    assert report.questions
    assert all(account.known for account in report.account)
