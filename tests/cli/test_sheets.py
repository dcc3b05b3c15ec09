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
    """Exercise and key carry the same numbers, by every grouping; a letter in the key is one of the answers."""
    plans = [str(HERE / "plans" / "small.yaml")] * 2
    for by in ("step", "day", "trade", "topic"):
        exercise = RUN.invoke(app, ["checklist", *plans[:1], "--by", by, "--exercise"]).stdout
        key = RUN.invoke(app, ["checklist", *plans[:1], "--by", by, "--answers"]).stdout
        blanks = re.findall(r"^ *(\d+)\. What can go wrong\?$", exercise, re.MULTILINE)
        answers = re.findall(r"^ *(\d+)([a-z]+)\. (?:\[ \]| ! ) [A-Z]+:", key, re.MULTILINE)
        nothing = re.findall(r"^ *(\d+)\. No rule speaks here", key, re.MULTILINE)

        assert blanks == [str(n) for n in range(1, len(blanks) + 1)]
        assert {number for number, _ in answers} | {*nothing} == {*blanks}
        assert (len(answers), len(set(answers))) == (8, 8)


@pytest.mark.usefixtures("tiny")
def test_the_exercise_does_not_tell_how_much_there_is_to_find():
    """Each step of the plan has as much room as any other, those too of which nothing is said."""
    text = RUN.invoke(app, ["checklist", str(HERE / "plans" / "small.yaml"), "--exercise"]).stdout
    blocks = re.split(r"(?m)^(?=Step \d+\. |STEP \d+\. )", text.partition("BEFORE ANYTHING ELSE")[2])[1:]
    rooms = [block.count("\n     ____") for block in blocks]

    assert len(blocks) == len(re.findall(r"(?m)^  \d+\. ", text.partition("STEPS")[2].partition("\n\n")[0]))
    assert len(set(rooms)) == 1


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


@pytest.mark.usefixtures("tiny")
@pytest.mark.parametrize("options", [[], ["--exercise"], ["--answers", "--format", "json"]])
def test_a_broken_plan_costs_the_class_no_other_sheet(options, tmp_path):
    """As the review does: what can be read is printed or written, the broken file is named, the status is 2."""
    good, bad, out = HERE / "plans" / "small.yaml", tmp_path / "bad.yaml", tmp_path / "sheets"
    bad.write_text("steps: [{do: flubber}]\n", encoding="utf-8")
    alone = RUN.invoke(app, ["checklist", str(good), *options])
    done = RUN.invoke(app, ["checklist", str(good), str(bad), *options])
    RUN.invoke(app, ["checklist", str(bad), str(good), *options, "--output", str(out)])

    assert (alone.exit_code, done.exit_code) == (0, 2)
    assert done.stdout == alone.stdout
    assert "flubber" in done.stderr
    assert "No sheet for 1 plan" in done.stderr
    assert out.read_text(encoding="utf-8") == alone.stdout
