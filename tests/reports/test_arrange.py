"""Where a reader meets a finding: what is said once, what comes first, and that nothing is called quiet that is not."""

from dataclasses import replace

import pytest

from advisor.reports.arrange import arrange
from advisor.reports.schedule_text import MOST_LINES, report_lines
from advisor.reports.text import as_text
from advisor.review.model import Number
from advisor.rulebase.model import Advice, Var
from tests.reports.support import small_report

MONEY = {
    "costs": 900.0, "total": 990.0, "reserve_share": 0.1, "reserve_presumed": False,
    "left": -90.0, "budget": 900.0, "unpriced": [],
}  # fmt: skip


def test_a_step_whose_only_finding_stands_above_is_not_called_quiet() -> None:
    report = small_report()
    report.findings = [f for f in report.findings if f.rule == "tiny-refer"]

    assert "5. swap-sockets: see above" in as_text(report)


@pytest.mark.parametrize(("values", "entries"), [((0.69, 0.69), 1), ((0.69, 0.24), 2)])
def test_one_practice_at_two_steps_is_said_once_where_its_numbers_agree(values, entries) -> None:
    report = small_report()
    one = next(f for f in report.findings if f.rule == "tiny-presumed" or f.rule == "tiny-danger")
    report.findings = [
        replace(one, id=f"{one.rule}@{step}", step=step, numbers=(Number("share", value, "fraction", None),))
        for step, value in zip(("sand-doors", "sweep"), values, strict=True)
    ]
    found = [entry for _, step in arrange(report).steps for entry in step]

    assert len(found) == entries


def test_what_follows_from_advice_comes_after_the_advice_of_the_same_signal_word() -> None:
    report = small_report()
    one = next(f for f in report.findings if f.rule == "tiny-danger")
    report.findings = [replace(one, rule="a-follows", advised=True), replace(one, rule="z-advice", advised=False)]
    found = [entry.finding.rule for _, step in arrange(report).steps for entry in step]

    assert found == ["z-advice", "a-follows"]


@pytest.mark.parametrize(
    ("action", "stands_first"),
    [("test for lead", True), ("test for asbestos", True), ("get permit", True), ("scuff", False)],
)
def test_what_asks_for_a_test_or_a_permit_comes_before_anything_else(action, stands_first) -> None:
    report = small_report()
    one = next(f for f in report.findings if f.rule == "tiny-danger")
    drawn = one.drawn[0]
    advice = (Advice("add", (("do", action),), ("before", Var("step"))),)
    asks = replace(one, drawn=[replace(drawn, conclusion=replace(drawn.conclusion, advice=advice))])
    report.findings = [asks]

    assert [entry.finding for entry in arrange(report).first] == ([asks] if stands_first else [])


def test_money_and_delay_stay_where_the_schedule_has_much_to_say_and_no_statement_is_cut() -> None:
    report = small_report()
    names = [f"a-step-with-a-long-name-{n}" for n in range(40)]
    report.schedule = {
        "work_hours": 80.0, "presumed_hours": 0.0, "hired_hours": 0.0, "budget_hours": None,
        "working_days": 10, "calendar_days": 12, "ready_days": 12, "start": None, "presumed": ["8 h a day"],
        "critical_chain": names,
        "without": [{"what": f"room {n}", "days": 12, "brought_back": True, "too_long": False} for n in names],
        "money": MONEY, "late": "3 days after the day that you named", "rows": [],
    }  # fmt: skip
    lines = report_lines(report, 80)
    said = " ".join(" ".join(lines).split())

    assert len(lines) <= MOST_LINES
    assert ["short" in said, "Too late: 3 days" in said, "Without:" in said] == [True, True, False]
