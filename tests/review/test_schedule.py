"""The schedule: a plan of twelve steps worked out by hand, and plans that cannot be done."""

from __future__ import annotations

import random
from typing import Any

import pytest
from review.twelve import BY_HAND, MAY, PARTS, ROOMS, STEPS, WAIT_FOR_GROUT
from review.working import finding, plan_of

from advisor.reports.schedule_text import report_lines, summary
from advisor.review.days.model import NoTimetable, Timetable, WorkRow
from advisor.review.days.timetable import Options
from advisor.review.model import Report
from advisor.review.planned_work import Work, plan_work
from advisor.rulebase.base import load_rulebase


def worked(steps: list[dict[str, Any]] = STEPS, *findings: Any, options: Options | None = None, **rest: Any) -> Work:
    plan = plan_of(steps, **({"parts": PARTS, "rooms": ROOMS} | rest))
    return plan_work(plan, list(findings), load_rulebase(), options)


def calendar(work: Work) -> Timetable:
    assert isinstance(work.schedule, Timetable)
    return work.schedule


def rows(work: Work) -> tuple[WorkRow, ...]:
    return calendar(work).rows


def times(work: Work) -> dict[str, tuple[str, str]]:
    return {r.step: (f"{r.begins.date} {r.begins.time}", f"{r.ends.date} {r.ends.time}") for r in rows(work)}


def test_twelve_steps_come_out_on_the_days_worked_out_by_hand() -> None:
    work = worked(STEPS, WAIT_FOR_GROUT, options=MAY)

    assert times(work) == BY_HAND
    assert calendar(work).critical_chain == ("prime-doors", "first-coat", "second-coat", "hang-doors")
    assert (calendar(work).work_hours, calendar(work).presumed_hours) == (30.0, 0.0)
    assert (calendar(work).working_days, calendar(work).calendar_days) == (5, 5)


def test_slack_of_the_twelve_steps_is_what_hand_reckoning_gives() -> None:
    """Grout may end 24 h before Friday 16:00, so start 2 h later; the drain 3 h later, up to that; the shelves, up to
    the drain's latest start, 3 h too. Doors have none, and what stands right before a coat has none."""
    slack = {row.step: row.slack_hours for row in rows(worked(STEPS, WAIT_FOR_GROUT, options=MAY))}

    assert slack["grout-splash"] == 2.0
    assert slack["connect-drain"] == 3.0
    assert slack["level-shelves"] == 3.0
    assert [slack[s] for s in ("prime-doors", "first-coat", "second-coat", "hang-doors", "fit-top")] == [0.0] * 5
    assert slack["tile-splash"] == 1.0


def test_the_sink_is_out_from_its_sealant_until_the_drain_is_connected() -> None:
    """By hand: Tuesday to Thursday are three days; the plan can bear two."""
    work = worked(STEPS, WAIT_FOR_GROUT, options=MAY, budget={"days_without_sink": "2"})
    sink = next(one for one in calendar(work).without if one.what == "kitchen sink")

    assert (sink.days, sink.first_step, sink.last_step) == (3, "bed-sink", "connect-drain")
    assert sink.too_long is True


def test_power_off_to_power_on_counts_and_an_open_end_is_told() -> None:
    steps = [
        {"id": "off", "do": "shut off power", "for": "15 min"},
        {"id": "wire", "do": "fit off", "to": "lamp", "for": "10 h"},
        {"id": "on", "do": "restore power", "for": "15 min"},
        {"id": "dry-up", "do": "shut off water", "for": "15 min"},
    ]
    without = calendar(worked(steps, parts={"lamp": {"kind": "light"}})).without
    found = {one.what: (one.days, one.brought_back) for one in without}

    assert found["power"] == (2, True)
    assert found["water"] == (1, False)


@pytest.mark.parametrize(
    ("do", "part", "house_without"),
    [
        ("shut off water", {"kind": "sink"}, False),
        ("shut off water", {"kind": "faucet", "stop_valves": "yes"}, False),
        ("shut off water", {"kind": "dishwasher"}, False),
        ("shut off water", {"kind": "sink", "stop_valves": "no"}, True),
        ("shut off water", {"kind": "bathtub"}, True),
        ("shut off water", {"kind": "bathtub", "stop_valves": "yes"}, False),
        ("shut off water", {"kind": "water line"}, True),
        ("shut off power", {"kind": "outlet"}, False),
        ("shut off power", {"kind": "circuit"}, False),
        ("shut off power", {"kind": "panel"}, True),
        ("shut off gas", {"kind": "gas range"}, False),
        ("shut off gas", {"kind": "gas line"}, True),
    ],
)
def test_what_is_shut_off_at_its_own_stop_leaves_the_house_the_rest(
    do: str, part: dict[str, str], house_without: bool
) -> None:
    """Common practice: a fixture has stop valves, an appliance a gas cock, a device a breaker; a tub often has none."""
    steps = [
        {"id": "off", "do": do, "to": "it", "for": "15 min"},
        {"id": "on", "do": do.replace("shut off", "restore"), "to": "it", "for": "15 min"},
    ]
    without = calendar(worked(steps, parts={"it": part})).without

    assert (do.removeprefix("shut off ") in {one.what for one in without}) is house_without


