"""Questions come from what is open and from what findings rest on; what an answer is said to do it does."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml
from typer.testing import CliRunner

from advisor.cli.app import app
from advisor.plan import read_plan
from advisor.review.asked import Question
from advisor.review.model import Report
from advisor.review.reviewing import review, review_plan
from advisor.rulebase.base import load_rulebase
from advisor.rulebase.model import SIGNALS

HALL = """title: x
rooms:
  hall: {kind: hallway, length: 14 ft, width: 4 ft, height: 8 ft}
parts:
  casing: {kind: trim, room: hall, coating: paint}
steps:
  - {id: smooth, do: sand, to: casing, with: [random-orbit sander]}
"""
OUTLET = """title: x
house: {built: 2003}
rooms: {den: {kind: living room}}
parts: {sockets: {kind: outlet, room: den}}
steps: [{id: swap, do: replace, to: sockets}]
"""
PRIMER = """title: x
house: {built: 1994}
rooms: {shed: {kind: workshop}}
parts: {doors: {kind: cabinet doors, room: shed, material: pine}}
products: {undercoat: {kind: primer}}
steps: [{id: prime, do: prime, to: doors, using: undercoat}]
"""
SPLASH = """title: x
rooms: {kitchen: {kind: kitchen}}
parts: {splash: {kind: backsplash, room: kitchen}}
steps: [{id: set, do: tile, to: splash}]
"""
WALL = """title: x
house: {built: 1961}
rooms: {den: {kind: living room}}
parts: {wall: {kind: wall, room: den}}
steps: [{id: out, do: remove wall, to: wall}]
"""
PLANS = {"hall": HALL, "outlet": OUTLET, "primer": PRIMER, "splash": SPLASH, "wall": WALL}


class _Plain(yaml.CSafeLoader):
    """Scalars as written: `no` stays a word."""


_Plain.yaml_implicit_resolvers = {}


def _review(text: str) -> Report:
    rulebase = load_rulebase()
    return review_plan(read_plan(text, rulebase.vocabulary, "plan"), rulebase)


def _asked(report: Report, name: str) -> Question:
    return next(q for q in report.questions if q.name == name)


def test_the_year_of_an_old_hall_is_asked_with_what_hangs_on_it() -> None:
    """If it was built in 1978 or later the lead test goes (40 CFR 745.83: target housing is from before 1978)."""
    year = _asked(_review(HALL), "house.built")

    assert any("test-for-lead@smooth" in a.goes and int(a.value) >= 1978 for a in year.answers)
    assert not any("test-for-lead@smooth" in a.goes and int(a.value) < 1978 for a in year.answers)


def test_outlets_in_a_wall_that_is_tiled_are_asked_for_in_a_persons_words() -> None:
    """Common practice: live wires behind the tile are the gravest thing that a thin plan of a backsplash leaves out."""
    report = _review(SPLASH)
    first = report.questions[:8]

    assert any("outlets" in q.ask and "splash" in q.ask and SIGNALS[q.rank] == "danger" for q in first)
    assert any(one.missing for one in report.open)


def test_nothing_is_asked_that_the_plan_states() -> None:
    """The casing's coating and the step's tools are there."""
    names = {q.name for q in _review(HALL).questions}

    assert not names & {"part.casing.coating", "part.casing.kind", "room.hall.sizes"}


def test_danger_is_weighed_before_notice_where_the_rest_is_alike() -> None:
    report = _review(WALL)
    ranks = [q.rank for q in report.questions]

    assert sum(ranks[:8]) / 8 > sum(ranks[-8:]) / 8


def test_no_answer_is_an_inner_test_value() -> None:
    """Round figures and words: nothing like 146.067 °F."""
    said = [a.value for text in PLANS.values() for q in _review(text).questions for a in q.answers]

    assert len(said) > 30
    assert [value for value in said if sum(c.isdigit() for c in value.split(" ")[0].replace(".", "")) > 4] == []


@pytest.mark.parametrize("name", sorted(PLANS))
def test_an_answer_brings_and_takes_away_what_it_is_said_to(name: str) -> None:
    """The plan with the answer written in is reviewed from end to end."""
    text = PLANS[name]
    report = _review(text)
    before = {f.id for f in report.findings}
    checked, wrong = 0, []
    for question in report.questions[:12]:
        for answer in question.answers:
            sort, own, name_of = answer.key
            if not answer.comes or not sort or own.startswith("?"):
                continue
            plan = yaml.load(text, Loader=_Plain)
            many = load_rulebase().vocabulary.attributes[sort][name_of].many
            said = answer.value.removeprefix(name_of.replace("_", " ") + " ")
            value = [said] if many else said
            if sort == "step":
                next(s for s in plan["steps"] if s["id"] == own)[name_of] = value
            elif own == sort:
                plan.setdefault(sort, {})[name_of] = value
            else:
                plan[f"{sort}s"][own][name_of] = value
            after = {f.id for f in review(plan).findings}
            checked += 1
            wrong += [
                (question.name, answer.value, one) for one in answer.comes if one not in after and one not in before
            ]
    assert checked > 2
    assert wrong == []


def test_an_answer_is_written_into_the_plan_and_the_old_text_kept(tmp_path: Path) -> None:
    """`--ask` walks on to a question with choices; comments stay."""
    path = tmp_path / "plan.yaml"
    text = OUTLET.replace("title: x\n", "title: x   # mine\n")
    path.write_text(text)
    result = CliRunner().invoke(app, ["questions", str(path), "--ask"], input="1\n1\n1\n1\nstop\n")

    assert result.exit_code == 0
    assert (tmp_path / "plan.yaml.bak").read_text() == text
    assert path.read_text().startswith("title: x   # mine\n")


def test_an_answer_that_does_not_fit_is_asked_again_and_leaves_the_plan_alone(tmp_path: Path) -> None:
    """What was expected is said; with no better answer nothing is written, and `unknown` never is."""
    path = tmp_path / "plan.yaml"
    path.write_text(HALL)
    result = CliRunner().invoke(app, ["questions", str(path), "--ask"], input="{{{\nunknown\n")

    assert ("Expected" in result.output, "No answer; nothing was written." in result.output) == (True, True)
    assert (path.read_text(), list(tmp_path.iterdir())) == (HALL, [path])


@pytest.mark.parametrize(("kind", "asked"), [("cabinet doors", False), ("wall", True)])
def test_nobody_is_asked_for_a_laboratory_test_of_a_cabinet_door(kind: str, asked: bool) -> None:
    parts = f"parts: {{p: {{kind: {kind}, room: den}}}}"
    text = f"house: {{built: 1960}}\nrooms: {{den: {{kind: living room}}}}\n{parts}\nsteps: [{{do: remove, to: p}}]"
    keys = {key for q in _review(text).questions for key in q.keys}

    assert (("part", "p", "asbestos_test") in keys) == asked


def test_kinds_of_which_a_thing_is_not_asked_are_kinds_of_part() -> None:
    words = load_rulebase().vocabulary
    named = {kind for known in words.attributes.values() for a in known.values() for kind in a.not_asked_of}

    assert named - set(words.taxonomies["part_kind"].terms) == set()
