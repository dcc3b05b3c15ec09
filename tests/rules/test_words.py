"""The signal word follows from what happens and how sure that is: ANSI Z535.4-2007, 4.14.1 to 4.14.4.

    danger   will result in death or serious injury      warning  could result in death or serious injury
    caution  could result in minor or moderate injury    notice   not related to injury

`rarely` is no word of the standard (common practice): it takes one step off.
"""

from pathlib import Path

import pytest
import yaml

from advisor.rulebase.base import load_rulebase
from advisor.rulebase.model import FINDING_KINDS, SIGNALS

HERE = Path(__file__).parent
# What the standard says, and what harm by way of the house counts as (issue: that is injury).
GRAVE = ("death or serious injury", "dangerous house")
HURTS = ("injury", "unhealthy house")
COSTS = ("damage to the work", "money or time", "trouble with the law")
STANDARD = {
    **{(what, "will"): "danger" for what in GRAVE},
    **{(what, "could"): "warning" for what in GRAVE},
    **{(what, sure): "caution" for what in HURTS for sure in ("will", "could")},
    **{(what, sure): "notice" for what in COSTS for sure in ("will", "could")},
}


@pytest.fixture(scope="module")
def base():
    return load_rulebase()


@pytest.fixture(scope="module")
def said(base):
    return {rule.id: one for rule in base.rules for one in rule.conclusions if one.kind in FINDING_KINDS}


def test_the_table_is_that_of_the_standard(base):
    table = {(what, sure): word for what, row in base.harms["what"].items() for sure, word in row["words"].items()}
    assert {key: word for key, word in table.items() if key[1] != "rarely"} == STANDARD
    for what in base.harms["what"]:
        step = SIGNALS.index(table[what, "could"]) - SIGNALS.index(table[what, "rarely"])
        assert step == (what not in COSTS), f"{what}: 'rarely' takes one step off, and a notice has none"


def test_every_rule_that_speaks_says_its_harm(said):
    assert sorted(name for name, one in said.items() if one.harm is None) == []


def test_each_word_that_changed_stands_in_the_table_of_changes(said):
    before = yaml.safe_load((HERE / "words" / "before.yaml").read_text("utf-8"))
    old = {rule: word for word, rules in before.items() for rule in rules}
    now = {rule: (old[rule], one.signal) for rule, one in said.items() if old.get(rule, one.signal) != one.signal}
    listed = yaml.safe_load((HERE / "words" / "changed.yaml").read_text("utf-8"))
    kept = [one for one in listed if one["rule"] in said]  # what was retired since stays in the table
    assert {one["rule"]: (one["old"], one["new"]) for one in kept} == now
    assert [one["rule"] for one in listed if len(one["why"].split()) < 6] == []
    assert len(listed) == len({one["rule"] for one in listed})


# What the issue names, each as a remodeler would put it (common practice).
@pytest.mark.parametrize(
    ("rule", "least"),
    [
        ("leak-test-after-joining", "caution"),
        ("bad-pipe-at-wall", "caution"),
        ("wall-outlet-too-high", "caution"),
        ("second-circuit-in-wall", "warning"),
        ("gas-off-before-gas-work", "danger"),
        ("gas-range-pulled-out", "warning"),
        ("dust-mask-holds-no-vapor", "warning"),
        ("respirator-for-lead", "warning"),
    ],
)
def test_leaks_live_lines_and_wrong_masks_are_grave(said, rule, least):
    assert SIGNALS.index(said[rule].signal) >= SIGNALS.index(least)


def test_what_only_costs_is_never_more_than_a_notice(said):
    assert {one.signal for one in said.values() if one.harm and one.harm[0] in COSTS} == {"notice"}
