"""Where a reader meets a finding: what is said once, what comes first, and that nothing is called quiet that is not."""

from pathlib import Path

import pytest
from msgspec.structs import replace

from advisor.bulk import review_all
from advisor.reports.arrange import arrange
from advisor.reports.first import first_screen, headline, today
from advisor.reports.schedule_text import MOST_LINES, report_lines
from advisor.reports.text import as_text
from advisor.review.days.model import Costs, Moment, NoTimetable, Spending, Timetable, Without
from advisor.review.finding import Figure
from advisor.review.wording import joined, wording
from advisor.rulebase.base import load_rulebase
from tests.reports.support import small_report

ROOT = Path(__file__).parents[2]
MONEY = Spending(Costs("USD", 900.0, 90.0, 0.1, False, 990.0, 900.0, -90.0))
AT = Moment(1, 1, None, "08:00")


def test_a_step_whose_only_finding_stands_above_is_not_called_quiet() -> None:
    report = small_report()
    report.findings = [f for f in report.findings if f.rule == "tiny-refer"]

    assert "5. swap-sockets: see above" in as_text(report)


@pytest.mark.parametrize(("values", "entries"), [((0.69, 0.69), 1), ((0.69, 0.24), 2)])
def test_one_practice_at_two_steps_is_said_once_where_its_numbers_agree(values, entries) -> None:
    report = small_report()
    one = next(f for f in report.findings if f.rule == "tiny-presumed" or f.rule == "tiny-danger")
    report.findings = [
        replace(one, id=f"{one.rule}@{step}", step=step, numbers=(Figure("share", value, "fraction", None),))
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


@pytest.mark.parametrize("decides", [True, False])
def test_what_asks_for_a_test_or_a_permit_comes_before_anything_else(decides) -> None:
    report = small_report()
    one = next(f for f in report.findings if f.rule == "tiny-danger")
    asks = replace(one, decides=decides)
    report.findings = [asks]

    assert [entry.finding for entry in arrange(report).first] == ([asks] if decides else [])


@pytest.mark.parametrize("action", ["test for lead", "test for asbestos", "get permit"])
def test_a_lead_test_an_asbestos_test_and_a_permit_decide_what_may_follow(action) -> None:
    rulebase = load_rulebase()
    asking = {
        conclusion.signal
        for rule in rulebase.rules
        for conclusion in rule.conclusions
        for advice in conclusion.advice
        if advice.form == "add" and dict(advice.values).get("do") == action
    }

    assert asking
    assert action in rulebase.vocabulary.members("action", "decides what may follow")


def test_money_and_delay_stay_where_the_schedule_has_much_to_say_and_no_statement_is_cut() -> None:
    report = small_report()
    names = [f"a-step-with-a-long-name-{n}" for n in range(40)]
    report.schedule = Timetable(
        work_hours=80.0,
        working_days=10,
        calendar_days=12,
        ready_days=12,
        presumed=("8 h a day",),
        critical_chain=tuple(names),
        without=tuple(Without(f"room {n}", 12, AT, AT, n, n, True, None, False) for n in names),
        money=MONEY,
        late="3 days after the day that you named",
    )
    lines = report_lines(report, 80)
    said = " ".join(" ".join(lines).split())

    assert len(lines) <= MOST_LINES
    assert ["short" in said, "Too late: 3 days" in said, "You do without at least:" in said] == [True, True, False]


def _of(part: str, step: str, because: str = "A weak joint burns."):
    report = small_report()
    one = next(f for f in report.findings if f.rule == "tiny-danger")
    told = wording("Leave {{ part }} in {{ room }}.", because, (), [{"part": part, "room": "hall"}], TYPES, "us")
    basis = replace(next(b for f in report.findings for b in f.rests_on), id=part)
    return replace(
        one, id=f"x@{step}/{part}", step=step, what=told.fill(told.what), because=because, wording=told, numbers=(),
        rests_on=(basis,),
    )  # fmt: skip


TYPES = {"part": "ref:part", "room": "ref:room"}


def test_one_practice_at_a_step_is_told_once_for_all_its_parts_and_keeps_what_each_rests_on() -> None:
    report = small_report()
    report.findings = [_of("fan", "sweep"), _of("lamp", "sweep"), _of("bell", "sweep")]
    (entry,) = [entry for _, own in arrange(report).steps for entry in own]

    assert (entry.finding.what, entry.steps) == ("Leave bell, fan and lamp in hall.", ["sweep"])
    assert entry.ids == ["x@sweep/bell", "x@sweep/fan", "x@sweep/lamp"]
    assert [basis.id for basis in entry.finding.rests_on] == ["bell", "fan", "lamp"]


def test_a_mild_practice_is_told_once_for_the_parts_of_all_steps_and_names_the_steps() -> None:
    report = small_report()
    report.findings = [
        replace(_of(part, step), signal="notice")
        for part, step in (("tap", "sweep"), ("sink", "swap-sockets"), ("tap", "sand-doors"), ("sink", "sand-doors"))
    ]
    shown = arrange(report)

    assert [(e.finding.what, sorted(e.steps), len(e.ids)) for e in shown.entries()] == [
        ("Leave sink and tap in hall.", ["sand-doors", "swap-sockets", "sweep"], 4)
    ]
    assert ["see above" in as_text(report), shown.counts()] == [True, {"notice": 1}]


def test_a_grave_practice_is_told_at_each_step_with_the_part_of_that_step() -> None:
    report = small_report()
    report.findings = [replace(_of(p, s), signal="warning") for p, s in (("tap", "sweep"), ("sink", "sand-doors"))]

    assert sorted(e.finding.what for e in arrange(report).entries()) == ["Leave sink in hall.", "Leave tap in hall."]


def test_what_can_be_done_today_is_worded_as_in_its_place() -> None:
    report = small_report()
    report.findings = [
        replace(_of(name, "sweep"), what=f"Call somebody about {name}.", kind="refer") for name in ("fan",)
    ]

    assert today(report) == "Call somebody about fan."
    assert "Today     Call somebody about fan." in as_text(report)


@pytest.mark.parametrize("other", [_of("lamp", "sand-doors"), _of("lamp", "sweep", because="It is hot.")])
def test_what_belongs_to_another_step_or_has_another_reason_is_told_apart(other) -> None:
    report = small_report()
    report.findings = [_of("fan", "sweep"), other]

    assert sorted(e.finding.what for _, own in arrange(report).steps for e in own) == [
        "Leave fan in hall.",
        "Leave lamp in hall.",
    ]


def test_parts_in_different_rooms_are_told_apart() -> None:
    """Listed together, nobody could tell which is in which."""
    one, other = (
        wording("{{ part }} in {{ room }}", "", (), [{"part": p, "room": r}], TYPES, "us")
        for p, r in (("fan", "hall"), ("lamp", "den"))
    )

    assert joined(one, other) is None


def test_the_headline_counts_a_practice_once_though_a_grave_one_is_printed_at_each_step() -> None:
    report = small_report()
    report.findings = [_of("fan", "sweep"), _of("lamp", "sweep"), _of("fan", "sand-doors")]
    text = as_text(report)

    assert "Checked before the work: 1 danger." in text
    assert text.count("DANGER: ") == 2


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"budget_hours": 76.25}, "no findings, but 3.75 h too few for the work, 90 USD short"),
        ({"budget_hours": 80, "money": Spending()}, "no findings"),
        ({"budget_hours": None, "money": Spending(), "late": "3 days late"}, "no findings, but done too late"),
        (None, "no findings, but no calendar can be made"),
    ],
)
def test_no_findings_does_not_read_as_all_well_where_time_or_money_do_not_reach(change, said) -> None:
    report = small_report()
    report.findings = []
    why = "No hours are worked in a day."
    report.schedule = (
        NoTimetable(why) if change is None else Timetable(**{"work_hours": 80.0, "money": MONEY, **change})
    )

    assert headline(report) == said


def test_a_lead_test_stands_first_however_the_plan_is_reviewed() -> None:
    """A review by any executor hands over no records of the engine, and the place must not hang on them."""
    plan = ROOT / "scenarios" / "galley-kitchen-faulty.yaml"
    (done,) = review_all([plan])

    assert "test-for-lead" in [entry.finding.rule for entry in arrange(done.report).first]


def test_a_danger_of_the_plan_itself_is_named_before_one_of_the_advice() -> None:
    """The advised one stands earlier in the order, and is about something that the plan does not hold yet."""
    report = small_report()
    advised = replace(_of("fan", "sand-doors"), advised=True)
    report.findings = [advised, _of("lamp", "sweep")]

    assert [one.steps for one in first_screen(report).dangers] == [("sweep", "sand-doors")]


@pytest.mark.parametrize("start", ["Do not", "Never", "Keep", "Leave", "Wear"])
def test_today_is_never_a_ban(start) -> None:
    """Nobody can do a ban and tick it off: the question stands there instead."""
    report = small_report()
    report.findings = [replace(_of("fan", "sweep"), what=f"{start} run the fan.")]

    assert today(report) == "Answer the questions: they decide what is still to do."
