"""Patterns that are compiled when they are used, and words looked for without one."""

from __future__ import annotations

import pickle
import re

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from advisor import later
from advisor.reports.notes import _stands


def test_a_pattern_does_what_a_compiled_one_does() -> None:
    """Each method, and what is wrong with it at its first use."""
    told = later.pattern("(A+)b", re.IGNORECASE)

    assert told.sub(r"<\1>", "xaab") == "x<aa>"
    assert told.fullmatch("aB")
    assert told.pattern == "(A+)b"
    with pytest.raises(re.error):
        later.pattern("(").match("")


@given(st.text("as-_ e.é1"), st.sampled_from(["a", "as", "e a", "é", "1", "a-s"]))
@example("aes", "a")
@example("ass a", "a")
@example("a-s", "a")
def test_a_word_of_the_glossary_stands_where_the_pattern_finds_it(text: str, word: str) -> None:
    """The pattern that said it before."""
    pattern = rf"(?<![\w-]){re.escape(word)}(?:s|es)?(?![\w-])"

    assert _stands(word, text) == bool(re.search(pattern, text))


def test_a_row_is_made_once_it_is_looked_into_and_is_a_tuple_to_everybody() -> None:
    """Not before, not twice; equal, hashed and pickled as the tuple of the same."""
    made: list[int] = []

    def make() -> list[int]:
        made.append(1)
        return [3, 4]

    row, alike = later.LaterRow(make), (3, 4)
    assert not made
    assert (row, len(row), row[1], list(row), bool(row)) == (alike, 2, 4, [3, 4], True)
    assert hash(row) == hash(alike)
    assert repr(row) == repr(alike)
    assert row != (3, 5)
    assert row == later.LaterRow(lambda: (3, 4))
    assert type(pickle.loads(pickle.dumps(row))) is tuple
    assert made == [1]
