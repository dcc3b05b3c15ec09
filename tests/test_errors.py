"""The nearest name: one slip of the finger is understood, and a word like no other is not guessed at."""

import pytest

from advisor.errors import did_you_mean, nearest

ACTIONS = ["sand", "snap lines", "prime", "paint", "hand plane"]


@pytest.mark.parametrize("word", ["snad", "sandd", "snd", "Sand"])
def test_one_slip_of_the_finger_finds_the_word_meant(word: str) -> None:
    assert nearest(word, ACTIONS) == "sand"


def test_a_word_far_from_all_others_gets_no_guess() -> None:
    assert did_you_mean("nosuch", ["joint-wide-enough", "first-coat"]) == ""


TOOLS = ["air cleaner", "claw hammer", "discard bin", "hammer", "oil can", "power planer", "shoe covers", "elm"]


@pytest.mark.parametrize("word", ["dig", "shovel", "chair", "cellulose", "plan", "foil", "chandelier"])
def test_no_guess_is_made_from_letters_that_are_alike_by_chance(word: str) -> None:
    """Each of these once led to a word of another sense."""
    assert nearest(word, TOOLS) is None


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("sledgehammer", "hammer"),
        ("claw hamer", "claw hammer"),
        ("hammer drill", "hammer"),
        ("gipsum", "gypsum board"),
        ("box-fan", "box fan"),
        ("test-for-led", "test-for-lead@sand-doors"),
        ("tiles", "tile backer board"),
    ],
)
def test_a_word_shared_or_nearly_shared_finds_the_choice(word: str, meant: str) -> None:
    choices = [*TOOLS, "gypsum board", "box fan", "test-for-lead@sand-doors", "tile backer board"]

    assert nearest(word, choices) == meant
