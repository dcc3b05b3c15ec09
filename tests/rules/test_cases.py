"""Every rule speaks where it should and stays silent on near misses."""

import pytest
from rules.harness import Case, cases, packs_with_cases, run_case

from advisor.rulebase.base import load_rulebase
from advisor.rulebase.model import FINDING_KINDS

ALL = [case for pack in packs_with_cases() for case in cases(pack)]


@pytest.mark.parametrize("case", ALL, ids=[f"{c.pack}: {c.name}" for c in ALL])
def test_case(case: Case) -> None:
    """The pack says of the plan exactly what the case expects."""
    assert run_case(case) == []


@pytest.mark.parametrize(
    "rule",
    [r for r in load_rulebase().rules if any(c.kind in FINDING_KINDS for c in r.conclusions)],
    ids=lambda r: r.id,
)
def test_rule_has_cases(rule) -> None:
    """A rule that speaks to people has at least two cases that make it speak and two near misses."""
    assert rule.pack in packs_with_cases(), f"no tests/rules/{rule.pack}.yaml"
    own = cases(rule.pack)
    speaks = sum(any(s["rule"] == rule.id for s in c.spec.get("speaks", [])) for c in own)
    silent = sum(rule.id in c.spec.get("silent", []) for c in own)
    assert (speaks >= 2, silent >= 2) == (True, True), f"{rule.id}: {speaks} speak, {silent} silent"