def test_one_pipe_among_the_fixtures_takes_the_water_of_the_house() -> None:
    steps = [{"id": "off", "do": "shut off water", "to": ["basin", "riser"], "for": "15 min"}]
    parts = {"basin": {"kind": "sink"}, "riser": {"kind": "water line"}}
    without = calendar(worked(steps, parts=parts)).without

    assert "water" in {one.what for one in without}


def test_money_has_its_reserve_against_the_budget() -> None:
    """By hand: 450 + 48 + 6 h x 65 = 888 USD; a tenth on top is 976.80; of 900 that is 76.80 short."""
    steps = [
        {"id": "a", "do": "paint", "to": "doors", "for": "2 h", "cost": "450 USD"},
        {"id": "b", "do": "wire", "to": "lamp", "for": "6 h", "who": "licensed electrician"},
    ]
    budget = {"money": "900 USD", "contingency": "10 %", "hourly_rate": "65 USD"}
    parts = {"doors": {"kind": "cabinet doors", "cost": "999 USD"}, "lamp": {"kind": "light"}}
    work = worked(steps, parts=parts, budget=budget, products={"p": {"kind": "paint", "cost": "48 USD"}})
    money = calendar(work).money.costs

    assert money is not None
    assert (money.costs, money.total, money.left) == (888.0, 976.8, -76.8)
    assert (calendar(work).work_hours, calendar(work).hired_hours) == (2.0, 6.0)


def test_coats_of_one_step_wait_for_each_other_and_others_work_meanwhile() -> None:
    """By hand: coat 8 to 9, fill 9 to 12 within the four hours that the label asks, second coat 13 to 14."""
    steps = [
        {"id": "coat", "do": "paint", "to": "doors", "using": "p", "coats": 2, "for": "2 h", "wait": "0 h"},
        {"id": "fill", "do": "fill", "to": "wall", "for": "3 h", "wait": "0 h"},
    ]
    parts = {"doors": {"kind": "cabinet doors"}, "wall": {"kind": "wall"}}
    work = worked(steps, parts=parts, products={"p": {"kind": "paint", "recoat": "4 h"}})

    found = [(r.step, r.coat, r.begins.time, r.ends.time) for r in rows(work)]
    assert found == [
        ("coat", 1, "08:00", "09:00"),
        ("fill", None, "09:00", "12:00"),
        ("coat", 2, "13:00", "14:00"),
    ]


def test_a_step_that_only_waits_needs_no_hands_and_runs_through_the_night() -> None:
    steps = [
        {"id": "glue", "do": "glue", "to": "shelves", "for": "8 h", "wait": "0 h"},
        {"id": "set", "do": "cure", "to": "shelves", "for": "18 h"},
        {"id": "plane", "do": "plane", "to": "shelves", "for": "1 h"},
    ]
    found = [(r.step, r.begins.day, r.begins.time) for r in rows(worked(steps))]

    assert found == [("glue", 1, "08:00"), ("set", 1, "16:00"), ("plane", 2, "10:00")]


def test_no_dust_is_made_in_the_room_of_a_wet_coat() -> None:
    steps = [
        {"id": "coat", "do": "finish", "to": "top", "for": "1 h", "wait": "24 h"},
        {"id": "dusty", "do": "sand", "to": "splash", "for": "1 h"},
    ]
    found = [(r.step, r.begins.day, r.begins.time) for r in rows(worked(steps))]

    assert found == [("coat", 1, "08:00"), ("dusty", 2, "09:00")]


def test_hours_by_common_rates_are_marked_as_presumed() -> None:
    """By hand from the table: 20 min and 20 min for each 10 sqft of 60 sqft are 140 min."""
    work = worked([{"id": "s", "do": "sand", "to": "d"}], parts={"d": {"kind": "cabinet doors", "area": "60 sqft"}})
    (row,) = rows(work)

    assert row.hours == 2.33
    assert row.presumed == ("takes 2 h 20 min (common rate)",)
    assert calendar(work).presumed_hours == 2.33


