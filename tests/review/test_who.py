"""Who may do what a finding asks for: the words of the contract, and that the lists name what there is."""

import pytest

from advisor.review.who import _known, who_may, who_words
from advisor.rulebase.base import load_rulebase
from advisor.rulebase.model import FINDING_KINDS

WORDS = ("you", "helper", "laboratory", "local code")


def _of(rule_id):
    rule = next(rule for rule in load_rulebase().rules if rule.id == rule_id)
    return who_may(rule, next(c for c in rule.conclusions if c.kind in FINDING_KINDS))


def test_every_finding_has_one_of_the_words():
    found = {
        who_may(rule, conclusion)
        for rule in load_rulebase().rules
        for conclusion in rule.conclusions
        if conclusion.kind in FINDING_KINDS
    }

    assert [word for word in found if word not in WORDS and not word.startswith("licensed: ")] == []
    assert set(WORDS) <= found


@pytest.mark.parametrize(
    ("rule", "who"),
    [
        ("isolate-power", "you"),
        ("test-for-lead", "laboratory"),
        ("lift-needs-more-people", "helper"),
        ("bad-back-lifts-nothing", "helper"),
        ("ground-fault-protection", "local code"),
        ("wall-of-two-homes", "local code"),
        ("bearing-wall-to-engineer", "licensed: structural engineer"),
        ("panel-work-to-electrician", "licensed: electrician"),
        ("gas-line-capped", "licensed: gas fitter"),
    ],
)
def test_who_follows_from_the_rule_itself_or_from_the_list(rule, who):
    assert _of(rule) == who


@pytest.mark.parametrize(
    ("who", "words"),
    [
        ("licensed: electrician", "a licensed electrician"),
        ("licensed: structural engineer", "a structural engineer"),
        ("licensed: abatement firm", "an abatement firm"),
        ("helper", "you with a helper"),
        ("local code", "ask your building department whether you may do it yourself"),
        ("you", "you"),
    ],
)
def test_who_reads_as_one_says_it(who, words):
    assert who_words(who) == words


def test_the_list_names_rules_that_there_are():
    known = _known()
    named = {*known["helper"]["rules"], *known["local_code"]["rules"]}
    named |= {rule for rules in known["licensed"].values() for rule in rules}

    assert sorted(named - {rule.id for rule in load_rulebase().rules}) == []


def test_a_referral_never_says_that_you_may_do_it():
    wrong = [
        rule.id
        for rule in load_rulebase().rules
        for conclusion in rule.conclusions
        if conclusion.kind == "refer" and who_may(rule, conclusion) in ("you", "helper")
    ]

    assert wrong == []
