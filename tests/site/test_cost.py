"""What the open practices and questions cost beside the plain run and the review, in one process."""

from __future__ import annotations

import copy
import gc
import time
from collections.abc import Callable
from typing import Any

from share import scenarios

from advisor.plan import make_facts, read_plan
from advisor.rulebase.base import load_rulebase
from advisor.site.evaluate import evaluate
from advisor.site.run import run


def _least(work: Callable[[], object], turns: int = 5) -> float:
    """Without the collector, which else sweeps the objects of the tests that ran before."""
    best = 1e9
    gc.collect()
    gc.disable()
    for _ in range(turns):
        start = time.process_time()
        work()
        best = min(best, time.process_time() - start)
    gc.enable()
    return best


def test_at_most_four_plain_runs(capsys: Any) -> None:
    """Over all scenarios together, in time of the processor, each the best of five turns."""
    rulebase = load_rulebase()
    plain = possible = 0.0
    for _, plan in scenarios():
        read = read_plan(copy.deepcopy(plan), rulebase.vocabulary)
        base = make_facts(read, rulebase.vocabulary)
        plain += _least(lambda base=base: run(rulebase, base.facts))  # type: ignore[misc]
        possible += _least(lambda read=read, base=base: evaluate(read, base, rulebase))  # type: ignore[misc]
    with capsys.disabled():
        print(f"\nwhat may be so: {possible / plain:.1f} times the plain run")
    assert possible <= 4 * plain
