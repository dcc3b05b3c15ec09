"""Twenty plans of ten countries by an author who saw no report, with what each must say and must not.

His plans are in `plans/`, his expectations in `author.yaml`, with the pages that he read. `judged.yaml` has what tells
each of his physical lines, what is missed and why, and what the first result was. What must hold is asked of all text
of the report, in each of its formats.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
import yaml

from advisor.reports.data import as_data
from advisor.reports.text import as_text
from advisor.rulebase.countries import HOME, country, tables
from tests.country.told import FORMATS, report_of, told, without_books

HERE = Path(__file__).parent
AUTHOR: dict[str, Any] = yaml.safe_load((HERE / "author.yaml").read_text())
JUDGED: dict[str, Any] = yaml.safe_load((HERE / "judged.yaml").read_text())
PLANS: dict[str, dict[str, Any]] = {one["plan"]: one for one in AUTHOR["plans"]}
LINES = [(plan, at) for plan, one in PLANS.items() for at in range(len(one["physical"]))]
CODES = dict(
    zip(PLANS, "CA CA GB GB - IE IE DE DE AT AT FR FR AU - NZ NZ ES JP US".replace("-", "''").split(), strict=True)
)
ABROAD = [plan for plan in PLANS if CODES[plan] != HOME]
# The author's words for a whole sort of thing, and units, which are asked for by themselves.
NOT_A_STRING = {
    "feet as a unit",
    "feet",
    "inches",
    "licensed electrician alone by law, as in Queensland",
    "federal rules",
}
# What no report of a house abroad names but where the plan itself says it. Gear and units of Canada are mostly these.
LAW = (
    r"model codes?|[Ff]ederal (?:law|rules?)|CFR|NEC|NFPA|IRC|OSHA|EPA|CPSC|HUD|RRP|National Electrical Code"
    r"|International Residential Code|in the United States|U\.S\.|certified lead-safe firm"
)
GEAR = (
    r"GFCI|AFCI|AWG|N95|P100|UL|receptacles?|breaker panel|load center|wire nuts?|ground wires?|drywall|faucets?"
    r"|building department|under a permit|gallons?|quarts?|Fahrenheit|pounds|ounces?|811|911"
)
_FIGURE = r"\d(?:[\d,.]*\d)?(?:-\d+/\d+|/\d+)?"
MEASURES = rf"{_FIGURE}(?: to {_FIGURE})? (?:in|ft|sq ft|cu ft|lb|gal|qt|oz|psi|°F|cfm|mil|yd)"
INCHES = (
    r"inch(?:es)?|(?:square|cubic|few) (?:foot|feet)|cubic yards?"
    r"|(?:a|A) (?:foot|yard) (?:deep|down|from|off|away|apart|or)"
)
LEAVE = re.compile(
    r"[Nn]o permit (?:is )?(?:needed|asked)|(?<!noise )(?:is|are) (?:allowed|legal|permitted|exempt)"
    r"|(?<!whether )(?:you|an owner|owners) may do (?:it|this|such work|the work)? ?(?:your|him|them)?(?:self|selves)"
    r"|usually (?:need none|exempt)|(?:is|are) safe to (?:do|start|go)|you are free to|without asking"
)


def where(plan: str) -> Path:
    return HERE / "plans" / plan


def found_in(words: str, text: str) -> re.Match[str] | None:
    return re.search(rf"(?<![\w-])(?:{words})(?![\w-])", text)


def around(found: re.Match[str] | None) -> str:
    return found.string[max(0, found.start() - 90) : found.end() + 50] if found else ""


def test_every_line_is_judged() -> None:
    assert {plan: len(one["physical"]) for plan, one in PLANS.items()} == {
        plan: len(lines) for plan, lines in JUDGED["plans"].items()
    }


@pytest.mark.parametrize(("plan", "at"), LINES)
def test_what_is_physical_is_told_in_every_country(plan: str, at: int) -> None:
    """By findings at his step, of which every format tells one: what another one tells already is told once."""
    step, judged = PLANS[plan]["physical"][at][0], JUDGED["plans"][plan][at]
    found = {(f.step, f.rule) for f in report_of(where(plan)).findings}
    reasons = []
    for rule in judged.get("tells", []):
        whole, _, name = rule.rpartition(": ")
        assert (None if whole else step, name) in found, (plan, step, rule)
        reasons += [p["because"] for p in _practices(plan) if (name if whole else f"{name}@{step}") in p["ids"]]
    assert judged.get("tells") or judged["missed"]
    for form in FORMATS if judged.get("tells") else ():
        assert any(re.sub(r"\s+", " ", said)[:40] in told(where(plan), form) for said in reasons), (form, reasons)


def _practices(plan: str) -> list[dict[str, Any]]:
    """What the report tells, with the ids of all findings that each stands for."""
    listed = as_data(report_of(where(plan)))["findings"]
    return [
        one | {"ids": {one["id"], *(own for step in one["steps"] for own in [step["id"], *step["of"]])}}
        for one in listed
    ]


@pytest.mark.parametrize("plan", PLANS)
def test_the_country_is_the_stated_one_or_asked(plan: str) -> None:
    report = report_of(where(plan))
    asked = [f"{q.sort}.{q.attribute}" for q in report.questions]
    assert report.plan.place.code == CODES[plan].strip("'")
    if not report.plan.place.code:
        assert report.plan.place.how == "unknown"
        assert asked[0] == "house.country"


@pytest.mark.parametrize("form", FORMATS)
@pytest.mark.parametrize("plan", PLANS)
def test_nothing_of_another_country_binds(plan: str, form: str) -> None:
    """Law, gear and numbers of the author's list are not in the report, but where the plan itself says them."""
    text, own = without_books(where(plan), form), where(plan).read_text()
    for word in wanted_not(plan):
        found = found_in(re.escape(word), text)
        assert not found or word in own, (word, around(found))


