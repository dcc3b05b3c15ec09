"""Questions are ranked by what their answers change."""

import random
from pathlib import Path

import pytest
from typer.testing import CliRunner

from advisor.cli.app import app
from advisor.plan import read_plan
from advisor.review.trials import Trials, with_answer
from advisor.review.whatif import _effect, _limits, answers, findings_of, open_questions, rank_questions
from advisor.rulebase.base import load_rulebase

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
TOP = """title: x
house: {built: 2003}
rooms: {shop: {kind: workshop, length: 16 ft, width: 10 ft, height: 8 ft}}
parts: {top: {kind: worktop, room: shop, material: oak, length: 8 ft, width: 25 in, thickness: 1.5 in}}
products: {varnish: {kind: clear finish, binder: oil-modified polyurethane, amount: 1 qt}}
steps:
  - {id: coat, do: finish, to: top, using: varnish}
  - {id: fit, do: install, to: top}
"""
SINK = """title: x
house: {built: 2003}
rooms: {kitchen: {kind: kitchen}}
parts:
  top: {kind: worktop, room: kitchen}
  basin: {kind: sink, room: kitchen, in: top}
steps: [{id: clips, do: clip, to: basin}]
"""
PRIMER = """title: x
house: {built: 1994}
rooms: {shed: {kind: workshop}}
parts: {doors: {kind: cabinet doors, room: shed, material: pine}}
products: {undercoat: {kind: primer}}
steps: [{id: prime, do: prime, to: doors, using: undercoat}]
"""
RUN = """title: x
house: {built: 2003}
rooms: {kitchen: {kind: kitchen}}
parts:
  run: {kind: base cabinets, room: kitchen, drops: {0 ft: 1 in, 3 ft: 2 in}}
  top: {kind: worktop, room: kitchen, on: run}
steps: [{id: fit, do: install, to: top}]
"""
TILE = """title: x
house: {built: 2003}
rooms: {bath: {kind: bathroom}}
parts: {field: {kind: wall tile, room: bath}}
steps: [{id: set, do: tile, to: field}, {id: joints, do: grout, to: field}]
"""
WALL = """title: x
house: {built: 1961}
rooms: {den: {kind: living room}}
parts: {wall: {kind: wall, room: den}}
steps: [{id: out, do: remove wall, to: wall}]
"""
FLOOR = """title: x
house: {built: 1972}
rooms: {den: {kind: living room}}
parts: {boards: {kind: wood floor, room: den}}
steps: [{id: sand, do: sand, to: boards, with: [drum sander]}]
"""
HOOD = """title: x
house: {built: 2003}
rooms: {kitchen: {kind: kitchen}}
parts: {hood: {kind: hood, room: kitchen, airflow: 600 cfm}}
steps: [{id: hang, do: install, to: hood}]
"""
PLANS = {
    "hall": HALL, "outlet": OUTLET, "top": TOP, "sink": SINK, "primer": PRIMER,
    "run": RUN, "tile": TILE, "wall": WALL, "floor": FLOOR, "hood": HOOD,
}  # fmt: skip
SAMPLE = 40  # answers a plan; `make fuzz` is the place for all of them


@pytest.mark.parametrize("name", sorted(PLANS))
def test_trials_agree_with_brute_force(name: str) -> None:
    """The whole plan run again with the answer gives the same change as the reached rules alone."""
    rulebase = load_rulebase()
    plan = read_plan(PLANS[name], rulebase.vocabulary, name)
    trials, limits = Trials(plan, rulebase), _limits(rulebase)
    full = findings_of(plan, rulebase)
    tried = [(b, *a) for b in open_questions(trials.base, rulebase) for a in answers(b, rulebase, limits)]
    wrong = []
    for basis, plain, text in random.Random(name).sample(tried, min(SAMPLE, len(tried))):
        whole = _effect(text, full, findings_of(with_answer(plan, basis, plain, text), rulebase))
        part = _effect(text, *trials.without_and_with(basis, plain, text))
        lost = (whole.gone or whole.new) and not trials.may_matter(basis)
        if (set(whole.gone), set(whole.new)) != (set(part.gone), set(part.new)) or lost:
            wrong.append((basis.about, text))

    assert (wrong, len(tried) > 10) == ([], True)


def test_questions_stand_in_order_of_weight_and_danger_first() -> None:
    """The weight of each is at least that of the next."""
    rulebase = load_rulebase()
    ranking = rank_questions(read_plan(HALL, rulebase.vocabulary, "hall"), rulebase)
    weights = [q.weight for q in ranking.questions]

    assert weights == sorted(weights, reverse=True)
    assert ranking.untried == 0


