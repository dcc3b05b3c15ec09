"""What the account, the questions and the evaluation need of a rule base, worked out once and kept with it."""

from __future__ import annotations

from typing import Any

from advisor.rulebase.alike import table_of
from advisor.rulebase.base import RuleBase
from advisor.rulebase.forms import rules_of
from advisor.rulebase.gates import gates_of
from advisor.rulebase.heard import readers_of


def apart(rulebase: RuleBase) -> dict[str, Any]:
    """The tables by name, with the rules that they are of."""
    for taxonomy in rulebase.vocabulary.taxonomies.values():
        for word in sorted(taxonomy.terms):
            taxonomy.below(word)  # the vocabulary remembers it
    rules = rules_of(rulebase)
    gates = gates_of(rules)
    return {
        "rules": rulebase.rules,
        "heard": rules.rulebase.rules,
        "starts": rules.starts,
        "order": rules.order,
        "reads": rules.reads,
        "actions": rules.actions,
        "speakers": tuple(gates.speakers),
        "gates": gates.table(),
        "asking": gates.all_asking(),
        "readers": readers_of(rules),
        "alike": table_of(rulebase),
    }
