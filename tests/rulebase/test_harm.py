"""Harm, guesses and grounds as rules write them: what is wrong is named with its line."""

from __future__ import annotations

from pathlib import Path

import pytest
from typer.testing import CliRunner

from advisor.cli.app import app
from advisor.errors import InputError
from advisor.rulebase.base import load_rulebase
from advisor.rulebase.harm import read_harms
from advisor.rulebase.lint import lint

PACK = """pack: own
title: Own
rules:
  - id: own-rule
    title: Own
    when: [{step: {id: $s, do: paint}}]
    warn: {%s, at: $s, what: Look., because: It shows.}
    sources: [{common_practice: yes}]
%s
"""


def _load(tmp_path: Path, says: str, more: str = ""):
    (tmp_path / "own.yaml").write_text(PACK % (says, more), encoding="utf-8")
    return load_rulebase([tmp_path])


def _said(tmp_path: Path, says: str, more: str = "") -> str:
    with pytest.raises(InputError) as caught:
        _load(tmp_path, says, more)
    return "\n".join(map(str, caught.value.problems))


@pytest.mark.parametrize(
    ("what", "sure", "word"),
    [
        ("death or serious injury", "will", "danger"),
        ("dangerous house", "could", "warning"),
        ("unhealthy house", "could", "caution"),
        ("injury", "rarely", "notice"),
        ("money or time", "will", "notice"),
    ],
)
def test_the_word_follows_from_the_harm(tmp_path, what, sure, word):
    rule = _load(tmp_path, f"harm: {{what: {what}, how_sure: {sure}}}").rule("own-rule")

    assert rule.conclusions[0].signal == word


@pytest.mark.parametrize(
    ("says", "told"),
    [
        ("harm: {what: dangerous hous, how_sure: will}", "'dangerous hous' is no 'what' of harm. Did you mean"),
        ("harm: {what: injury, how_sure: perhaps}", "'perhaps' is no 'how_sure' of harm."),
        ("harm: {what: injury}", "'harm' needs 'how_sure', a word."),
        ("harm: {what: injury, how_sure: will, why: so}", "'harm' has no 'why'."),
        ("harm: injury", "'harm' says what happens and how sure that is"),
        ("controls: {}", "needs 'harm', or a signal: notice, caution, warning, danger."),
        ("signal: loud", "needs 'harm', or a signal: notice, caution, warning, danger."),
        ("signal: notice, guess: {of: [biult], because: So.}", "no attribute is named 'biult'. Did you mean 'built'?"),
        ("signal: notice, guess: {of: [built]}", "'guess' needs 'of', the attributes that are guessed at, and"),
    ],
)
def test_a_harm_that_cannot_be_read_is_named_with_its_line(tmp_path, says, told):
    said = _said(tmp_path, says)

    assert told in said
    assert "own.yaml:7" in said


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ("    rests_on: physik", "'physik' is nothing that a rule rests on. Did you mean 'physics'?"),
        ("    rests_on: law", "'law' and 'rests_on: law' belong together"),
        ("    law: {country: US, edition: irc-2021}", "'law' and 'rests_on: law' belong together"),
        ("    rests_on: law\n    law: {country: usa, edition: x}", "'usa' is no country."),
        ("    rests_on: law\n    law: {country: US}", "'law' needs 'country' and 'edition'."),
    ],
)
def test_grounds_that_cannot_be_read_are_named(tmp_path, more, told):
    assert told in _said(tmp_path, "signal: notice", more)


def test_lint_asks_for_harm_and_for_a_word_that_agrees(tmp_path):
    without = [str(p) for p in lint(_load(tmp_path, "signal: caution")) if "own-rule" in str(p)]
    other = tmp_path / "other"
    other.mkdir()
    wrong = _load(other, "signal: caution, harm: {what: money or time, how_sure: will}")
    agreed = [str(p) for p in lint(wrong) if "own-rule" in str(p)]

    assert any("says no 'harm'" in text for text in without)
    assert any("says 'caution', and its harm comes to 'notice'" in text for text in agreed)
    assert wrong.rule("own-rule").conclusions[0].signal == "notice"


def test_a_table_with_gaps_is_refused(tmp_path):
    path = tmp_path / "harm.yaml"
    path.write_text("how_sure: {will: x}\nwhat: {injury: {words: {will: loud}}}\n", encoding="utf-8")
    with pytest.raises(InputError, match="'injury' has no signal word for 'will'"):
        read_harms(path)


def test_the_page_tells_harm_and_grounds_and_the_coverage_counts_laws():
    page = CliRunner().invoke(app, ["rules", "show", "trap-arm-too-long"]).output
    laws = CliRunner().invoke(app, ["rules", "coverage", "--law"]).output

    assert "Harm: unhealthy house, could." in page
    assert "(US, irc-2021)" in " ".join(page.split())
    assert "trap-arm-too-long" in laws
    assert "* rests on law alone" in laws


def test_a_page_of_a_gathered_finding_names_its_rules():
    page = CliRunner().invoke(app, ["rules", "show", "set-up-for-lead"])

    assert page.exit_code == 0
    assert "hepa-vacuum-for-lead" in page.output
