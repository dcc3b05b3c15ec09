"""The nearest name: one slip of the finger is understood, and a word like no other is not guessed at."""

import pytest

from advisor.errors import did_you_mean, nearest

ACTIONS = ["sand", "snap lines", "prime", "paint", "hand plane"]


@pytest.mark.parametrize("word", ["snad", "sandd", "snd", "Sand"])
def test_one_slip_of_the_finger_finds_the_word_meant(word: str) -> None:
    assert nearest(word, ACTIONS) == "sand"


def test_a_word_far_from_all_others_gets_no_guess() -> None:
    assert did_you_mean("nosuch", ["joint-wide-enough", "first-coat"]) == ""
