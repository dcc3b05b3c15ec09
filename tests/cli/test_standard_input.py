"""A plan from standard input (`-`): what it may be, how it is named, and what does not reach it."""

import re

import pytest
from typer.testing import CliRunner

from advisor.cli.app import app
from advisor.errors import InputError
from cli.small_plans import HEAD, QUIET, SHIMS, SOCKET

RUN = CliRunner()


@pytest.mark.parametrize("command", ["review", "order", "hazards", "checklist", "questions"])
def test_a_plan_comes_from_standard_input(command):
    text = HEAD.format(n=1) + SOCKET
    result = RUN.invoke(app, [command, "-"], input=text, catch_exceptions=False)

    assert (result.exit_code, bool(result.stdout)) == (0, True)


def test_standard_input_is_named_in_messages_and_has_the_limit_of_files():
    wrong = RUN.invoke(app, ["review", "-"], input=HEAD.format(n=1) + SHIMS.replace("install", "instal"))
    long = RUN.invoke(app, ["review", "-"], input="#" * 2_000_001)

    assert [(r.exit_code, r.stderr.partition(": ")[0]) for r in (wrong, long)] == [(2, "<stdin>:4"), (2, "<stdin>")]
    assert "Expected at most 2,000,000." in long.stderr


@pytest.mark.parametrize(
    "words",
    [["review", "-", "plan.yaml"], ["questions", "--ask", "-"], ["review", "-", "--cluster", "tcp://127.0.0.1:1"]],
)
def test_standard_input_is_refused_where_a_file_is_needed(words):
    with pytest.raises(InputError, match="is standard input"):
        RUN.invoke(app, words, input=HEAD.format(n=1) + QUIET, catch_exceptions=False)


@pytest.mark.parametrize("form", ["text", "markdown"])
def test_a_report_of_standard_input_names_commands_that_can_be_typed(form):
    text = HEAD.format(n=1) + SOCKET
    said = RUN.invoke(app, ["review", "-", "--format", form], input=text, catch_exceptions=False).stdout

    assert set(re.findall(r"advisor (?:order|questions) (\S+)", said)) == {"-"}


def test_waivers_of_the_folder_at_hand_do_not_reach_standard_input(tiny, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    accepted = "waivers: [{rule: tiny-shims, step: set, reason: hidden, by: R. Roe}]"
    (tmp_path / "waivers.yaml").write_text(accepted, encoding="utf-8")
    result = RUN.invoke(app, ["review", "-"], input=HEAD.format(n=1) + SHIMS, catch_exceptions=False)

    assert ["ACCEPTED" in result.stdout, "1 notice." in result.stdout] == [False, True]
