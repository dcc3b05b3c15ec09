"""Where the house stands: what says it, what is presumed, and what is asked.

Codes and names are those of ISO 3166-1, read in pycountry 26.2.16 (Debian iso-codes), which the file was made from.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from advisor.errors import InputError
from advisor.plan import read_plan
from advisor.plan.model import Place
from advisor.reports.place import HEADING, place_data, place_line
from advisor.reports.text import as_text
from advisor.review.days.model import Timetable
from advisor.review.model import Report
from advisor.review.reviewing import review, review_plan
from advisor.review.rules_there import settle
from advisor.rulebase.base import load_rulebase
from tests.country.told import FORMATS, told
from tests.country.told import report_of as report_of_file

DOOR = {"kind": "door", "coating": "varnish"}


def plan_of(house: dict[str, Any] | None = None, part: dict[str, Any] | None = None, **more: Any) -> dict[str, Any]:
    """A door that is sanded, in a house of which so much is said."""
    said: dict[str, Any] = {
        "parts": {"door": DOOR | (part or {})},
        "steps": [{"id": "sand", "do": "sand", "to": "door"}],
    }
    return said | ({"house": house} if house else {}) | more


def place_of(**more: Any) -> Place:
    return read_plan(plan_of(**more), load_rulebase().vocabulary).place


@pytest.mark.parametrize(
    ("word", "code"),
    [("DE", "DE"), ("Germany", "DE"), ("deutschland", "DE"), ("DEU", "DE"), ("UK", "GB"), ("Scotland", "GB"),
     ("NO", "NO"), ("USA", "US"), ("Aotearoa", "NZ"), ("Österreich", "AT"), ("Ireland", "IE"), ("Brazil", "BR")],
)  # fmt: skip
def test_a_country_is_said_by_its_code_or_its_names(word: str, code: str) -> None:
    assert place_of(house={"country": word}) == Place(code, "", "stated", "")


def test_every_country_of_the_standard_is_there() -> None:
    terms = load_rulebase().vocabulary.taxonomies["country"].terms
    assert len(terms) == 249  # ISO 3166-1 has 249 officially assigned codes
    assert all(len(code) == 2 and code.isupper() for code in terms)


def test_what_is_no_country_is_a_mistake_with_the_nearest_name() -> None:
    with pytest.raises(InputError, match=r"unknown country, 'Germny'.*nearest: 'Germany'"):
        read_plan(plan_of({"country": "Germny"}), load_rulebase().vocabulary)


def test_nothing_speaks_against_the_country_of_the_rules() -> None:
    assert (place_of().code, place_of().how) == ("US", "presumed")
    assert place_of(house={"location": "upstate New York"}).code == "US"
    assert place_of(house={"location": "Atlanta, Georgia"}).code == "US"  # a state too
    assert place_of(part={"width": "32 in", "height": "80 in"}).code == "US"
    assert place_of(part={"width": "800 mm"}).code == "US"  # one measure says little


@pytest.mark.parametrize(
    "said",
    [
        {"units": "metric"},
        {"budget": {"money": "300 EUR"}},
        {"budget": {"money": "£300"}},
        {"part": {"width": "800 mm", "height": "2 m"}},
    ],
)
def test_units_and_money_speak_against_it(said: dict[str, Any]) -> None:
    found = place_of(**said)
    assert (found.code, found.how) == ("", "unknown")
    assert found.because


def test_a_code_of_the_rules_country_speaks_for_it() -> None:
    assert place_of(units="metric", code={"electrical": "2020"}).code == "US"
    assert place_of(units="metric", code={"owner_may_do": ["electrical"]}).code == ""  # any country may have that


def test_a_place_that_ends_in_a_country_presumes_it() -> None:
    found = place_of(house={"location": "Cork, Ireland"})
    assert (found.code, found.how) == ("IE", "presumed")


@pytest.mark.parametrize(
    ("more", "units"),
    [
        ({"house": {"country": "DE"}}, "metric"),
        ({"house": {"country": "DE"}, "units": "us"}, "us"),
        ({"house": {"country": "US"}}, "us"),
        ({}, "us"),
        ({"part": {"width": "800 mm", "height": "2 m"}}, "metric"),
    ],
)
def test_units_follow_the_country_unless_told(more: dict[str, Any], units: str) -> None:
    assert review(plan_of(**more)).plan.units == units


def report_of(house: dict[str, Any] | None, **more: Any) -> Report:
    return review(plan_of(house, **more))


def test_what_is_presumed_is_told_once_and_asked() -> None:
    report = report_of(None)
    text = as_text(report)
    assert text.count("Presumed country: the United States.") == 1
    assert [q.ask for q in report.questions][-1] == "In which country does the house stand?"
    assert not any(b.attribute == "country" for f in report.findings for b in f.rests_on)


def test_what_is_stated_is_neither_told_nor_asked_at_home() -> None:
    report = report_of({"country": "US"})
    assert place_line(report) == ""
    assert not any(q.attribute == "country" for q in report.questions)
    assert place_data(report)["editions"] == {
        "electrical": "presumed",
        "residential": "presumed",
        "plumbing": "presumed",
    }


def test_an_unknown_country_is_asked_first() -> None:
    report = report_of(None, units="metric")
    assert report.questions[0].attribute == "country"
    assert place_line(report).startswith("In which country does the house stand? Nothing says it")


def test_one_line_names_the_law_that_was_not_looked_at_and_whom_to_ask() -> None:
    line = place_line(report_of({"country": "IE"}))
    assert line.startswith("Not looked at: the building regulations, wiring rules and gas safety law of Ireland. Ask ")
    assert place_line(report_of({"country": "NO"})).startswith("Not looked at: the law and codes of Norway")


@pytest.mark.parametrize(
    ("house", "written", "unit"),
    [
        ({"country": "CA"}, "$300", "CAD"),
        ({"country": "NZ"}, "300 dollars", "NZD"),
        ({"country": "CA"}, "300 USD", "USD"),
        (None, "$300", "USD"),
        ({"country": "AU"}, "300 AUD", "AUD"),
    ],
)
def test_dollars_are_those_of_the_country(house: dict[str, Any] | None, written: str, unit: str) -> None:
    """ISO 4217: CAD, AUD, NZD."""
    products = {"paint": {"kind": "paint", "cost": written}}
    schedule = report_of(house, products=products, budget={"money": written}).schedule
    assert isinstance(schedule, Timetable)
    assert schedule.money.costs
    assert (schedule.money.costs.unit, schedule.money.costs.total) == (unit, 345)  # with the usual reserve of 15 %


def test_the_country_comes_with_any_way_to_a_review() -> None:
    rulebase = load_rulebase()
    read = read_plan(plan_of({"country": "AT", "built": 1980}), rulebase.vocabulary)
    rules = {f.rule for f in review_plan(read, rulebase).findings}
    assert rules == {f.rule for f in review(plan_of({"country": "AT", "built": 1980})).findings}


@pytest.mark.parametrize(("more", "asks"), [({"region": "Oregon"}, True), ({}, False)])
def test_a_region_is_named_by_the_questions_on_codes(more: dict[str, str], asks: bool) -> None:
    report = review(
        {
            "house": {"country": "US", "location": "Bend", **more},
            "rooms": {"kitchen": {"kind": "kitchen"}},
            "parts": {"outlet": {"kind": "outlet", "room": "kitchen"}},
            "steps": [{"id": "wire", "do": "wire", "to": "outlet", "who": "owner"}],
        }
    )
    asked = [q.ask for q in report.questions if q.sort == "code"]
    assert asked
    assert any("the building department in Oregon" in one for one in asked) is asks


@pytest.mark.parametrize("form", FORMATS)
@pytest.mark.parametrize("house", [None, {"country": "US"}])
def test_at_home_nothing_is_told_but_the_line(house: dict[str, Any] | None, form: str, tmp_path: Path) -> None:
    """The rules are the same objects, and no format has a section on the country."""
    rulebase = load_rulebase()
    file = tmp_path / "plan.yaml"
    file.write_text(yaml.safe_dump(plan_of(house)), encoding="utf-8")
    assert settle(report_of_file(file).plan, rulebase) is rulebase
    text = told(file, form)
    assert HEADING.lower() not in text.lower()
    assert ("Presumed country: the United States." in text) is (house is None and form != "json")
