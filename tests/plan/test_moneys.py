"""Amounts in US dollars, euros and pounds sterling: taken as they are, never converted, never added to each other."""

from __future__ import annotations

import pickle
from typing import Any

import pytest

from advisor.plan import read_plan
from advisor.reports.schedule_text import money_line
from advisor.review.days.model import OtherMoney, Spending, Timetable
from advisor.review.model import Report
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import load_rulebase
from advisor.showing import System, both, show
from advisor.units import BadQuantity, currency, read_quantity


def report_of(budget: str, paint: str, haul: str) -> Report:
    """A plan with a budget, a product and a step that cost something."""
    plan: dict[str, Any] = {
        "house": {"built": 2003},
        "rooms": {"kitchen": {"kind": "kitchen"}},
        "parts": {"old": {"kind": "worktop", "room": "kitchen"}},
        "products": {"paint": {"kind": "paint", "cost": paint}},
        "steps": [{"id": "haul", "do": "dispose", "to": "old", "cost": haul, "for": "4 h"}],
        "budget": {"money": budget, "contingency": "10 %"},
    }
    rulebase = load_rulebase()
    return review_plan(read_plan(plan, rulebase.vocabulary), rulebase)


def money(report: Report) -> Spending:
    """What the report counts."""
    assert isinstance(report.schedule, Timetable)
    return report.schedule.money


def own(report: Report) -> tuple[str, float, float | None]:
    """Unit, costs and what is left."""
    found = money(report).costs
    assert found is not None
    return found.unit, found.costs, found.left


@pytest.mark.parametrize(
    ("text", "amount", "unit"),
    [
        ("1,800 EUR", 1800, "EUR"),
        ("€48.50", 48.5, "EUR"),
        ("48.50 €", 48.5, "EUR"),
        ("12 euros", 12, "EUR"),
        ("£620", 620, "GBP"),
        ("620 GBP", 620, "GBP"),
        ("620 pounds", 620, "GBP"),
        ("$48", 48, "USD"),
        ("48 dollars", 48, "USD"),
    ],
)
def test_an_amount_keeps_its_number_and_its_money(text: str, amount: float, unit: str) -> None:
    assert read_quantity(text, "money").si == amount
    assert currency(text) == unit


@pytest.mark.parametrize("text", ["48 XYZ", "5 EUR 3 USD", "48", "€", "£5 lb"])
def test_what_is_no_amount_of_them_is_refused(text: str) -> None:
    with pytest.raises(BadQuantity, match="Expected an amount of money"):
        read_quantity(text, "money")


def test_it_is_shown_in_its_own_money_in_either_system() -> None:
    assert show(1800, "money", System("us", "EUR")).text == "1,800 EUR"
    assert both(1800, "money", System("metric", "GBP")) == "1,800 GBP"
    assert both(1800, "money", "us") == "1,800 USD"
    assert pickle.loads(pickle.dumps(System("metric", "EUR"))).money == "EUR"


def test_a_plan_in_euros_is_counted_in_euros() -> None:
    """By hand: 300 + 80 = 380 EUR, a tenth on top is 418; of 400 that is 18 short."""
    report = report_of("400 EUR", "80 €", "€300")

    assert own(report) == ("EUR", 380.0, -18.0)
    assert "380 EUR, with 10% for surprises: 418 EUR of 400 EUR (18 EUR short)" in money_line(money(report))
    (told,) = [f for f in report.findings if f.rule == "no-money-for-surprises"]
    assert "400 EUR" in told.what
    assert "USD" not in told.what


def test_two_moneys_are_never_added_and_that_is_said() -> None:
    """300 GBP of 350 GBP with a tenth on top are 330: 20 left. The 80 USD stand beside; with them it would be short."""
    report = report_of("350 GBP", "80 USD", "300 GBP")

    assert own(report) == ("GBP", 300.0, 20.0)
    assert money(report).others == (OtherMoney("USD", 80.0, ("paint",)),)
    assert "Not added, being another money: 80 USD (paint)." in money_line(money(report))
    assert not {"costs-above-budget", "no-money-for-surprises"} & {f.rule for f in report.findings}


def test_all_in_another_money_than_the_budget_makes_no_sum() -> None:
    report = report_of("350 GBP", "80 USD", "300 USD")

    assert money(report).costs is None
    assert money_line(money(report)) == "Not added, being another money: 380 USD (haul, paint)."