def wanted_not(plan: str) -> list[str]:
    """The strings of the author's list; his years are asked for by themselves."""
    said = [
        str(word).split(" as ")[0].split(":")[0]
        for key, words in PLANS[plan]["must_not"].items()
        if key not in ("note", "years")
        for word in (words if isinstance(words, list) else [words])
        if word not in NOT_A_STRING
    ]
    return [word for word in said if not (" " in word and re.search(r"\d{4}", word))]  # `1970 as …`


@pytest.mark.parametrize("form", FORMATS)
@pytest.mark.parametrize("plan", ABROAD)
def test_no_law_and_no_gear_of_the_rules_country_abroad(plan: str, form: str) -> None:
    text, own = without_books(where(plan), form), where(plan).read_text()
    for words in (LAW,) if CODES[plan] == "CA" else (LAW, GEAR):
        for found in re.finditer(rf"(?<![\w-])(?:{words})(?![\w-])", text):
            assert found[0] in own, (found[0], around(found))


@pytest.mark.parametrize("form", FORMATS)
@pytest.mark.parametrize("plan", ABROAD)
def test_no_foreign_inches(plan: str, form: str) -> None:
    """In what the report says; what the plan states is told as stated, and sizes of threads are no measures."""
    text, own = without_books(where(plan), form, every=True), where(plan).read_text()
    assert report_of(where(plan)).plan.units == "metric"
    for words in (MEASURES,) if CODES[plan] == "CA" else (MEASURES, INCHES):
        for found in re.finditer(rf"(?<![\w/-])(?:{words})(?![\w-])", text):
            assert found[0] in own, (found[0], around(found))


@pytest.mark.parametrize("form", FORMATS)
@pytest.mark.parametrize("plan", PLANS)
def test_nothing_is_called_allowed(plan: str, form: str) -> None:
    assert not (found := LEAVE.search(told(where(plan), form))), around(found)


@pytest.mark.parametrize("form", FORMATS)
@pytest.mark.parametrize("plan", ABROAD)
def test_whose_law_was_not_looked_at_and_what_is_known_there_is_told(plan: str, form: str) -> None:
    report, text = report_of(where(plan)), told(where(plan), form)
    own = country(report.plan.place.code, report.country.name if report.country else "")
    head = re.sub(r"\s+", " ", "\n".join(as_text(report).splitlines()[:40])) if form == "text" else text
    assert own.laws.replace("{{ country }}", own.name) in head
    assert own.ask in head
    for row in own.rows.values():
        assert row.value in text or row.value in as_data(report)["place"]["known"].values(), row.name
    for name, ask in own.missing:
        assert ask in text, name


YEAR_RULES = {
    "asbestos-sample-first": "asbestos_ended",
    "asbestos-possible-refer": "asbestos_ended",
    "test-for-lead": "lead_ended",
}


@pytest.mark.parametrize("plan", ABROAD)
def test_a_finding_by_a_year_tells_the_year_of_the_country(plan: str) -> None:
    """Outside: the pages named in the rows, such as Umweltbundesamt (1993), decree 96-1133 (1997), WorkSafe NZ."""
    report = report_of(where(plan))
    rows = country(report.plan.place.code).rows
    for one in report.findings:
        if name := YEAR_RULES.get(one.rule):
            assert (rows[name].value if name in rows else "not known here") in one.because, (one.id, one.because)


def test_the_years_are_asked_of_enough_plans() -> None:
    """Each country with a year of its own has a plan in which a finding tells it."""
    seen = {
        (CODES[plan], name)
        for plan in ABROAD
        for one in report_of(where(plan)).findings
        if (name := YEAR_RULES.get(one.rule))
    }
    assert {code for code, name in seen if name == "asbestos_ended"} >= {"GB", "DE", "FR", "NZ", "ES", "JP"}
    assert {code for code, name in seen if name == "lead_ended"} >= {"CA", "GB", "AT"}


@pytest.mark.parametrize("form", FORMATS)
@pytest.mark.parametrize("plan", PLANS)
def test_no_year_of_another_country_is_told(plan: str, form: str) -> None:
    """No year of the tables that is not the country's own, or the plan's."""
    text, own = without_books(where(plan), form, every=True), where(plan).read_text()
    there = country(CODES[plan].strip("'"))
    mine = [there.laws, *(row.value for row in there.rows.values())]
    years = {
        row.value
        for other in tables()
        for name, row in country(other).rows.items()
        if name in ("asbestos_ended", "lead_ended")
    }
    assert len(years) >= 8
    text = re.sub(r"\b(?:coated year|installed|installed year|built):? \d{4}", "", text)  # an answer, tried
    for year in years:
        if not any(year in said for said in mine) and year not in own:
            assert not (found := found_in(year, text)), (year, around(found))


@pytest.mark.parametrize("form", FORMATS)
@pytest.mark.parametrize("plan", ["18.yaml", "19.yaml", "05.yaml", "15.yaml"])
def test_a_country_without_a_table_fills_nothing_in(plan: str, form: str) -> None:
    text = told(where(plan), form)
    assert as_data(report_of(where(plan)))["place"]["known"] == {}
    for ask in as_data(report_of(where(plan)))["place"]["asks"]:
        assert ask in text
    if form != "json":
        assert "Not known here, so ask:" in text
