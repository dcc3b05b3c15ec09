"""What the order of work asks for beside the steps takes time on the calendar: times of `rules/report/asked_work.yaml`
(common practice), counted by hand here."""

import re
from pathlib import Path

from typer.testing import CliRunner

from advisor.cli.app import app
from advisor.review.reviewing import review

DEMO = Path(__file__).parents[2] / "scenarios" / "galley-kitchen-faulty.yaml"
_KEPT = {}


def rows():
    if not _KEPT:
        _KEPT["report"] = review(DEMO)
    return _KEPT["report"].schedule.rows


def at(moment):
    return (moment.day - 1) * 24 * 60 + int(moment.time[:2]) * 60 + int(moment.time[3:])


def test_old_paint_is_set_up_for_washed_cleaned_after_and_checked():
    """Set-up, wash and 4 h of drying, the sanding, then vacuum and check, before anything else is done there."""
    own = sorted((row for row in rows() if row.step == "sand-doors"), key=lambda row: at(row.begins))
    named = [row.task for row in own]
    wash, sand = own[1], own[2]
    done = at(own[-1].ends)

    assert named == ["set up for lead", "wash and let dry", "", "vacuum, wipe, vacuum", "check the cleaning"]
    assert at(sand.begins) - at(wash.ends) >= 4 * 60
    assert [row.step for row in rows() if row.step != "sand-doors" and at(row.begins) < done] == []


def test_what_is_asked_for_is_in_no_other_sum():
    """1.5 h, 1.5 h, 1.5 h and 30 min at the doors, 15 min of dust before the primer, 15 min to
    lay the top on strips; 28 h by the plan's own steps."""
    timetable = (rows(), _KEPT["report"].schedule)[1]

    assert (timetable.asked_hours, timetable.work_hours) == (5.5, 28.0)


def test_only_what_cannot_slip_is_said_to_delay_the_end():
    """Beside a star stands no time by which it may slip."""
    assert [row.name for row in rows() if row.critical and row.slack_hours] == []
    assert any(row.critical for row in rows())


def test_list_and_calendar_tell_one_order():
    """A step that the calendar begins before one above it says so in the list, with the moment of the calendar."""
    text = CliRunner().invoke(app, ["order", str(DEMO)]).stdout
    steps, _, calendar = text.partition("\nCALENDAR\n")
    early = {found[1] for found in re.finditer(r"(?m)^ <. ([\w-]+)", calendar)}
    said = {found[1] for found in re.finditer(r"(?m)^ *\d+\. ([\w-]+)\n(?:     (?!\[).*\n)*?     Begins on ", steps)}

    assert said == early
    assert early


def test_a_plan_that_has_the_steps_gets_none_twice():
    """The careful kitchen sets up, washes and cleans by itself."""
    careful = review(DEMO.with_name("galley-kitchen-careful.yaml"))

    assert [row.task for row in careful.schedule.rows if row.task] == []
