"""Calculators know nothing of plans and rules, cite works that exist, and each has its oracle."""

import ast
import re
from pathlib import Path

import pytest
import yaml

from advisor.calculators import load_all
from advisor.tables import rules_folder, table
from advisor.units import DIMENSIONS

CALCULATORS = Path(__file__).parents[2] / "advisor" / "calculators"
ORACLES = Path(__file__).parents[1] / "oracles"
FORBIDDEN = {"plan", "rulebase", "engine", "review", "reports", "cli"}
MODULES = sorted(path.name for path in CALCULATORS.glob("*.py"))
NAMES = sorted(load_all())


def imported(path: Path) -> set[str]:
    """Every module that the file imports, at its top or inside a function."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            found |= {f"{node.module}.{alias.name}" for alias in node.names}
            assert node.level == 0  # absolute imports only, so that the check below sees them all
    return found


def called(path: Path) -> set[str]:
    """Names of the functions that the file calls, or hands on to be called."""
    return {node.id for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))) if isinstance(node, ast.Name)}


@pytest.mark.parametrize("module", MODULES)
def test_a_calculator_imports_nothing_that_knows_plans_or_rules(module) -> None:
    parts = {tuple(name.split(".")[:2]) for name in imported(CALCULATORS / module)}

    assert {second for first, *rest in parts if first == "advisor" for second in rest} & FORBIDDEN == set()


def test_every_calculator_is_called_by_an_oracle_test() -> None:
    tested = set().union(*(called(path) for path in ORACLES.glob("test_*.py")))

    assert [name for name in NAMES if name not in tested] == []


@pytest.mark.parametrize("name", NAMES)
def test_every_source_is_in_the_bibliography_with_its_place(name) -> None:
    works = yaml.safe_load((rules_folder() / "sources.yaml").read_text(encoding="utf-8"))
    cited = [source for source in load_all()[name].sources if source != "common practice"]

    assert [source for source in cited if source.partition(": ")[0] not in works] == []
    assert [source for source in cited if not source.partition(": ")[2]] == []
    assert load_all()[name].sources != ()


@pytest.mark.parametrize("name", NAMES)
def test_every_input_can_be_read_from_text(name) -> None:
    for one in load_all()[name].inputs:
        assert one.words or one.dimension in DIMENSIONS or one.dimension == "profile", one.name
        if one.column:
            assert table(one.column.table).columns[one.column.column] == one.dimension


@pytest.mark.parametrize("name", NAMES)
def test_the_docstring_says_what_a_reader_needs(name) -> None:
    text = load_all()[name].function.__doc__ or ""

    wanted = ["Returns:", "Raises:", ">>>"]
    if set(load_all()[name].sources) != {"common practice"}:
        wanted.append("References:")

    assert [word for word in wanted if word not in text] == []
    assert re.match(r"[A-Z].*[.]$", load_all()[name].summary)
