"""`advisor check`: the form of plans, with the messages of `review`, and no rule asked."""

from __future__ import annotations

from pathlib import Path

import pytest
from typer.testing import CliRunner

from advisor.cli.app import app

HERE = Path(__file__).resolve().parents[1]
BROKEN = sorted((HERE / "plan" / "broken").glob("*.yaml"))
SCENARIOS = HERE.parent / "scenarios"
GOOD = "parts: {doors: {kind: cabinet doors}}\nsteps: [{do: sand, to: doors}]\n"


def run(*words: object, text: str | None = None):
    return CliRunner().invoke(app, [str(word) for word in words], input=text)


@pytest.mark.parametrize("path", BROKEN, ids=lambda path: path.stem)
def test_a_broken_plan_gets_the_messages_of_a_review(path: Path) -> None:
    """Line by line the same, save for the last, which counts them."""
    told = []
    for command in ("check", "review"):
        result = run(command, path)
        lines = result.stderr.splitlines() or str(result.exception).splitlines()
        told.append([line for line in lines if "nothing was reviewed" not in line])
        assert result.exit_code in (1, 2)  # 1 where the error reaches the runner, which `advisor.cli.run` makes 2

    assert told[0] == told[1] != []
    assert run("check", path).exit_code == 2


def test_scenarios_can_be_read() -> None:
    """A folder; what lies in it and is no plan is passed over."""
    result = run("check", SCENARIOS)

    assert (result.exit_code, result.stderr) == (0, "")
    assert "can be read. Nothing was reviewed" in result.stdout


def test_every_broken_plan_of_a_folder_is_named_and_the_others_are_counted(tmp_path: Path) -> None:
    """Status 2 from one mistake."""
    (tmp_path / "a.yaml").write_text(GOOD, encoding="utf-8")
    (tmp_path / "b.yaml").write_text(GOOD.replace("sand", "sandd"), encoding="utf-8")
    (tmp_path / "c.yaml").write_text(GOOD.replace("cabinet doors", "kabinet dors"), encoding="utf-8")
    result = run("check", tmp_path)

    assert result.exit_code == 2
    assert [line.split(":")[0][-6:] for line in result.stderr.splitlines()[:2]] == ["b.yaml", "c.yaml"]
    assert result.stderr.splitlines()[-1] == "2 mistakes in 2 plans; nothing was reviewed."
    assert result.stdout.startswith("1 plan can be read.")


def test_standard_input_is_checked() -> None:
    """With the name that `review` gives it."""
    assert run("check", "-", text=GOOD).exit_code == 0
    assert run("check", "-", text=GOOD.replace("sand", "sandd")).stderr.startswith("<stdin>:2: ")


def test_no_rule_is_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    """Neither facts nor engine."""

    def fail(*_: object, **__: object) -> None:
        raise AssertionError("a rule was asked")

    monkeypatch.setattr("advisor.engine.run.run_rules", fail)
    monkeypatch.setattr("advisor.plan.facts.make_facts", fail)

    assert run("check", SCENARIOS / "trim-in-an-old-hall.yaml").exit_code == 0