def test_one_trip_to_the_panel_or_round_the_joints_counts_once_for_all_parts() -> None:
    """The table's `once`: 15 min to restore power, 30 min to look for leaks; the hold is a wait, not work."""
    found = rows(
        worked(
            [
                {"id": "leak", "do": "leak test", "to": ["a", "b", "c"], "hold": "30 min"},
                {"id": "on", "do": "restore power", "to": ["a", "b", "c"]},
            ]
        )
    )

    assert [(r.step, r.hours) for r in found] == [("leak", 0.5), ("on", 0.25)]
    assert "takes 15 min (common rate)" in found[1].presumed


@pytest.mark.parametrize(
    ("work", "presumed", "said"),
    [
        (13.83, 6.5, "13.75 h of work, 7.25 h as stated and 6.5 h by common rates; 3.75 h more than the 10 h at hand."),
        (105.4, 9.6, "105 h of work, 96 h as stated and 9 h by common rates; 95 h more than the 10 h at hand."),
        (10.08, 0.0, "10 h of work."),
        (0.1, 0.1, "6 min of work, by common rates."),
    ],
)
def test_hours_are_told_in_quarters_or_whole_and_add_up(work, presumed, said) -> None:
    schedule = Timetable(work_hours=work, presumed_hours=presumed, budget_hours=10.0)

    assert summary(schedule)[0] == said


def test_hours_at_hand_are_hours_by_the_clock() -> None:
    fits = Timetable(work_hours=16.0, clock_hours=9.0, budget_hours=10.0)
    short = Timetable(work_hours=16.0, clock_hours=12.0, budget_hours=10.0)

    assert summary(fits)[0] == "16 h of work."
    assert summary(short)[0] == "16 h of work; 12 h by the clock, 2 h more than the 10 h at hand."


def test_two_people_work_side_by_side() -> None:
    steps = [{"id": f"s{i}", "do": "fill", "to": f"p{i}", "for": "4 h", "wait": "0 h"} for i in range(4)]
    steps[3]["people"] = 2
    work = worked(steps, crew={"people": 2}, parts={})
    found = [(r.step, r.begins.day, r.begins.time) for r in rows(work)]

    # 20 h of hands for two are 10 h, but no job is cut in two: three jobs of one, then the one that takes both.
    assert found == [("s0", 1, "08:00"), ("s1", 1, "08:00"), ("s2", 1, "12:00"), ("s3", 2, "08:00")]


@pytest.mark.parametrize(
    ("crew", "said"),
    [
        ({"people": "0"}, "Nobody is there to work"),
        ({"hours_per_day": "0 h"}, "No hours are worked"),
        ({"days_per_week": "0"}, "No day of the week is worked"),
    ],
)
def test_a_plan_without_time_or_people_gets_one_finding(crew: dict[str, str], said: str) -> None:
    work = worked(STEPS, crew=crew)

    assert [(f.rule, f.signal) for f in work.findings] == [("no-time-to-work", "notice")]
    assert said in work.findings[0].what
    assert isinstance(work.schedule, NoTimetable)
    assert work.findings[0].what == f"No calendar: {work.schedule.why}"


def test_a_ring_is_one_finding_and_the_rest_is_still_scheduled() -> None:
    a, b = finding("precede", "fit-top", "level-run"), finding("precede", "level-run", "fit-top", signal="caution")
    work = worked(STEPS, a, b)

    assert [(f.rule, f.step) for f in work.findings] == [("order-in-a-ring", "level-run")]
    assert len(rows(work)) == len(STEPS)


def test_later_than_planned_is_told() -> None:
    steps = [dict(step) for step in STEPS]
    steps[3]["day"] = 2
    row = next(r for r in rows(worked(steps)) if r.step == "hang-doors")

    assert row.planned_day == 2


def test_the_report_says_it_in_eight_lines_of_eighty() -> None:
    work = worked(STEPS, WAIT_FOR_GROUT, options=MAY, budget={"days_without_sink": "2", "days": "3"})
    plan = plan_of(STEPS, parts=PARTS, rooms=ROOMS)
    lines = report_lines(Report(plan, [], work.order.entries(), work.schedule, [], [], [], {}, ()), 80)

    assert len(lines) <= 8
    assert max(map(len, lines)) <= 80
    assert "30 h of work." in lines[0]


def test_parts_rooms_and_findings_in_any_order_give_the_same_schedule() -> None:
    chance = random.Random(3)
    more = finding("precede", "fit-top", "tile-splash")
    seen = []
    for _ in range(4):
        parts = dict(chance.sample(sorted(PARTS.items()), len(PARTS)))
        found = chance.sample([WAIT_FOR_GROUT, more], 2)
        seen.append(worked(STEPS, *found, options=MAY, parts=parts).schedule)

    assert seen == [seen[0]] * 4
