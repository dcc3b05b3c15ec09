"""`advisor review PLAN` and no more: it goes past typer, and does what typer would have it do."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from advisor import cli
from advisor.cli.app import app

PLAN = Path(__file__).parents[2] / "scenarios" / "trim-in-an-old-hall.yaml"


def test_the_defaults_are_those_of_the_options(monkeypatch: pytest.MonkeyPatch) -> None:
    """Both ways call the same function with the same words."""
    asked: list[tuple[Any, ...]] = []
    monkeypatch.setattr("advisor.cli.reviewing.review_files", lambda *words: asked.append(words) or 0)

    cli._alone(["advisor", "review", "plan.yaml"])
    CliRunner().invoke(app, ["review", "plan.yaml"])

    assert len(asked) == 2
    assert asked[0] == asked[1]


@pytest.mark.parametrize(
    "words", [["review"], ["review", "-"], ["review", "--help"], ["review", "a", "b"], ["check", "a"], ["review", ""]]
)
def test_anything_else_is_read_by_typer(words: list[str]) -> None:
    """Options, several plans, standard input and other commands."""
    assert not cli._is_plain(["advisor", *words])


def test_typer_is_not_imported_and_a_mistake_ends_with_2() -> None:
    """As with options: one message, status 2."""
    code = "import sys, advisor.cli as c; sys.argv = ['advisor', 'review', sys.argv[1]]; c._status(); {}"
    after = "print('typer' in sys.modules, file=sys.stderr)"
    good = subprocess.run([sys.executable, "-c", code.format(after), str(PLAN)], capture_output=True, text=True)
    bad = subprocess.run([sys.executable, "-m", "advisor", "review", "no-such.yaml"], capture_output=True, text=True)

    assert good.stderr.strip() == "False"
    assert bad.returncode == 2
    assert "cannot be opened" in bad.stderr
    assert "Traceback" not in bad.stderr
