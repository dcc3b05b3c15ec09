"""`advisor review --matcher`: the reference and the default say the same."""

from pathlib import Path

from typer.testing import CliRunner

from advisor.cli.app import app
from advisor.cli.review import Matcher
from advisor.engine.run import MATCHERS

PLAN = Path(__file__).parents[2] / "scenarios" / "trim-in-an-old-hall.yaml"


def test_every_matcher_can_be_named() -> None:
    """The words of the option are the engine's own."""
    assert {m.value for m in Matcher} == set(MATCHERS)


def test_the_stock_matcher_gives_the_same_report() -> None:
    """Byte for byte."""
    arguments = ["review", str(PLAN), "--format", "json", "--matcher"]
    outputs = [CliRunner().invoke(app, [*arguments, name]).output for name in MATCHERS]

    assert outputs[0] == outputs[1]
    assert '"rule": "test-for-lead"' in outputs[0]


def test_an_unknown_matcher_is_refused() -> None:
    """Status 2."""
    assert CliRunner().invoke(app, ["review", str(PLAN), "--matcher", "magic"]).exit_code == 2
