"""The walk through the questions: it ends, asks nothing twice, and goes back to the very same text."""

from __future__ import annotations

from pathlib import Path

import pytest

from advisor.errors import InputError
from advisor.review.asking.walk import Walk
from advisor.rulebase.base import load_rulebase

SCENARIOS = Path(__file__).parents[2] / "scenarios"
HALL = (SCENARIOS / "trim-in-an-old-hall.yaml").read_text()


def begin(text: str = HALL) -> Walk:
    return Walk.begin(text, "x.yaml", load_rulebase())


@pytest.mark.parametrize("name", ["trim-in-an-old-hall", "thin-first-draft"])
def test_dont_know_to_all_ends_asks_none_twice_and_changes_no_byte(name: str) -> None:
    """Every question once; as many as were announced."""
    text = (SCENARIOS / f"{name}.yaml").read_text()
    walk = begin(text)
    announced, asked = walk.left(), []
    while walk.asked is not None:
        asked.append(walk.asked.key)
        walk = walk.dont_know()

    assert len(asked) == len(set(asked)) == announced > 10
    assert walk.text == text


def test_an_answer_is_written_where_it_belongs_and_tells_what_it_changed() -> None:
    """A beard: one line comes, and the practice about masks that do not seal."""
    walk = begin()
    while walk.asked is not None and "facial_hair" not in {key[2] for key in walk.asked.keys}:
        walk = walk.dont_know()
    after = walk.answer("facial hair: yes")
    changed = [line for line in after.text.splitlines() if line not in HALL.splitlines()]

    assert [line.count("facial_hair: yes") for line in changed] == [1]
    assert after.changed is not None
    assert [f.rule for f in after.changed.new] == ["beard-breaks-seal"]
    assert after.asked is not None
    assert after.asked.key != walk.asked.key  # type: ignore[union-attr]


def test_back_is_the_walk_before() -> None:
    """The same text and the same question, also after an answer; at the start it stays."""
    walk = begin()
    first = walk.asked
    there = walk.dont_know()
    answered = there.answer(there.asked.choices[0].value)  # type: ignore[union-attr]

    assert answered.text != HALL
    assert (answered.back().text, answered.back().asked) == (HALL, there.asked)
    assert answered.back().back().asked == first
    assert walk.back() is walk


def test_later_comes_last_and_only_once() -> None:
    """Put off at first, it is the last one; put off again it is over."""
    walk = begin()
    first = walk.asked.key  # type: ignore[union-attr]
    walk = walk.later()
    keys = []
    while walk.asked is not None:
        keys.append(walk.asked.key)
        walk = walk.later() if walk.asked.key == first else walk.dont_know()

    assert (keys[-1], keys.count(first)) == (first, 1)


def test_choices_are_words_to_choose_from_and_never_one_alone() -> None:
    """On every scenario: none, or at least two that differ; a number stands for its choice."""
    walk = begin((SCENARIOS / "galley-kitchen-faulty.yaml").read_text())
    found = []
    while walk.asked is not None:
        found.append(walk.asked.choices)
        assert walk.why()
        walk = walk.dont_know()

    assert len(found) > 40
    assert all(len({(one.attribute, one.value) for one in choices}) != 1 for choices in found)


def test_what_does_not_fit_leaves_the_walk_as_it_is() -> None:
    """One message, no change."""
    walk = begin()
    with pytest.raises(InputError, match="Expected"):
        walk.answer("purple")

    assert walk.asked == begin().asked
