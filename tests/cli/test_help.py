"""Help, version and completion; near names; what shapes the text for no other format."""

import re
import shlex

import pytest
from reports.support import SCENARIOS
from typer.main import get_command
from typer.testing import CliRunner

from advisor.cli.app import app
from advisor.cli.examples import EXAMPLES
from advisor.rulebase.base import load_rulebase
from advisor.version import VERSION

RUN = CliRunner()
DEMO = str(next(path for path in SCENARIOS if path.stem == "galley-kitchen-faulty"))
COMMANDS = [command.name or command.callback.__name__ for command in app.registered_commands]


def test_version_names_the_rules():
    said = RUN.invoke(app, ["--version"]).stdout

    assert said == f"prework-advisor {VERSION}, rules {load_rulebase().digest}\n"
    assert re.fullmatch(r"[0-9a-f]{12}", load_rulebase().digest)


@pytest.mark.parametrize("word", ["-h", "--help"])
@pytest.mark.parametrize("command", ["", *COMMANDS])
def test_help_ends_with_examples_and_the_exit_status(command, word):
    result = RUN.invoke(app, [*([command] if command else []), word])

    assert result.exit_code == 0
    assert "Examples:" in result.stdout
    assert "Exit status: 0 done" in result.stdout


def test_every_example_can_be_parsed_by_its_command():
    """Names of options and arguments only: no plan is read."""
    group = get_command(app)
    wrong = []
    for name, examples in EXAMPLES.items():
        for example in examples:
            program, command, *words = shlex.split(example)
            words = [word for word in words if word not in ("-h", "--help")]
            assert (program, command) == ("advisor", name)
            parser = group.get_command(None, name)
            try:
                parser.make_context(name, [*words], resilient_parsing=False)
            except Exception as error:
                if "does not exist" not in str(error):
                    wrong.append((example, str(error)))

    assert wrong == []


def test_completion_can_be_installed():
    assert "--install-completion" in RUN.invoke(app, ["--help"]).stdout


@pytest.mark.parametrize(
    ("words", "near"),
    [
        (["why", DEMO, "isolate-powr"], "Did you mean 'isolate-power"),
        (["why-not", DEMO, "isolate-powr"], "Did you mean 'isolate-power'?"),
        (["rules", "show", "isolate-powr"], "Did you mean 'isolate-power'?"),
        (["calc", "lifting-indx"], "Did you mean 'lifting-index'?"),
    ],
)
def test_names_that_are_nearly_right_are_answered(words, near):
    result = RUN.invoke(app, words)

    assert result.exit_code == 2
    assert near in result.stderr


@pytest.mark.parametrize("option", [["--step", "fit-top"], ["--width", "90"], ["--lines", "30"]])
def test_what_shapes_the_text_is_refused_for_data(option):
    """A part of the findings must never pass for all of them."""
    from advisor.errors import InputError

    result = RUN.invoke(app, ["review", DEMO, "--format", "json", *option])

    assert isinstance(result.exception, InputError)
    assert "shapes text alone" in str(result.exception.problems[0])


def test_a_step_that_the_plan_does_not_have_is_answered_with_the_near_one():
    result = RUN.invoke(app, ["review", DEMO, "--step", "fit-topp"])

    assert "has no step 'fit-topp'. Did you mean 'fit-top'?" in str(result.exception.problems[0])


def test_a_file_that_is_not_there_is_answered_with_the_near_one():
    result = RUN.invoke(app, ["check", DEMO.replace("faulty", "fawlty")])

    assert result.exit_code == 2
    assert "no such file or directory. Did you mean 'galley-kitchen-faulty.yaml'?" in result.stderr