def test_the_year_of_an_old_hall_is_asked_for_with_what_hangs_on_it() -> None:
    """If it was built in 1978 or later, the lead test goes."""
    rulebase = load_rulebase()
    ranking = rank_questions(read_plan(HALL, rulebase.vocabulary, "hall"), rulebase)
    year = next(q for q in ranking.questions if (q.basis.sort, q.basis.attribute) == ("house", "built"))

    assert any(("test-for-lead@smooth", "warning") in e.gone and int(e.answer) >= 1978 for e in year.effects)


def test_untried_questions_are_counted_not_hidden() -> None:
    """With a budget of one trial nearly all are left."""
    rulebase = load_rulebase()
    plan = read_plan(HALL, rulebase.vocabulary, "hall")
    few, all_of_them = (rank_questions(plan, rulebase, most_trials=n) for n in (1, None))

    assert few.untried > 10
    assert len(few.questions) <= 1 < len(all_of_them.questions)


def test_an_answer_is_written_into_the_plan_and_the_old_text_kept(tmp_path: Path) -> None:
    """`--ask` puts the first question; comments stay."""
    path = tmp_path / "plan.yaml"
    text = OUTLET.replace("title: x\n", "title: x   # mine\n")
    path.write_text(text)
    result = CliRunner().invoke(app, ["questions", str(path), "--ask", "--most", "1"], input="unknown\n")

    assert result.exit_code == 0
    assert (tmp_path / "plan.yaml.bak").read_text() == text
    assert path.read_text().startswith("title: x   # mine\n")


def test_an_answer_that_does_not_fit_is_asked_again_and_leaves_the_plan_alone(tmp_path: Path) -> None:
    """What was expected is said; with no better answer nothing is written."""
    path = tmp_path / "plan.yaml"
    path.write_text(HALL)
    result = CliRunner().invoke(app, ["questions", str(path), "--ask", "--most", "1"], input="{{{\n")

    assert ("Expected" in result.output, "No answer; nothing was written." in result.output) == (True, True)
    assert (path.read_text(), list(tmp_path.iterdir())) == (HALL, [path])


def test_a_second_answer_that_fits_is_written(tmp_path: Path) -> None:
    """The first one did not."""
    path = tmp_path / "plan.yaml"
    path.write_text(HALL)
    result = CliRunner().invoke(app, ["questions", str(path), "--ask"], input="{{{\nunknown\n")

    assert ("Written to" in result.output, path.read_text() == HALL) == (True, False)


OWN = """pack: own
title: Own
kinds:
  wall_here: {wall: ref part}
rules:
  - id: own-walls
    title: Walls
    when: [{part: {id: $wall, kind: wall, stays: yes}}]
    deduce: {wall_here: {wall: $wall}}
    sources: [{common_practice: yes}]
  - id: own-finding
    title: Walls are painted
    when:
      - wall_here: {wall: $wall}
      - part: {id: $other, kind: trim, stays: yes}
      - step: {id: $step, do: paint, to: [$wall, $other]}
    warn: {signal: notice, at: $step, what: Look., because: It shows.}
    sources: [{common_practice: yes}]
"""


def test_a_comparison_with_what_a_change_may_bring_is_taken_as_met(tmp_path: Path) -> None:
    """The wall is known only once the first rule fires; the second must not stumble over it before."""
    (tmp_path / "own.yaml").write_text(OWN, encoding="utf-8")
    rulebase = load_rulebase([tmp_path])
    text = """rooms: {den: {kind: living room}}
parts: {w: {kind: wall, room: den}, t: {kind: trim, room: den}}
steps: [{id: coat, do: paint, to: t}]
"""
    trials = Trials(read_plan(text, rulebase.vocabulary), rulebase)
    asked = {(b.id, b.attribute) for b in open_questions(trials.base, rulebase) if trials.may_matter(b)}

    assert ("w", "stays") in asked


@pytest.mark.parametrize(("kind", "asked"), [("cabinet doors", False), ("wall", True)])
def test_nobody_is_asked_for_a_laboratory_test_of_a_cabinet_door(kind: str, asked: bool) -> None:
    rulebase = load_rulebase()
    parts = f"parts: {{p: {{kind: {kind}, room: den}}}}"
    text = f"rooms: {{den: {{kind: living room}}}}\n{parts}\nsteps: [{{do: sand, to: p}}]"
    base = Trials(read_plan(text, rulebase.vocabulary), rulebase).base

    assert (("p", "asbestos_test") in {(b.id, b.attribute) for b in open_questions(base, rulebase)}) == asked


def test_kinds_of_which_a_thing_is_not_asked_are_kinds_of_part() -> None:
    words = load_rulebase().vocabulary
    named = {kind for known in words.attributes.values() for a in known.values() for kind in a.not_asked_of}

    assert named - set(words.taxonomies["part_kind"].terms) == set()
