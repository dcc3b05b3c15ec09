"""Where the house stands, in a person's own words: a country that is named is heard, less is offered or asked.

Expectations are common sense of the language, written before any text was tried; no outside source. Volts: IEC 60038.
"""

from __future__ import annotations

import pytest
import yaml

from advisor.draft.draft import Draft, draft
from advisor.draft.writing import as_yaml
from advisor.plan import read_plan
from advisor.rulebase.base import load_rulebase

PAINT = " We paint the hall."


def heard(text: str) -> Draft:
    return draft(text, load_rulebase())


def country_of(text: str) -> str | None:
    found = heard(text).plan.get("house", {}).get("country")
    return None if found is None else str(found)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("We live in Germany.", "DE"),
        ("Our house is in the UK.", "GB"),
        ("The house in France is from 1950.", "FR"),
        ("I live in New Zealand and want a new deck.", "NZ"),
        ("Our flat in Ireland has an old boiler.", "IE"),
        ("We are in Canada, and the kitchen is old.", "CA"),
        ("My home is in Australia.", "AU"),
        ("We live in Norway.", "NO"),
        ("We live in the United States.", "US"),
    ],
)
def test_a_country_that_is_named_is_heard(text: str, code: str) -> None:
    assert country_of(text + PAINT) == code


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("It is a German house.", "DE"),
        ("A British flat on the first floor.", "GB"),
        ("We used to live in Germany.", "DE"),
        ("We do not live in Germany.", "DE"),
        ("My flat in Cork, Ireland, is old.", "IE"),
    ],
)
def test_less_than_that_is_offered_and_none_is_presumed(text: str, code: str) -> None:
    found = heard(text + PAINT)
    assert found.plan["house"] == {"country": "unknown"}
    offered = {(c.path(), c.value) for one in found.unsure for c in one.candidates}
    assert ("house.country", code) in offered
    assert read_plan(yaml.safe_load(as_yaml(found)), load_rulebase().vocabulary).place.how == "unknown"


@pytest.mark.parametrize(
    "text",
    [
        "We tile the kitchen with tiles from Spain.",
        "I hang the china cabinet in the hall.",
        "We roast the turkey later and paint the hall.",
        "We live in Georgia and paint the hall.",  # a state too
        "French doors go into the hall. We paint the hall.",
        "Paint the hall in Dublin gray.",
    ],
)
def test_goods_things_and_states_are_no_country(text: str) -> None:
    assert country_of(text) is None


@pytest.mark.parametrize(
    "text",
    [
        "Our budget is £300.",
        "We have 500 euros for it.",
        "The outlet is 230 V.",
        "It is 18 °C in the hall.",
        "The cable is 2.5 mm2.",
        "The hall is 3 m by 4 m.",
        "The bath is 1700 mm long and 700 mm wide.",
    ],
)
def test_foreign_money_and_measures_keep_a_country_from_being_presumed(text: str) -> None:
    found = heard(text + PAINT)
    assert read_plan(yaml.safe_load(as_yaml(found)), load_rulebase().vocabulary).place.how == "unknown"


@pytest.mark.parametrize(
    "text",
    [
        "The hall is 10 ft by 12 ft.",
        "The well pump is 230 V and hangs 100 ft down.",
        "One drill bit is 8 mm.",
        "We spend 300 dollars.",
        "It is 65 degrees in the hall.",
    ],
)
def test_what_is_said_at_home_leaves_the_presumption(text: str) -> None:
    found = heard(text + PAINT)
    place = read_plan(yaml.safe_load(as_yaml(found)), load_rulebase().vocabulary).place
    assert (place.code, place.how) == ("US", "presumed")


def test_what_told_it_stays_among_what_was_not_understood() -> None:
    found = heard("Our budget is £300." + PAINT)
    assert "300" in {found.words(span) for span in found.unheard}
