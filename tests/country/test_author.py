"""Twenty plans of ten countries by an author who saw no report, with what each must say and must not.

His plans are in `plans/`, his expectations in `author.yaml`, with the pages that he read. `judged.yaml` has what tells
each of his physical lines, what is missed and why, and what the first result was.
"""

from __future__ import annotations

import re
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from advisor.plan.reading import read_plan
from advisor.reports.text import Shape, as_text
from advisor.review.model import Report
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import load_rulebase
from advisor.rulebase.countries import country

HERE = Path(__file__).parent
AUTHOR: dict[str, Any] = yaml.safe_load((HERE / "author.yaml").read_text())
JUDGED: dict[str, Any] = yaml.safe_load((HERE / "judged.yaml").read_text())
PLANS: dict[str, dict[str, Any]] = {one["plan"]: one for one in AUTHOR["plans"]}
LINES = [(plan, at) for plan, one in PLANS.items() for at in range(len(one["physical"]))]
CODES = dict(
    zip(PLANS, "CA CA GB GB - IE IE DE DE AT AT FR FR AU - NZ NZ ES JP US".replace("-", "''").split(), strict=True)
)
# Words that only say in which country a physical figure was found; the bibliography marks them as foreign.
BOOKS = {"OSHA", "CPSC"}
# The author's words for a whole sort of thing, not strings that a report could have.
NOT_A_STRING = {"feet as a unit"}
LEAVE = re.compile(
    r"no permit (?:is )?needed|(?<!noise )is (?:allowed|legal|permitted)|are (?:allowed|legal|permitted)"
    r"|(?<!whether )you may do (?:it|this) your|usually need none|an owner may do"
)


@lru_cache(maxsize=32)
def _report(plan: str) -> Report:
    rulebase = load_rulebase()
    return review_plan(read_plan(HERE / "plans" / plan, rulebase.vocabulary), rulebase)


@lru_cache(maxsize=32)
def _text(plan: str) -> str:
    return as_text(_report(plan), shape=Shape(every=True))


def test_every_line_is_judged() -> None:
    assert {plan: len(one["physical"]) for plan, one in PLANS.items()} == {
        plan: len(lines) for plan, lines in JUDGED["plans"].items()
    }


@pytest.mark.parametrize(("plan", "at"), LINES)
def test_what_is_physical_is_told_in_every_country(plan: str, at: int) -> None:
    step, judged, findings = PLANS[plan]["physical"][at][0], JUDGED["plans"][plan][at], _report(plan).findings
    for rule in judged.get("tells", []):
        whole, _, name = rule.rpartition(": ")
        assert (None if whole else step, name) in {(f.step, f.rule) for f in findings}, (plan, step, rule)
    assert judged.get("tells") or judged["missed"]


@pytest.mark.parametrize("plan", PLANS)
def test_the_country_is_the_stated_one_or_asked(plan: str) -> None:
    place, asked = _report(plan).plan.place, [f"{q.sort}.{q.attribute}" for q in _report(plan).questions]
    assert place.code == CODES[plan].strip("'")
    if not place.code:
        assert place.how == "unknown"
        assert asked[0] == "house.country"


@pytest.mark.parametrize("plan", [plan for plan in PLANS if plan != "20.yaml"])
def test_nothing_of_another_country_binds(plan: str) -> None:
    """Law, gear, years and numbers of the list are not in the report, but where the plan itself says them."""
    text, own = _text(plan), (HERE / "plans" / plan).read_text()
    wanted = [
        str(word).split(" as ")[0].split(":")[0]
        for key, words in PLANS[plan]["must_not"].items()
        if key not in ("note", "years")
        for word in (words if isinstance(words, list) else [words])
        if word not in NOT_A_STRING
    ]
    for word in wanted:
        if word in BOOKS:
            text_there = re.sub(r"\n\s+", " ", text)
            for line in re.findall(rf"^.*\b{word}\b.*$", text_there, re.MULTILINE):
                assert "from another country" in line, (word, line)
        elif not re.search(r" |\d{5}", word) or len(word) < 40:
            found = re.search(rf"(?<![\w-]){re.escape(word)}(?![\w-])", text)
            assert not found or word in own, (word, text[max(0, found.start() - 80) : found.end() + 40])


@pytest.mark.parametrize("plan", PLANS)
def test_nothing_is_called_allowed(plan: str) -> None:
    assert not (found := LEAVE.search(re.sub(r"\s+", " ", _text(plan)))), found


@pytest.mark.parametrize("plan", [plan for plan in PLANS if CODES[plan] not in ("US",)])
def test_whose_law_was_not_looked_at_stands_on_the_first_screen(plan: str) -> None:
    report = _report(plan)
    own = country(report.plan.place.code, report.country.name if report.country else "")
    head = re.sub(r"\s+", " ", "\n".join(as_text(report).splitlines()[:40]))
    assert "Not looked at:" in head
    assert own.ask in head


YEARS = [("08.yaml", "1993"), ("12.yaml", "1949"), ("13.yaml", "1997"), ("16.yaml", "1990"), ("14.yaml", "2003")]


@pytest.mark.parametrize(("plan", "year"), YEARS)
def test_the_years_are_those_of_the_country(plan: str, year: str) -> None:
    """Outside: Umweltbundesamt (1993), Code de la santé publique (1949), decree 96-1133 (1997), WorkSafe NZ, ASEA."""
    assert year in _text(plan)
    assert "1978" not in _text(plan)


@pytest.mark.parametrize("plan", ["18.yaml", "19.yaml"])
def test_a_country_without_a_table_borrows_no_year(plan: str) -> None:
    text = _text(plan)
    assert not re.search(r"\b(?:1978|1980|1981|1990|1991|1992|1993|1997|1999|2000|2003)\b", text)
    assert "Not known here, so ask:" in text
