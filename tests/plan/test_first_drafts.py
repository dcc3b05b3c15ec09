"""First drafts of people who know the trade: the right hint first, hardly a misleading one, and mended by the hints.

The drafts and their judgements are in `first_drafts/`; its README has the first result and the last.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.plan import read_plan
from advisor.rulebase.vocabulary import Vocabulary
from advisor.rulebase.vocabulary_files import load_vocabulary
from tests.plan.first_drafts import HERE, judge, load_mistakes, measure
from tests.plan.trade_words import RULES

MENDED = sorted((HERE / "mended").glob("[abc]/[1-8].yaml"))


@pytest.fixture(scope="module")
def vocabulary() -> Vocabulary:
    return load_vocabulary([RULES])


def test_the_mistakes_get_the_right_hint_first(vocabulary: Vocabulary) -> None:
    """Of those still refused, three in four are answered rightly; of all, hardly one points to a wrong thing."""
    found, which = measure(vocabulary)
    all_of_them = sum(found.values())
    refused = all_of_them - found["taken"]

    assert all_of_them == len(load_mistakes()) == 492
    assert found["right"] >= 0.75 * refused, which["none"]
    assert found["misleading"] <= 0.03 * refused, which["misleading"]


def test_the_judge_tells_hints_apart() -> None:
    row = {"says": "step 's' has an unknown tool, 'x'", "right": "hammer", "short": "mallet"}

    assert judge(row, []) == "taken"
    assert judge(row, [f"{row['says']}. Expected a tool; nearest: 'hammer'."]) == "right"
    assert judge(row, [f"{row['says']}. Expected a tool; nearest: 'mallet'."]) == "some"
    assert judge(row, [f"{row['says']}. Expected a tool; nearest: 'drill'."]) == "misleading"
    assert judge(row, [f"{row['says']}. Expected a tool. See 'advisor vocabulary hammer'."]) == "none"


def test_every_draft_has_its_mended_plan() -> None:
    assert len(MENDED) == 24


@pytest.mark.parametrize("path", MENDED, ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_mended_drafts_are_taken(path: Path, vocabulary: Vocabulary) -> None:
    assert read_plan(path, vocabulary).steps
