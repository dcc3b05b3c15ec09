"""`advisor order` as a reader meets it: each format, the options, one line for what cannot be."""

from __future__ import annotations

import json
from pathlib import Path
from xml.etree import ElementTree

import pytest
from icalendar import Calendar
from typer import Typer
from typer.testing import CliRunner

from advisor.cli.order import order

app = Typer()
app.command()(order)

PLAN = """
title: Doors & <shelves>
parts:
  doors: {kind: cabinet doors}
  wall: {kind: wall, new: yes}
products:
  paint: {kind: paint, binder: acrylic, recoat: 4 h}
crew: {people: 1}
steps:
  - {id: paint-doors, do: paint, to: doors, using: paint, for: 2 h}
  - {id: fill-wall, do: fill, to: wall, for: 10 h}
  - {id: hang-doors, do: hang, to: doors, for: 1 h}
"""


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """A plan file."""
    path = tmp_path / "plan.yaml"
    path.write_text(PLAN, encoding="utf-8")
    return path


def asked(*words: object) -> tuple[int, str, str]:
    """Exit status, standard output and standard error."""
    result = CliRunner().invoke(app, list(map(str, words)))
    return result.exit_code, result.stdout, result.stderr


def test_without_a_start_days_are_numbered(plan: Path) -> None:
    status, out, _ = asked(plan)

    assert status == 0
    assert "day 1 08:00" in out
    assert "presumed: 8 h a day, Monday to Friday" in " ".join(out.split())
    assert max(len(line) for line in out.splitlines() if "/plan.yaml" not in line) <= 80
    assert (
        max(len(line) for line in asked(plan, "--start", "2026-05-04")[1].splitlines() if "/plan.yaml" not in line)
        <= 80
    )


def test_with_a_start_days_have_dates_and_the_days_named_are_worked(plan: Path) -> None:
    """By hand: 13 h on Saturday and Sunday at 5 h a day are three days: 9, 10 and 16 May 2026."""
    status, out, _ = asked(
        plan, "--start", "2026-05-09", "--days", "sat,sun", "--hours-per-day", "5", "--format", "json"
    )
    data = json.loads(out)

    assert status == 0
    assert data["schedule"]["days"] == ["sat", "sun"]
    dates = {row[k]["date"] for row in data["schedule"]["rows"] for k in ("from", "to")}
    assert max(dates) == "2026-05-16"
    assert dates <= {"2026-05-09", "2026-05-10", "2026-05-16"}


def test_hold_points_are_entries_of_their_own_before_their_step(plan: Path) -> None:
    _, out, _ = asked(plan, "--format", "json")
    entries = json.loads(out)["order"]
    holds = [k for k, entry in enumerate(entries) if "hold" in entry]

    assert holds
    for k in holds:
        step = next(entry["step"] for entry in entries[k:] if "step" in entry)
        assert entries[k]["before"] == step


def test_the_chart_is_a_drawing_and_the_page_has_its_table_with_a_strange_title_escaped(plan: Path) -> None:
    _, drawing, _ = asked(plan, "--format", "svg")
    status, page, _ = asked(plan, "--format", "html")

    assert ElementTree.fromstring(drawing).tag == "{http://www.w3.org/2000/svg}svg"
    assert status == 0
    assert "<shelves>" not in page
    assert "Doors &amp; &lt;shelves&gt;" in page
    assert page.count("<table>") == page.count("<svg ") == 1


def test_the_calendar_file_is_written_whole(plan: Path, tmp_path: Path) -> None:
    status, out, _ = asked(plan, "--start", "2026-05-04", "--format", "ics", "--output", tmp_path / "work.ics")
    events = Calendar.from_ical((tmp_path / "work.ics").read_bytes()).walk("VEVENT")

    assert (status, out) == (0, "")
    assert {str(e["SUMMARY"]) for e in events} >= {"paint-doors", "fill-wall", "hang-doors"}


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--start", "May 4"], "--start is 'May 4'. Expected a date, such as 2026-05-04."),
        (["--days", "mon,someday"], "--days: 'som' is no day. Expected some of mon, tue, wed, thu, fri, sat, sun."),
        (["--days", ","], "--days: no day is named. Expected some of mon, tue, wed, thu, fri, sat, sun."),
        (["--hours-per-day", "0"], "--hours-per-day is 0. Expected more than 0 and at most 24."),
        (["--hours-per-day", "nan"], "--hours-per-day is nan. Expected more than 0 and at most 24."),
        (["--format", "ics"], "A calendar file needs a first day. Give one: --start 2026-05-04."),
    ],
)
def test_a_mistake_is_one_line_and_status_2(plan: Path, words: list[str], said: str) -> None:
    assert asked(plan, *words) == (2, "", said + "\n")


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        (
            "people: 1",
            "people: 0",
            "Nobody is there to work: the crew has 0 people. Say how many: 'crew: {people: 1}'.",
        ),
        ("people: 1", "days_per_week: 0", "No day of the week is worked. Give one at least, such as --days sat,sun."),
        ("people: 1", "hours_per_day: 0 h", "No hours are worked in a day. Give more than 0 and at most 24 h."),
    ],
)
def test_a_plan_that_nobody_can_do_is_one_line_and_status_2(plan: Path, old: str, new: str, said: str) -> None:
    plan.write_text(PLAN.replace(old, new), encoding="utf-8")

    assert asked(plan) == (2, "", said + "\n")


def test_a_ring_of_the_plan_against_a_rule_is_one_line_and_status_2(plan: Path, tmp_path: Path) -> None:
    own = tmp_path / "own"
    own.mkdir()
    (own / "own.yaml").write_text(
        """
pack: own
title: Own
rules:
  - id: fill-before-paint
    title: Fill before painting
    when:
      - step: {id: $first, do: fill}
      - step: {id: $late, do: paint}
    precede: {signal: notice, first: $first, then: $late, what: Fill first., because: A test says so.}
    sources: [{common_practice: yes}]
""",
        encoding="utf-8",
    )
    plan.write_text(PLAN.replace("for: 10 h", "for: 10 h, after: paint-doors"), encoding="utf-8")
    status, out, error = asked(plan, "--rules", own)

    assert (status, out, error.count("\n")) == (2, "", 1)
    assert "fill-wall waits for paint-doors (your own 'after')" in error
    assert "paint-doors waits for fill-wall (fill-before-paint)" in error
    assert "The softest is paint-doors before fill-wall (your own 'after')" in error


def test_the_page_of_hold_points_says_how_many_hazards_stand_only_in_the_review(tmp_path: Path) -> None:
    path = tmp_path / "plan.yaml"
    path.write_text(
        "house: {built: 1935}\nparts: {rail: {kind: railing, coating: paint}}\n"
        "steps: [{id: burn, do: strip, to: rail, with: [torch], for: 1 h}]\n",
        encoding="utf-8",
    )
    said = " ".join(CliRunner().invoke(app, [str(path)]).output.split())

    assert "! DANGER: " in said.partition("1. burn")[2].partition("CALENDAR")[0]
    assert " more in the whole report: advisor review /" in said
    assert "plan.yaml ORDER OF WORK" in said
