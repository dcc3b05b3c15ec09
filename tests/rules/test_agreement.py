"""The sentences of rules read well for a part of any name: the lint says so, and here the lint is tried."""

import pytest

from advisor.rulebase.base import load_rulebase
from advisor.rulebase.lint import lint
from advisor.rulebase.lint_sentences import pronouns_after_names, verbs_after_names
from advisor.rulebase.reading import grader, hard_beside

PACK = """pack: own
title: Own
rules:
  - id: own-rule
    title: Own
    when: [{step: {id: $s, do: paint, to: $part}}]
    warn: {harm: {what: injury, how_sure: could}, at: $s, what: "%s", because: It shows.}
    sources: [{common_practice: yes}]
"""


def complaints(folder, what):
    """What the lint says of a rule of one's own with that sentence."""
    (folder / "own.yaml").write_text(PACK % what, encoding="utf-8")
    return [str(one) for one in lint(load_rulebase([folder]), grade=grader()) if "own-rule" in str(one)]


def test_no_built_in_rule_is_complained_of():
    """Verbs and pronouns after names, school grades and all other checks."""
    base, grade = load_rulebase([]), grader()

    assert grade is not None, "textstat is not installed: see requirements-dev.txt"
    assert [str(one) for one in lint(base, grade=grade)] == []
    assert list(hard_beside(base, grade, [])) == []


@pytest.mark.parametrize(
    ("what", "check"),
    [
        ("Wash {{ part }} first and sand it after.", "(pronoun)"),
        ("Seal the edges before {{ part }} goes in.", "(verb)"),
        ("TO WRITE: what to do about {{ part }}.", "(to-write)"),
        (
            "Notwithstanding manufacturers' documentation, comprehensively decontaminate {{ part }} "
            "utilizing appropriate methodologies.",
            "(reading)",
        ),
        ("The plan is safe, so begin with {{ part }}.", "(promise)"),
    ],
)
def test_the_lint_hears_a_sentence_that_reads_badly(what, check, tmp_path):
    assert [check in one for one in complaints(tmp_path, what)] == [True]


def test_the_lint_has_nothing_to_say_of_a_plain_sentence_in_a_pack_of_ones_own(tmp_path):
    """Nor that it serves no row: rows are those of the built-in packs."""
    assert complaints(tmp_path, "Wash {{ part }} before you paint.") == []


@pytest.mark.parametrize(
    ("text", "verbs", "pronouns"),
    [
        ("Wash {{ part }} first and sand it after.", [], ["it"]),
        ("Seal the edges before {{ part }} goes in.", ["goes"], []),
        ("Plan a leak test after {{ part }} is joined.", ["is"], []),
        ("The label of {{ part }} asks for that.", [], []),
        ("Move it before {{ part }} in {{ room }}.", [], []),
        ("Cut {{ part }} outdoors, as the dust is fine.", [], []),
    ],
)
def test_the_check_sees_what_agrees_with_a_name(text, verbs, pronouns):
    names = {"part"}

    assert (verbs_after_names(text, names), pronouns_after_names(text, names)) == (verbs, pronouns)


def test_an_exception_is_for_what_the_text_says(tmp_path):
    """One that names another word, and one that nothing needs, are told; so is the rule that lost its own."""
    path = tmp_path / "exceptions.yaml"
    path.write_text(
        "exceptions:\n"
        "  - {rule: guard-open-edge, check: pronoun, stands_for: moon}\n"
        "  - {rule: first-aid-at-hand, check: pronoun, stands_for: kit}\n",
        encoding="utf-8",
    )
    said = [str(one) for one in lint(load_rulebase([]), path)]

    assert [one for one in said if "guard-open-edge" in one and "(stands-for)" in one]
    assert [one for one in said if "'first-aid-at-hand' (pronoun) is not needed" in one]
    assert [one for one in said if "number-the-doors" in one and "(pronoun)" in one]
