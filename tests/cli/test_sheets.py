"""`advisor hazards` and `advisor checklist`: the sheets for a class or a site."""

import csv
import re

import pytest
from reports.support import HERE, SCENARIOS
from typer.testing import CliRunner

from advisor.cli.app import app

RUN = CliRunner()


@pytest.mark.usefixtures("tiny")
def test_checklist_numbers_are_those_of_its_key(monkeypatch):
    """Exercise and key carry the same numbers, by every grouping; the key says which finding each is."""
    plans = [str(HERE / "plans" / "small.yaml")] * 2
    for by in ("step", "day", "trade", "topic"):
        exercise = RUN.invoke(app, ["checklist", *plans[:1], "--by", by, "--exercise"]).stdout
        key = RUN.invoke(app, ["checklist", *plans[:1], "--by", by, "--answers"]).stdout
        blanks = re.findall(r"^ *(\d+)\. What can go wrong\?$", exercise, re.MULTILINE)
        answers = re.findall(r"^ *(\d+)\. (?:\[ \]| ! ) [A-Z]+:", key, re.MULTILINE)

        assert blanks == answers == [str(n) for n in range(1, 9)]


@pytest.mark.usefixtures("tiny")
def test_the_exercise_shows_the_plan_and_not_the_answers():
    text = RUN.invoke(app, ["checklist", str(HERE / "plans" / "small.yaml"), "--exercise"]).stdout

    assert "random-orbit sander" in text
    assert [word for word in ("DANGER", "tiny-", "House current") if word in text] == []


@pytest.mark.usefixtures("tiny")
def test_hazards_stand_worst_and_likeliest_first():
    """OSHA 3071: most severe and most likely first. The warning that rests on a presumption comes after those that
    the plan itself states."""
    text = RUN.invoke(app, ["hazards", str(HERE / "plans" / "small.yaml"), "--format", "csv"]).stdout
    rows = list(csv.DictReader(text.splitlines()))

    assert list(rows[0])[:3] == ["Task", "Hazard", "Controls"]
    assert [(row["Signal"], row["Finding"]) for row in rows] == [
        ("danger", "tiny-danger@swap-sockets"),
        ("warning", "tiny-vapor@finish-doors"),
        ("warning", "tiny-refer@swap-sockets"),
        ("warning", "tiny-presumed@sand-doors"),
        ("caution", "tiny-noise@sand-doors"),
    ]


@pytest.mark.parametrize("command", ["hazards", "checklist"])
def test_sheets_are_80_columns_wide(command):
    lines = RUN.invoke(app, [command, str(SCENARIOS[0])]).stdout.splitlines()

    assert [line for line in lines if len(line) > 80] == []
