"""Loose and negative statements: which value rules see, and that findings say what was presumed."""

from __future__ import annotations

import pytest

from advisor.errors import InputError
from advisor.plan import make_facts, read_plan
from advisor.plan.loose import span_of_years
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import load_rulebase

RULES = load_rulebase()


@pytest.mark.parametrize(
    ("text", "span"),
    [
        ("about 1920", (1915, 1925)),
        ("ca. 1920", (1915, 1925)),
        ("~1920", (1915, 1925)),
        ("1920ish", (1915, 1925)),
        ("1930s", (1930, 1939)),
        ("the 1930's", (1930, 1939)),
        ("about 1930s", (1925, 1944)),
        ("early 1930s", (1930, 1934)),
        ("Late 1970s", (1975, 1979)),
        ("1800s", (1800, 1899)),  # the decade or the century
        ("before 1978", (1900, 1977)),
        ("pre-1978", (1900, 1977)),
        ("before 1850", (1849, 1849)),
        ("1978 or earlier", (1900, 1978)),
        ("after 1978", (1979, None)),
        ("since 1978", (1978, None)),
        ("1990 or later", (1990, None)),
        ("between 1920 and 1930", (1920, 1930)),
        ("1920-1930", (1920, 1930)),
        ("1930-1920", None),
        ("1920", None),  # no loose words
        ("long ago", None),
        ("about 20", None),
        ("after the war", None),
    ],
)
def test_loose_years_span(text: str, span: tuple[int, int | None] | None) -> None:
    """Common usage; `about` is taken as five years either way."""
    assert span_of_years(text) == span


def plan(built: str, **casing: str) -> dict[str, object]:
    part = {"kind": "trim", "room": "hall", "coating": "paint", **casing}
    return {
        "house": {"built": built},
        "rooms": {"hall": {"kind": "hallway"}},
        "parts": {"casing": part},
        "steps": [{"id": "smooth", "do": "sand", "to": "casing", "with": ["random-orbit sander"], "for": "3 h"}],
    }


def findings(built: str, **casing: str) -> dict[str, str]:
    """Rules that speak of lead, with what they rest on."""
    report = review_plan(read_plan(plan(built, **casing), RULES.vocabulary), RULES)
    return {
        f.rule: "; ".join(f"{b.attribute}={b.value} {b.because}" for b in f.rests_on)
        for f in report.findings
        if f.pack == "lead-and-asbestos" and not f.advised
    }


@pytest.mark.parametrize(
    ("loose", "year"),
    [
        ("about 1920", "1915"),
        ("1960s", "1960"),
        ("before 1978", "1900"),
        ("about 1980", "1975"),
        ("after 1977", "1978"),
    ],
)
def test_rules_see_the_cautious_year(loose: str, year: str) -> None:
    """The house may be as old as that: the same practices speak as for that year."""
    assert findings(loose).keys() == findings(year).keys()


def test_what_rests_on_a_loose_year_says_so_and_asks() -> None:
    """And what is stated outright is not presumed."""
    rests = findings("about 1980")["test-for-lead"]

    assert "built=1975 'about 1980' may mean as early as that" in rests
    assert "built" not in findings("1975")["test-for-lead"]
    base = make_facts(read_plan(plan("about 1980"), RULES.vocabulary), RULES.vocabulary)
    assert base.presumptions["house", "house", "built"].ask == "In which year was the house built?"


def test_a_house_that_is_young_in_any_case_keeps_quiet() -> None:
    """After 1990 there is no lead paint for homes: a near miss."""
    assert "test-for-lead" not in findings("after 1990")
    assert "test-for-lead" not in findings("1990s")


def test_a_later_year_of_a_part_counts_for_it() -> None:
    """A loose year of the part against an old house: only one that is young in any case settles it."""
    assert "test-for-lead" in findings("1920", coated_year="about 1980")
    assert "test-for-lead" not in findings("1920", coated_year="after 1985")


def test_never_painted_is_bare() -> None:
    """Nothing was put on, so no lead is in it."""
    assert "test-for-lead" in findings("1920")
    for words in ("never painted", "unpainted", "none"):
        assert "test-for-lead" not in findings("1920", coating=words)


def test_not_tested_is_no_result() -> None:
    """It neither clears the part nor condemns it."""
    assert findings("1920", lead_test="not tested").keys() == findings("1920").keys()


@pytest.mark.parametrize("edition", ["about 2018", "before 2021"])
def test_an_edition_is_no_loose_year(edition: str) -> None:
    """Which code is in force is known or is not."""
    with pytest.raises(InputError, match="Expected a year"):
        read_plan({**plan("1920"), "code": {"residential": edition}}, RULES.vocabulary)


@pytest.mark.parametrize("said", ["none", "nothing", "no", ["none"], ["nothing"]])
def test_nothing_is_an_empty_list(said: object) -> None:
    """Nothing in the wall is an answer, not a value left out."""
    found = read_plan({**plan("1920"), "parts": {"casing": {"kind": "wall", "services": said}}}, RULES.vocabulary)

    assert found.entities["part"]["casing"].values["services"].plain == ()


@pytest.mark.parametrize("said", ["none", "nobody", "no"])
def test_none_of_what_is_counted_is_zero(said: str) -> None:
    """`children_under_6: none`; what must be one at least is refused."""
    house = {"built": "1920", "children_under_6": said}
    assert (
        read_plan({**plan("1920"), "house": house}, RULES.vocabulary)
        .entities["house"]["house"]
        .values["children_under_6"]
        .plain
        == 0
    )
    with pytest.raises(InputError, match="whole number"):
        read_plan({**plan("1920"), "house": {"dwelling_units": said}}, RULES.vocabulary)


@pytest.mark.parametrize("who", ["an electrician", "booked electrician", "the electrician", "hired electrician"])
def test_a_booked_trade_is_that_trade(who: str) -> None:
    """Words before the name say nothing of what it is."""
    told = plan("1920")
    told["steps"][0]["who"] = who  # type: ignore[index]

    assert read_plan(told, RULES.vocabulary).steps[0].values["who"].plain == "licensed electrician"
