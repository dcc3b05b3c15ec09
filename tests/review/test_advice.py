"""Advice does what it says: with it in the plan the finding goes, and what it brings along is told beforehand."""

from functools import lru_cache

import pytest
import yaml
from rules.harness import Case, cases, packs_with_cases

from advisor.review.revision.revise import Revision, accept
from advisor.rulebase.base import load_rulebase
from advisor.rulebase.model import Rule

# Rules whose finding may stand after their advice was taken, each with the reason.
STAYS: dict[str, str] = {}


def _mends(rule: Rule) -> bool:
    return any(c.advice or c.kind in ("precede", "wait") for c in rule.conclusions)


@lru_cache(maxsize=1)
def _first_cases() -> dict[str, Case]:
    """For each rule the first case of its pack that expects it to speak."""
    found: dict[str, Case] = {}
    for pack in packs_with_cases():
        for case in cases(pack):
            for one in case.spec.get("speaks", []):
                found.setdefault(one["rule"], case)
    return found


RULES = sorted(rule.id for rule in load_rulebase().rules if _mends(rule))


@lru_cache(maxsize=1)
def _accepted(rule: str) -> Revision:
    text = yaml.safe_dump(_first_cases()[rule].plan, sort_keys=False)
    return accept(text, "x", [rule], load_rulebase())


@pytest.mark.parametrize("rule", RULES)
def test_accepted_advice_mends(rule: str) -> None:
    """The finding is gone, or stands for a reason that is written here; no danger comes that was not told."""
    revision = _accepted(rule)
    stood = [f.id for f in revision.old.findings if f.rule == rule]
    stands = [f.id for f in revision.new.findings if f.rule == rule]
    told = {f.rule for f in revision.old.findings}
    dangers = {f.rule for f in revision.new.findings if f.signal == "danger"}

    assert stood != []
    assert (stands != []) == (rule in STAYS), f"{stood} -> {stands}\n{revision.after}"
    assert sorted(dangers - told) == []
