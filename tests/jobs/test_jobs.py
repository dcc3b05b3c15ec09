"""Starting plans: each can be read, comes out quiet but for what nobody has said yet, and joins with every other.

The precautions of the jobs are *common practice*; the rules that review them carry their own sources.
"""

from __future__ import annotations

import itertools
import re

import pytest
from cli.test_terminal import advisor
from typer.testing import CliRunner

from advisor.cli.app import app
from advisor.errors import InputError
from advisor.jobs import find_jobs, join, read_jobs, write_start
from advisor.plan import read_plan
from advisor.plan.schema import plan_schema
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import load_rulebase

JOBS = read_jobs()
NAMES = [job.name for job in JOBS]
RULEBASE = load_rulebase()
VOCABULARY = RULEBASE.vocabulary
SORTS = {"rooms": "room", "parts": "part", "products": "product"}
HINT = re.compile(r"^(\s+)# (\w+): (.+?)\s{2,}# (.+)$")


def start(*names: str) -> str:
    return write_start(join(find_jobs(names, JOBS)), VOCABULARY)


def test_the_usual_jobs_are_there() -> None:
    """The jobs that the issue on ways in names, each by a word that a person would use."""
    wanted = {
        *("paint cabinet doors", "tile a backsplash", "new worktop", "undermount sink", "disposer", "faucet", "hood"),
        *("outlet", "light", "ceiling fan", "shelf", "drawers", "bathroom vanity", "toilet", "bath fan", "tile floor"),
        *("floating floor", "sand a floor", "paint a room", "wallpaper off", "window sashes", "interior door"),
        *("porch or deck", "closet", "basement wall"),
    }
    assert len({job.name for job in find_jobs(sorted(wanted), JOBS)}) == 25


@pytest.mark.parametrize("job", JOBS, ids=NAMES)
def test_what_is_asked_can_be_said(job) -> None:  # type: ignore[no-untyped-def]
    for thing, names in job.ask.items():
        sort = thing if thing in ("house", "crew") else next(SORTS[s] for s in SORTS if thing in job.plan.get(s, {}))
        assert set(names) <= set(VOCABULARY.attributes[sort]), thing


@pytest.mark.parametrize("name", NAMES)
def test_a_starting_plan_is_quiet_but_for_what_is_not_known(name: str) -> None:
    report = review_plan(read_plan(start(name), VOCABULARY, name), RULEBASE)
    assert [f.id for f in report.findings if not f.rests_on] == []
    assert (report.moves, report.given_up) == ([], [])


@pytest.mark.parametrize("name", NAMES)
def test_every_line_that_is_opened_and_filled_in_can_be_read(name: str) -> None:
    opened = []
    sort = ""
    for line in start(name).splitlines():
        if heading := re.match(r"(\w+):", line):
            sort = SORTS.get(heading[1], heading[1])
        hint = HINT.match(line)
        if hint is None:
            opened.append(line)
            continue
        attribute = VOCABULARY.attributes[sort][hint[2]]
        if attribute.type in ("ref", "profile"):  # needs a thing of the plan, or places that were measured
            continue
        opened.append(f"{hint[1]}{hint[2]}: {_answer(attribute)}")
    text = "\n".join(opened) + "\n"
    assert len(opened) > 5
    read_plan(text, VOCABULARY, name)


def _answer(attribute) -> str:  # type: ignore[no-untyped-def]
    if attribute.type == "term":
        return next(iter(VOCABULARY.taxonomies[attribute.of].terms))
    fixed = {"yes_no": "yes", "year": "1957", "count": "2", "text": "Ohio"}
    return fixed.get(attribute.type) or attribute.example.partition(": ")[2]


def test_any_two_jobs_make_one_plan() -> None:
    for one, other in itertools.combinations(NAMES, 2):
        plan = read_plan(start(one, other), VOCABULARY, f"{one} and {other}")
        assert len(plan.steps) >= max(len(read_plan(start(n), VOCABULARY, n).steps) for n in (one, other))


def test_what_two_jobs_share_stands_once() -> None:
    plan = read_plan(start("faucet", "disposer", "tile a backsplash"), VOCABULARY, "three")
    assert [name for name in plan.entities["room"] if "kitchen" in name] == ["kitchen"]
    assert sum(step.id == "find-main-shutoffs" for step in plan.steps) == 1


def test_a_room_of_no_kind_is_the_room_of_the_other_job() -> None:
    plan = read_plan(start("light", "paint a room"), VOCABULARY, "two")
    assert {name: room.values["kind"].plain for name, room in plan.entities["room"].items()} == {"room": "bedroom"}


def test_things_that_only_bear_the_same_name_are_told_apart() -> None:
    plan = read_plan(start("tile floor", "floating floor"), VOCABULARY, "two")
    rooms = {name: room.values["kind"].plain for name, room in plan.entities["room"].items()}
    assert (rooms["floor-room"], rooms["floor-room-2"]) == ("bathroom", "living room")
    assert plan.entities["part"]["floor-base-2"].values["room"].plain == "floor-room-2"
    vacuumed = next(step for step in plan.steps if step.id == "vacuum-base")
    assert vacuumed.values["to"].plain == ("floor-base-2",)


def test_an_unknown_job_is_answered_with_the_nearest() -> None:
    with pytest.raises(InputError) as caught:
        find_jobs(["tile a backsplas", "fly"], JOBS)
    said = str(caught.value)
    assert "Did you mean 'tile a backsplash'?" in said
    assert "fly: is no usual job." in said


def test_a_schema_takes_them_all() -> None:
    import jsonschema
    import yaml

    validator = jsonschema.Draft202012Validator(plan_schema(VOCABULARY))
    for name in NAMES:
        held = yaml.load(start(name), Loader=yaml.BaseLoader)
        assert not list(validator.iter_errors({k: v for k, v in held.items() if v})), name


def test_the_command_lists_writes_and_refuses(tmp_path) -> None:  # type: ignore[no-untyped-def]
    runner = CliRunner()
    listed = runner.invoke(app, ["new", "--list"]).stdout
    assert all(f"\n{name}\n" in listed for name in NAMES)
    target = tmp_path / "plan.yaml"
    assert runner.invoke(app, ["new", "faucet", "--output", str(target)]).exit_code == 0
    assert read_plan(target, VOCABULARY).steps
    before = target.read_bytes()
    refused = advisor("new", "shelf", "--output", target)
    assert (refused.returncode, refused.stderr.count(b"\n")) == (2, 2)
    assert target.read_bytes() == before  # somebody's plan is not written over
