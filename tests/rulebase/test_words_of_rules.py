"""How rules and the program speak of the vocabulary: by meaning and class, and nothing is accepted and not read."""

import ast
from pathlib import Path

import pytest

import advisor
from advisor.rulebase.base import load_rulebase
from advisor.rulebase.lint import lint
from advisor.rulebase.lint_words import readers_in_python

SOURCE = Path(advisor.__file__).parent

# Words that Python says for another reason than the trade's: (room or file, word) and why it is no trade word there.
OTHER_MEANINGS = {
    "owner": "who does a work, where nobody is called",
    "buy": "a way to get a thing, beside renting and borrowing",
    "hire": "a way to get a thing: somebody who is paid",
    "shelf": "where in a shop a thing stands",
    "paint": "a department of a shop",
    "tile": "a department of a shop",
    "electrical": "a department of a shop",
    "plumbing": "a department of a shop",
    "lumber": "a department of a shop",
    "hardware": "a department of a shop",
    "helper": "who may do a work, by the contract of the reports",
    "laboratory": "who may do a work, by the contract of the reports",
    "wait": "a kind of finding, a kind of conclusion and the attribute of a step",
    "add": "a form of advice",
    "use": "a form of advice",
    "set": "a form of advice",
    "replace": "what a pack of one's own does to a rule, and a function of a string",
    "protect": "the last of the controls",
    "none": "a word for nothing in a message",
    "line": "a line of a file or of a chart",
    "all": "an option of the command line",
    "coat": "the key of a bar of the calendar",
    "file": "a key of data",
    "level": "a key of SARIF",
    "trade": "an option of the command line",
    "working": "a key of data: how a number was made",
    "sink": "a service whose days are counted: `days_without_sink`",
    "water": "a service whose days are counted",
    "gas": "a service whose days are counted",
    "hood": "the attribute of a cooker, which tells a place",
    "disposer": "the attribute of a sink, which tells a place",
    "ledger": "the count of what each rule has gone through",
    "ventilation": "the attribute of a step",
    "back": "what is said at a terminal to go back",
    "US": "the country by whose law the rules are written",
    "GE": "a country whose name is that of a state too",
    "SS": "two letters that stand for one a terminal lacks",
    "AE": "two letters that stand for one a terminal lacks",
    "ID": "a placeholder of the command line",
    "paper": "why two steps keep their order in the calendar",
}
ROOMS = (
    "review",
    "reports",
    "plan",
    "engine",
    "rulebase",
    "cli",
)  # calculators name tables, topics and their own inputs
CHARTS = ("charts.py", "vapour_chart.py")  # titles and keys of pictures, each of one calculator


def quoted_words() -> list[tuple[str, int, str]]:
    """Each quoted word of the vocabulary's lists that is no named class: file, line, word."""
    words = {
        term
        for taxonomy in load_rulebase().vocabulary.taxonomies.values()
        for term in taxonomy.terms
        if term not in taxonomy.groups
    }
    found = []
    for room in ROOMS:
        for path in sorted((SOURCE / room).rglob("*.py")):
            if path.name in CHARTS:
                continue
            tree = ast.parse(path.read_text(encoding="utf-8"))
            described = {
                id(node.body[0].value)
                for node in ast.walk(tree)
                if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef)
                and node.body
                and isinstance(node.body[0], ast.Expr)
            }
            found += [
                (str(path.relative_to(SOURCE)), node.lineno, node.value)
                for node in ast.walk(tree)
                if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in described
                if node.value in words
            ]
    return found


def test_the_program_quotes_no_word_of_the_trade() -> None:
    """What a word means stands in the vocabulary: Python names classes, and a renamed word is not lost in silence."""
    assert [place for place in quoted_words() if place[2] not in OTHER_MEANINGS] == []


def test_every_other_meaning_is_in_use() -> None:
    assert set(OTHER_MEANINGS) - {word for _, _, word in quoted_words()} == set()


@pytest.mark.parametrize("check", ["place", "class"])
def test_rules_read_meanings_and_classes(check: str) -> None:
    """No rule of a pack reads the spelling of a place, or lists what a class holds."""
    assert [str(one) for one in lint(load_rulebase()) if f"({check})" in str(one)] == []


def test_what_is_said_to_be_read_by_the_program_is_read_there() -> None:
    assert readers_in_python(load_rulebase(), SOURCE) == []
