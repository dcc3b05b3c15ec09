"""`advisor questions` and `why` at the command line: forms that there are not, and a question left unanswered."""

from pathlib import Path

import pytest
from typer import Typer
from typer.testing import CliRunner

from advisor.cli.asking import questions, why

app = Typer()
app.command("questions")(questions)
app.command("why")(why)

PLAN = """
house: {built: 2008}
rooms: {closet: {kind: closet}}
parts: {light: {kind: light, room: closet}}
steps: [{do: install, to: light}]
"""


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """A plan file."""
    path = tmp_path / "plan.yaml"
    path.write_text(PLAN, encoding="utf-8")
    return path


@pytest.mark.parametrize("words", [["questions"], ["why", "isolate-power"]])
def test_a_form_that_there_is_not_is_refused(plan: Path, words: list[str]) -> None:
    command, *rest = words
    result = CliRunner().invoke(app, [command, str(plan), *rest, "--format", "yaml"])

    assert result.exit_code == 2
    assert "'yaml' is not one of 'text', 'json'" in " ".join(result.output.replace("│", "").split())


@pytest.mark.parametrize("piped", ["", "\n"])
def test_a_question_without_an_answer_leaves_the_plan_alone(plan: Path, piped: str) -> None:
    result = CliRunner().invoke(app, ["questions", str(plan), "--ask"], input=piped)

    assert (result.exit_code, plan.read_text(encoding="utf-8")) == (0, PLAN)
    assert "No answer; nothing was written." in result.output
