"""`advisor vocabulary [WORD]`: what it finds, how it fits on a screen, what it does with an unknown word."""

from __future__ import annotations

import pytest
import typer
from typer.testing import CliRunner

from advisor.cli.vocabulary import vocabulary_command
from advisor.rulebase.vocabulary import SORTS
from advisor.rulebase.vocabulary_files import load_vocabulary
from advisor.tables import rules_folder

APP = typer.Typer()
APP.command()(vocabulary_command)
VOCABULARY = load_vocabulary([rules_folder() / "vocabulary"])


def run(*words: str):
    return CliRunner().invoke(APP, list(words))


def test_without_a_word_every_sort_attribute_and_list_is_named():
    shown = run().stdout
    words = {word.strip(" ,\n") for word in shown.replace("\n", ",").split(",")}

    assert run().exit_code == 0
    assert [sort for sort in SORTS if f"\n{sort}: " not in shown] == []
    assert {n for s in SORTS for n in VOCABULARY.attributes[s]} - words == set()
    assert {f"{n} ({len(t.terms)})" for n, t in VOCABULARY.taxonomies.items()} - words == set()


@pytest.mark.parametrize(
    "word", ["", *SORTS, "coating", "drops", *sorted(VOCABULARY.taxonomies), "primer", "electrical"]
)
def test_output_fits_80_columns_and_has_no_color_in_a_pipe(word):
    result = run(word) if word else run()

    assert result.exit_code == 0
    assert [line for line in result.stdout.splitlines() if len(line) > 80] == []
    assert "\x1b" not in result.stdout


def test_term_shows_meaning_spellings_kinds_above_and_below_and_how_to_write_it():
    shown = run("random-orbit", "sander").stdout

    assert "random-orbit sander (a word of the list 'tool')" in shown
    assert "random orbital sander" in shown
    assert "is a kind of  power sander, power tool, noisy tool" in shown
    assert "with: [random-orbit sander]" in shown
    assert "belt sander" in run("power sander").stdout


def test_alias_and_plural_lead_to_the_term():
    assert run("Countertops").stdout == run("worktop").stdout


def test_attribute_shows_what_to_write_question_example_and_presumption():
    shown = " ".join(run("built").stdout.split())

    assert "built (of the house)" in shown
    assert "write a year" in shown
    assert "example built: 1957" in shown
    assert "question In which year was the house built?" in shown
    assert "presumed 1900 where the plan is silent: an unknown year counts as old" in shown


def test_attribute_of_several_sorts_is_shown_for_each():
    shown = run("weight").stdout

    assert [line for line in shown.splitlines() if not line.startswith(" ") and line] == [
        "weight (of a part)",
        "weight (of a product)",
    ]


def test_short_list_of_words_is_shown_with_its_attribute():
    assert "negative, positive, not tested" in run("lead_test").stdout


def test_every_word_of_a_list_stands_once_in_it():
    shown = [line.split(":")[0].strip() for line in run("solvent").stdout.splitlines()]
    terms = VOCABULARY.taxonomies["solvent"].terms

    assert {term: shown.count(term) for term in terms} == dict.fromkeys(terms, 1)


def test_unknown_word_names_the_nearest_and_exits_with_2():
    result = run("prmier")

    assert result.exit_code == 2
    assert result.stdout == ""
    assert result.stderr.count("\n") == 1
    assert "'prmier' is not in the vocabulary. Nearest: 'primer'" in result.stderr


def test_word_that_resembles_nothing_is_answered_too():
    result = run("zzzzqqqq\x1b[31m")

    assert result.exit_code == 2
    assert "is not in the vocabulary." in result.stderr
    assert "\x1b" not in result.stderr


def test_a_kind_shows_what_may_be_said_of_it_what_matters_most_first():
    shown = run("sink").stdout
    rows = [line.split() for line in shown.splitlines() if line[:6].strip().isdigit()]
    counts = [int(row[0]) for row in rows]

    assert "what may be said of sink" in shown
    assert counts == sorted(counts, reverse=True)
    assert {"material", "bowl_depth"} <= {row[1] for row in rows}
    assert "What is it made of?" in " ".join(shown.split())


def test_a_kind_does_not_show_what_rules_read_of_other_kinds_only():
    """Teeth: the fall of a drain is read of drains, never of a sink; counted by hand from `drain-falls-too-little`."""
    rows = {line.split()[1] for line in run("sink").stdout.splitlines() if line[:6].strip().isdigit()}
    drain = {line.split()[1] for line in run("drain").stdout.splitlines() if line[:6].strip().isdigit()}

    assert "fall" in drain
    assert "fall" not in rows
