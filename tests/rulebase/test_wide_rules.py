"""Rules whose conditions multiply: counted before anything is built, refused with file and line, never cut."""

from __future__ import annotations

from pathlib import Path

import pytest
from fuzz.crowded import STEP, branches, deep, free, pack, plan, rule

from advisor.errors import InputError
from advisor.plan import read_plan
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import RuleBase, load_rulebase
from advisor.rulebase.split import MAX_GROUPS, MAX_VARIANTS, count_variants, groups, variants


def _load(folder: Path, text: str) -> RuleBase:
    (folder / "own.yaml").write_text(text, encoding="utf-8")
    return load_rulebase([folder])


def _refused(folder: Path, text: str) -> str:
    with pytest.raises(InputError) as caught:
        _load(folder, text)
    return str(caught.value.problems[0]).removeprefix(f"{folder}/")


def test_the_last_of_as_many_branches_as_may_be_speaks(tmp_path: Path) -> None:
    """Two lists of eight: the plan fits the last branch of both."""
    rulebase = _load(tmp_path, branches(2))
    own = rulebase.rule("branches")
    report = review_plan(read_plan(plan(), rulebase.vocabulary), rulebase)

    assert own is not None
    assert len(variants(own)) == MAX_VARIANTS
    assert [(f.rule, f.signal) for f in report.findings if f.pack == "crowded"] == [("branches", "danger")]


def test_one_branch_more_is_refused_and_not_cut(tmp_path: Path) -> None:
    """This rule was silent, with status 0, where a plan fitted a branch after the 64th combination."""
    said = _refused(tmp_path, pack(rule("wide", STEP, *["any: [{part: {kind: door}}, {part: {kind: trim}}]"] * 7)))

    assert said == (
        "own.yaml:7: rule 'wide': its 'any' make 128 combinations of branches. Expected at most 64: make several rules."
    )


@pytest.mark.parametrize("lists", [9, 20])
def test_combinations_are_counted_without_being_made(lists: int, tmp_path: Path) -> None:
    """Nine lists of eight ended in MemoryError."""
    assert "combinations of branches. Expected at most 64" in _refused(tmp_path, branches(lists))


def test_patterns_that_share_no_variable_are_refused(tmp_path: Path) -> None:
    """Five free parts: 25 parts ended by a signal."""
    said = _refused(tmp_path, free(5))

    assert said.startswith("own.yaml:7: rule 'free': its conditions on step, part, part, part, part, part share no")
    assert f"Expected at most {MAX_GROUPS} such groups" in said


def test_two_free_patterns_beside_the_step_may_stand(tmp_path: Path) -> None:
    """They may be meant: a stove somewhere, a solvent somewhere."""
    rulebase = _load(tmp_path, free(2))
    report = review_plan(read_plan(plan(3), rulebase.vocabulary), rulebase)

    assert [f.rule for f in report.findings if f.pack == "crowded"] == ["free"]


@pytest.mark.parametrize(
    ("when", "count"),
    [
        ((STEP, "house: {built: known}", "part: {id: $x}"), 2),
        ((STEP, "part: {id: $x, length: $a}", "part: {id: $y, length: $b}", "given: {$a: {above: $b}}"), 2),
        ((STEP, "step: {id: $t, later_than: $step}", "part: {id: $x}"), 2),
        ((STEP, "part: {id: $x, length: $a}", "part: {id: $y, length: {above: $a}}"), 2),
        ((STEP, "not: {part: {id: $x}}"), 1),
    ],
)
def test_what_ties_patterns_together(when: tuple[str, ...], count: int, tmp_path: Path) -> None:
    """Equality, comparisons and times do; a plan has one house; what must be absent multiplies nothing."""
    own = _load(tmp_path, pack(rule("tie", *when))).rule("tie")

    assert own is not None
    assert [len(groups(variant)) for variant in variants(own)] == [count]


def test_a_rule_of_a_thousand_conditions_is_refused(tmp_path: Path) -> None:
    """A match goes as deep as there are conditions."""
    assert "has 1,501 conditions. Expected at most 200" in _refused(tmp_path, deep(1_500))


def test_the_rules_of_the_house_stay_far_below() -> None:
    """Nothing of what the limits are for is near them."""
    rules = load_rulebase().rules

    assert max(count_variants(one.conditions) for one in rules) <= MAX_VARIANTS // 4
    assert max(len(groups(v)) for one in rules for v in variants(one)) < MAX_GROUPS
