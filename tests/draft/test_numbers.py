"""Measures as people say them. Values by plain arithmetic; units are checked against `pint` elsewhere."""

from __future__ import annotations

import pytest

from advisor.draft.language import load_language
from advisor.draft.numbers import Amount
from advisor.draft.tokens import tokens_of


def first(text: str) -> Amount:
    """The amount with which a text begins."""
    found = load_language().measures.amount(tokens_of(text), 0)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("said", "written"),
    [
        ("40 inches wide", "40 in"), ("5 ft 6 in", "66 in"), ("5'6\" tall", "66 in"), ("8 foot 2", "98 in"),
        ("1-1/4 in", "1-1/4 in"), ("1 1/2\" pipe", "1-1/2 in"), ("3/4 inch", "3/4 in"), ("½ inch", "1/2 in"),
        ("three quarters of an inch", "3/4 in"), ("seven eighths inch", "7/8 in"), ("thirty two inches", "32 in"),
        ("half a quart", "1/2 qt"), ("a quart", "1 qt"), ("two and a half gallons", "2-1/2 gal"),
        ("an hour and a half", "1-1/2 h"), ("a couple of hours", "2 h"), ("$400", "400 USD"),
        ("1,200 dollars", "1200 USD"),
        ("20a", "20 A"), ("68 degrees", "68 °F"), ("8 %", "8 %"), ("a hundred", "100"),
        ("two hundred square feet", "200 sqft"),
        ("a dozen", "12"), ("1930s", "1930s"), ("thirties", "1930s"), ("'70s", "1970s"),
    ],
)  # fmt: skip
def test_said_and_written(said: str, written: str) -> None:
    """As a plan writes it."""
    assert first(said).text == written


@pytest.mark.parametrize("said", ["2-3 hours", "2 to 3 hours", "30 or 40 inches"])
def test_a_range_is_no_value(said: str) -> None:
    """It has two ends and no text of its own."""
    assert (first(said).sort, first(said).text) == ("range", "")


def test_a_few_is_no_number() -> None:
    """Nothing is written for it."""
    assert first("a few hours").text == ""


def test_in_is_a_preposition_before_a_place() -> None:
    """`3 in the kitchen` are no inches."""
    assert first("3 in the kitchen").unit == ""


def test_inches_by_inches() -> None:
    """A pair keeps both measures."""
    assert [part.text for part in first("10 by 12 ft").parts] == ["10 ft", "12 ft"]
