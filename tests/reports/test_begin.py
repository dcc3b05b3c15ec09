"""What a beginner and a reviewer asked of a report: whether to start, whom to call, nothing hidden, counts that agree.

Each of these failed before: judged by fresh eyes on the plans of `scenarios/`.
"""

import json
import re

import pytest
from typer.testing import CliRunner

from advisor.cli.app import app
from advisor.errors import InputError
from advisor.reports.arrange import arrange
from advisor.reports.checklist_text import as_checklist_text
from advisor.reports.data import as_json
from advisor.reports.first import first_screen
from advisor.reports.notes import numbered
from advisor.reports.text import Shape, as_text
from advisor.review.reviewing import review
from advisor.review.who import trades_touched
from advisor.review.wording import about_share
from reports.support import SCENARIOS, TOP

FAULTY = {path.stem: path for path in SCENARIOS if path.stem.endswith("-faulty")}
_KEPT = {}
WIRED = """
rooms: {kitchen: {kind: kitchen}}
parts:
  sockets: {kind: outlet, room: kitchen}
  wall: {kind: wall, room: kitchen}
  stove: {kind: gas range, room: kitchen}
  waste: {kind: drain, room: kitchen}
steps:
  - {id: swap, do: replace, to: sockets}
  - {id: brush, do: clean, to: sockets}
  - {id: hired, do: replace, to: sockets, who: licensed electrician}
  - {id: roll, do: paint, to: wall}
  - {id: join, do: connect, to: stove}
  - {id: drop, do: move, to: waste}
"""


def reviewed(stem):
    if stem not in _KEPT:
        _KEPT[stem] = review(FAULTY[stem])
    return _KEPT[stem]


def boxes(text):
    return re.findall(r"(?m)^  (?:\[ \]|  !) ([A-Z]+): ", text)


@pytest.mark.parametrize("stem", sorted(FAULTY))
def test_one_step_shows_every_finding_of_it_wherever_the_whole_report_tells_it(stem):
    report = reviewed(stem)
    for step in (one.id for one in report.plan.steps):
        own = [entry for entry in arrange(report).entries() if step in entry.steps]
        told = boxes(as_text(report, shape=Shape(step=step)))
        graver = boxes(as_text(report, shape=Shape(step=step, only="danger")))

        assert sorted(told) == sorted(entry.finding.signal.upper() for entry in own), step
        assert len(graver) == sum(entry.finding.signal == "danger" for entry in own), step


def test_a_danger_shared_with_another_step_is_told_at_each():
    """The power is off at the outlets for the tiles and for the swap: told at the tiles, and of the swap alone too."""
    text = as_text(reviewed("galley-kitchen-faulty"), shape=Shape(step="swap-sockets", only="danger"))

    assert "DANGER: Switch sockets off at the breaker" in text
    assert "see above" not in as_text(reviewed("galley-kitchen-faulty"), shape=Shape(step="clip-sink"))


@pytest.mark.parametrize("stem", sorted(FAULTY))
def test_boxes_that_count_themselves_are_as_many_as_the_head_says(stem):
    report = reviewed(stem)
    text = " ".join(as_text(report).split())
    found = re.findall(r"(?:\[ \]|!) ([A-Z]+): (?:(?!\[ \] |! [A-Z]+: ).)*?\[(\d+)(, counted with \d+)?[\],]", text)
    counted = {word: sum(w == word.upper() and not also for w, _, also in found) for word in report_words()}

    assert counted == {word: report.count(word) for word in report_words()}
    assert len(found) == len(arrange(report).entries())


def refused(command, *options):
    """What is printed, whether it is a mistake of the user (status 2), and the message."""
    result = CliRunner().invoke(app, [command, str(TOP / "scenarios"), *options])
    return result.stdout, isinstance(result.exception, InputError), str(result.exception)


def report_words():
    return ("danger", "warning", "caution", "notice")


def test_open_practices_are_counted_alike_in_text_and_data():
    report = reviewed("galley-kitchen-faulty")
    count = json.loads(as_json(report))["open_practices"]

    assert f"Not judged yet: {count} practices that wait" in " ".join(as_text(report).split())


def test_each_step_of_a_merged_finding_has_its_line():
    report = reviewed("galley-kitchen-faulty")
    lines = {step.id: step.line for step in report.plan.steps}
    arranged = arrange(report)
    notes = numbered(arranged)
    merged = [entry for entry in arranged.entries() if len([s for s in entry.steps if s]) > 1]

    assert len(merged) >= 2
    assert [e for e in merged if set(notes[id(e)].lines) != {lines[s] for s in e.steps}] == []
    assert "Lines 32, 37." in " ".join(as_text(report).split())


@pytest.mark.parametrize("command", ["hazards", "supplies"])
def test_a_folder_never_passes_for_its_first_plan(command):
    assert refused(command) == ("", True, f"{TOP / 'scenarios'}: is a folder. Expected a YAML file.")


