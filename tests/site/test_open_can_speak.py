"""An open practice is worth reading: for some answers it really speaks. Found by search, on sampled plans."""

from __future__ import annotations

import copy
import hashlib
import random
from typing import Any

from answering import can_speak
from share import FULL, generated, rule_cases, scenarios

from advisor.plan import make_facts, read_plan
from advisor.rulebase.base import load_rulebase
from advisor.site.standing import standing


def _sampled() -> list[tuple[str, dict[str, Any]]]:
    """Sixty plans: scenarios, cases by the hash of their names, and generated ones."""
    ordered = sorted(rule_cases(), key=lambda c: hashlib.sha256(c[0].encode()).hexdigest())
    found = [*scenarios(), *ordered[:38], *generated(10, 500)]
    return found if FULL else [one for place, one in enumerate(found) if place % 6 == 0]


def test_most_open_practices_can_speak(capsys: Any) -> None:
    rulebase = load_rulebase()
    pick = random.Random(1)
    count, silent = 0, []
    for name, plan in _sampled():
        read = read_plan(copy.deepcopy(plan), rulebase.vocabulary)
        found = standing(read, make_facts(read, rulebase.vocabulary), rulebase)
        chosen = pick.sample(found.open, min(len(found.open), 40 if FULL else 6))
        for one in chosen:
            count += 1
            if not can_speak(one, read, found, rulebase):
                silent.append(f"{name}: {one.rule.id} at {one.step}")
    with capsys.disabled():
        print(f"\n{count - len(silent)} of {count} open practices were made to speak by some answer")
    assert count > 30
    assert len(silent) <= 0.05 * count, silent
