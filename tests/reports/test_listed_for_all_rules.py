"""Over all rules: what a sentence tells to wear, hold or get is on the shopping list, or has a written reason."""

from __future__ import annotations

import re
from pathlib import Path

import yaml

from advisor.review.buying.on_site import shop_words
from advisor.rulebase.base import load_rulebase

HERE = Path(__file__).parent
WORDS = yaml.safe_load((HERE / "listed_words.yaml").read_text(encoding="utf-8"))
NOT_LISTED = yaml.safe_load((HERE / "not_listed.yaml").read_text(encoding="utf-8"))


def _carried(rule, conclusion) -> set[str]:
    """The words of things that a finding of the rule puts on the list, by advice or by `rules/report/supplies.yaml`."""
    told = shop_words()
    found = {word for advice in conclusion.advice for word in _values(advice)} | set(told["asks"].get(rule.id, ()))
    return found | {one["say"] for one in told["by_rule"].get(rule.id, ())}


def _values(advice):
    for name, operand in advice.values:
        if advice.form == "use" or name in ("owns", "with", "wearing"):
            yield from map(str, operand if isinstance(operand, tuple) else [operand])


def _left_off() -> dict[str, set[str]]:
    """Rules whose sentence names gear or a product that nothing puts on the list, with the sort of thing."""
    rulebase, found = load_rulebase(), {}
    tools = rulebase.vocabulary.taxonomies["tool"]
    for rule in rulebase.rules:
        for conclusion in rule.conclusions:
            for sort, row in WORDS.items():
                if not re.search(row["said"], conclusion.what):
                    continue
                kinds = {kind for word in row.get("is", []) for kind in (word, *tools.below(word))}
                got = _carried(rule, conclusion)
                if got.isdisjoint(kinds) and not any(re.search(row["said"], one) for one in got):
                    found.setdefault(rule.id, set()).add(sort)
    return found


def test_every_rule_that_names_gear_or_a_coat_puts_it_on_the_list_or_says_why_not():
    """A7, over all rules: what a sentence tells to wear, hold or get is carried, or has a written reason."""
    left = _left_off()

    assert sorted(f"{rule}: {', '.join(sorted(sorts))}" for rule, sorts in left.items() if rule not in NOT_LISTED) == []
    assert sorted(set(NOT_LISTED) - set(left)) == []  # no reason outlives its rule
    assert [rule for rule, reason in NOT_LISTED.items() if len(reason.split()) < 4] == []


def test_every_row_of_what_is_asked_names_a_rule_and_words_of_the_vocabulary():
    rulebase = load_rulebase()
    terms = [rulebase.vocabulary.taxonomies[sort].terms for sort in ("tool", "product_kind")]
    known, asks = {rule.id for rule in rulebase.rules}, shop_words()["asks"]

    assert sorted(set(asks) - known) == []
    words = {word for row in asks.values() for word in row}
    assert sorted(words - {*terms[0], *terms[1], *shop_words()["shop"]}) == []
