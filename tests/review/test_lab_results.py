"""The calendar waits for a laboratory: five days presumed (common practice), said in order, calendar and report."""

import pytest
import yaml
from reports.support import SCENARIOS

from advisor.reports.data import as_data
from advisor.reports.order_html import as_order_html
from advisor.reports.order_text import as_order_text
from advisor.reports.text import as_text
from advisor.review.days.timetable import Options
from advisor.review.order.lab_results import Awaited, WaitTold
from advisor.review.planned_work import replan
from advisor.review.reviewing import review
from advisor.rulebase.base import load_rulebase

PLAN = """
house: {{built: 1950}}
crew: {{people: 1, days_per_week: 7}}
rooms: {{hall: {{kind: hallway}}, shed: {{kind: garage}}}}
parts:
  door: {{kind: door, room: hall, material: wood, coating: paint, coated_year: 1950{door}}}
  bench: {{kind: shelf, room: shed, material: pine}}
steps:
{test}  - {{id: plane, do: sand, to: door, for: 2 h}}
  - {{id: build, do: assemble, to: bench, for: 2 h}}
"""


def reviewed(test="", door=""):
    return review(yaml.safe_load(PLAN.format(test=test, door=door)))


def begins(report):
    return {row.step: row.begins.day for row in report.schedule.rows if not row.task}


def awaited(report):
    return {row.step: row.waits_for for row in report.order if row.waits_for}


def test_what_hangs_on_the_result_waits_and_nothing_else_does():
    report = reviewed()

    assert begins(report) == {"plane": 6, "build": 1}
    assert awaited(report) == {"plane": Awaited("the lead result", 120 * 60)}
    assert report.schedule.results == (WaitTold("the lead result", 120, "5 days", ("plane",)),)
    data = as_data(report)
    assert data["schedule"]["results"] == [
        {"what": "the lead result", "hours": 120, "days": "5 days", "steps": ["plane"]}
    ]
    assert [row["waits_for"] for row in data["order"] if "waits_for" in row] == [
        {"what": "the lead result", "days": "5 days", "hours": 120}
    ]


@pytest.mark.parametrize(
    ("test", "day"),
    [
        ("  - {id: chip, do: test for lead, to: door, who: laboratory, for: 30 min}\n", 6),
        ("  - {id: chip, do: test for lead, to: door, who: laboratory, for: 30 min, wait: 2 day}\n", 3),
        ("  - {id: chip, do: test for lead, to: door, with: [XRF analyzer], for: 30 min}\n", 1),
        ("  - {id: chip, do: test for lead, to: door, for: 30 min, result: negative}\n", 1),
    ],
    ids=["sent away", "time stated", "read on the spot", "back already"],
)
def test_a_test_of_the_plan_waits_as_long_as_it_says_or_as_laboratories_take(test, day):
    report = reviewed(test)

    assert begins(report)["plane"] == day
    assert awaited(report) == {}


def test_without_a_test_nobody_waits_for_one():
    assert begins(reviewed(door=", lead_test: negative"))["plane"] == 1


def test_order_calendar_and_report_say_the_same_wait():
    report = review(next(p for p in SCENARIOS if p.stem == "galley-kitchen-faulty"))
    work, _ = replan(report, load_rulebase(), Options())
    wait = "Presumed: 5 days until the lead result is in; sand-doors can start no sooner."
    order = " ".join(as_order_text(report, work).split())
    page = as_order_html(report, work)
    text = " ".join(as_text(report).split())

    assert [told for told in (order, page, text) if wait not in told] == []
    assert [told for told in (order, page) if "Waits until the lead result is in: 5 days, presumed." not in told] == []
    assert "Do not start sand-doors until the lead result is in (about 5 days)." in text
    # Monday to Friday: the fifth day after a Monday is a Saturday. Washing and cleaning take a day of their own.
    assert (begins(report)["sand-doors"], report.schedule.calendar_days) == (8, 18)
