"""Editing by sentence: what is added, every other byte left alone, and nothing written that was not asked for."""

from __future__ import annotations

import difflib
import random
from pathlib import Path

import pytest
from typer.testing import CliRunner

from advisor.cli.app import app
from advisor.draft.adding import add
from advisor.errors import InputError
from advisor.plan import read_plan
from advisor.rulebase.base import load_rulebase
from draft.test_any_text import words

SCENARIOS = sorted((Path(__file__).parents[2] / "scenarios").glob("*.yaml"))
PLAN = """# my plan
house: {built: 1974}
rooms:
  kitchen: {kind: kitchen}
parts:
  doors: {kind: cabinet doors, room: kitchen}   # oak?
  basin: {kind: sink, room: kitchen}
steps:
  - {id: sand, do: sand, to: doors}
  - {id: paint, do: paint, to: doors}
"""


def added(words: str, plan: str = PLAN) -> list[str]:
    """The lines that came; no line may go but one that is there again with more in it."""
    after, _ = add(plan, "plan.yaml", words, load_rulebase())
    lines = list(difflib.ndiff(plan.splitlines(), after.splitlines()))
    gone = [line[2:] for line in lines if line.startswith("- ")]
    came = [line[2:] for line in lines if line.startswith("+ ")]
    assert all(any(line.rstrip("}").split("}")[0] in new for new in came) for line in gone)
    return came


def test_a_step_and_its_thing_are_added() -> None:
    """The sentence of the brief."""
    came = "\n".join(added("we also move the outlet next to the sink"))

    assert "{kind: outlet" in came
    assert "do: move, to: outlet" in came


def test_a_fact_goes_to_the_thing_that_is_there() -> None:
    """Its comment stays."""
    assert added("the doors are oak") == ["  doors: {kind: cabinet doors, room: kitchen, material: oak}   # oak?"]


def test_a_step_goes_where_the_words_put_it() -> None:
    """Before the painting that the plan has."""
    after, _ = add(PLAN, "plan.yaml", "before painting, prime the doors with bonding primer", load_rulebase())
    plan = read_plan(after, load_rulebase().vocabulary, "after")

    assert [str(step.values["do"].plain) for step in plan.steps] == ["sand", "prime", "paint"]


def test_what_contradicts_the_plan_is_offered() -> None:
    """The plan's own word stays."""
    after, heard = add(PLAN, "plan.yaml", "the house was built in 1955", load_rulebase())

    assert after == PLAN
    assert [c.value for c in heard.unsure[0].candidates] == ["1974", "1955"]


def test_nothing_is_written_unless_asked(tmp_path: Path) -> None:
    """The difference is shown first; with --yes the plan is written and its old text kept."""
    plan, words = tmp_path / "plan.yaml", tmp_path / "words.txt"
    plan.write_text(PLAN, encoding="utf-8")
    words.write_text("the doors are oak", encoding="utf-8")
    shown = CliRunner().invoke(app, ["draft", str(words), "--into", str(plan)])

    assert "+  doors: {kind: cabinet doors, room: kitchen, material: oak}" in shown.stdout
    assert plan.read_text(encoding="utf-8") == PLAN
    CliRunner().invoke(app, ["draft", str(words), "--into", str(plan), "--yes"])
    assert "material: oak" in plan.read_text(encoding="utf-8")
    assert (tmp_path / "plan.yaml.bak").read_text(encoding="utf-8") == PLAN


def test_any_words_can_be_added_to_any_plan() -> None:
    """Nonsense of the trade into the scenarios: the result is always a plan."""
    listed = words()
    for seed in range(12):
        pick = random.Random(seed)
        text = " ".join(pick.choice(listed) for _ in range(pick.randint(3, 40)))
        plan = pick.choice(SCENARIOS).read_text(encoding="utf-8")
        after, _ = add(plan, "plan.yaml", text, load_rulebase())
        read_plan(after, load_rulebase().vocabulary, "after")


def test_a_plan_that_cannot_be_read_is_refused() -> None:
    """With the reader's own messages."""
    with pytest.raises(InputError):
        add("parts: {x: {kind: nosuch}}\nsteps: [{do: sand, to: x}]\n", "plan.yaml", "sand the door", load_rulebase())