def test_a_step_asked_of_a_folder_is_refused():
    out, mistake, message = refused("review", "--step", "sand-doors")

    assert (out, mistake) == ("", True)
    assert message.startswith("--step: picks findings of one plan.")


def test_the_rest_is_named_by_the_path_that_was_given(monkeypatch):
    monkeypatch.chdir(TOP)

    text = as_text(review("scenarios/bathroom-faulty.yaml"))

    assert "The rest  advisor review scenarios/bathroom-faulty.yaml\n" in text


def test_a_path_too_long_for_the_screen_is_not_cut():
    report = review({"steps": [{"do": "sweep", "id": "s"}]})
    report.plan.file = "a/" * 60 + "plan.yaml"

    assert as_text(report, shape=Shape(brief=True)).count("advisor review plan.yaml\n") == 1


@pytest.mark.parametrize("stem", sorted(FAULTY))
def test_a_plan_with_a_danger_or_a_warning_says_do_not_start(stem):
    report = reviewed(stem)
    said = first_screen(report).start
    counts = arrange(report).counts()

    assert said.startswith("Do not start yet: first see to the ")
    assert [word for word in ("danger", "warning") if (counts[word] > 0) != (word in said)] == []


NO_LEAVE = "What the plan tells brings nothing graver than a caution; that alone is no leave to start."


def test_a_plan_without_danger_or_warning_is_never_told_to_start():
    """Nothing found is not nothing there: what waits for an answer may be grave, and says so in the first lines."""
    first = first_screen(review({"steps": [{"do": "sweep", "id": "s"}]}))

    assert first.start.startswith("Before you start: answer the questions (what the plan leaves out may hide ")
    assert first.start.endswith(NO_LEAVE)
    assert first.begin == ()


def test_a_careful_plan_is_told_to_answer_first_and_how_grave_what_is_left_may_be():
    """The same numbers as the class list gives at worst."""
    report = review(TOP / "scenarios/bathroom-careful.yaml")
    brief = as_text(report, shape=Shape(brief=True)).splitlines()
    ranks = {}
    for one in report.open:
        ranks[one.rule] = max(ranks.get(one.rule, 0), one.rank)
    grave = [f"{list(ranks.values()).count(rank)} {word}s" for rank, word in ((3, "danger"), (2, "warning"))]

    assert not report.findings
    assert "Before you start: answer the questions " in "".join(brief[:5])
    assert f"may hide {grave[0]} and {grave[1]});" in " ".join(brief)
    assert NO_LEAVE in " ".join(brief)
    assert "safe" not in " ".join(brief)


def test_trades_that_local_code_may_ask_for_by_what_a_step_touches():
    """Cleaning an outlet, paint beside it, and what a named electrician does ask for nobody."""
    import yaml

    plan = review(yaml.safe_load(WIRED)).plan

    assert trades_touched(plan) == {"electrician": ["swap"], "gas fitter": ["join"], "plumber": ["drop"]}


def test_wiring_names_the_electrician_and_the_permit_before_anything_else():
    report = reviewed("galley-kitchen-faulty")
    text = " ".join(as_text(report).split())
    by_trade = " ".join(as_checklist_text([report], by="trade").split())

    assert "licensed electrician, if local code asks: replace sockets (swap-sockets) and replace lights" in text
    assert "[ ] building department, before swap-sockets and new-lights: ask about a permit" in text
    assert "[ ] Ask your building department whether swap-sockets and new-lights need a permit." in " ".join(
        by_trade.split()
    )
    assert "WORK FOR: LICENSED ELECTRICIAN, OR FOR YOU WHERE LOCAL CODE LETS YOU" in by_trade
    assert "WORK FOR: LABORATORY" in by_trade
    assert "local code decides" not in text


def test_the_water_is_shut_off_before_you_begin_where_a_pipe_is_opened():
    opened = " ".join(as_text(reviewed("bathroom-faulty")).split())
    dry = " ".join(as_text(reviewed("galley-kitchen-faulty")).split())

    assert "[ ] Find out where the water is shut off. Shut it off before new-tap, and try a tap." in opened
    assert "where the water is shut off" not in dry


def test_the_sample_answer_of_a_question_brings_what_it_names():
    """`humidity 100 %` was said to bring heat stroke, and a GFCI outlet the danger of aluminum wire."""
    report = reviewed("galley-kitchen-faulty")
    said = [question.decides for question in report.questions]

    assert [text for text in said if "humidity" in text and "heat stroke" in text] == []
    assert [text for text in said if "gfci" in text and "luminum" in text] == []
    assert sum(bool(text) for text in said) > 20


@pytest.mark.parametrize(
    ("share", "words"), [(5.0, "5 times"), (19.04, "19 times"), (1.04, "1.04 times"), (0.5, "50 %")]
)
def test_a_share_above_the_whole_is_told_in_times(share, words):
    assert about_share(share, "fraction", "us") == words
