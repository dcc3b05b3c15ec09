"""One plan and one rule base give one report, byte for byte."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

from digests import demo, report
from generators import make_plan

from advisor.rulebase.base import load_rulebase

HERE = Path(__file__).parent
SEEDS = 20
PLANS = int(os.environ.get("GENERATED_REPORTS", "2"))  # `make fuzz` asks for 200


def _digests(seed: int) -> list[str]:
    """Under one hash seed, listed in the order that the seed chooses too."""
    command = [sys.executable, str(HERE / "digests.py"), str(seed), "0", str(PLANS)]
    environment = {**os.environ, "PYTHONHASHSEED": str(seed)}
    done = subprocess.run(command, env=environment, capture_output=True, text=True, timeout=3600, check=True)
    return done.stdout.split()


def test_reports_are_the_same_under_twenty_hash_seeds_and_orders_of_listing() -> None:
    """The demo and generated plans; sections, things and attributes shuffled, steps in their order."""
    first = _digests(0)

    assert len(first) == PLANS + 1
    assert [seed for seed in range(1, SEEDS) if _digests(seed) != first] == []


def test_reports_are_the_same_with_the_rule_files_read_in_another_order(tmp_path: Path) -> None:
    """Pack files renamed so that they sort backwards."""
    rules = tmp_path / "rules"
    shutil.copytree(HERE.parent / "rules", rules)
    packs = sorted((rules / "packs").glob("**/*.yaml"), reverse=True)
    for number, path in enumerate(packs):
        path.rename(rules / "packs" / f"{number:03d}.yaml")
    usual, other = load_rulebase(), load_rulebase(folder=rules)
    plans = [demo(), *map(make_plan, range(6))]

    assert [report(p, other) for p in plans] == [report(p, usual) for p in plans]


def test_reports_are_the_same_with_both_matchers() -> None:
    """On the real rules; random programs are compared in `engine/`."""
    from advisor.plan import read_plan
    from advisor.reports.data import as_json
    from advisor.review.reviewing import review_plan

    rulebase = load_rulebase()
    plans = [read_plan(p, rulebase.vocabulary) for p in (demo(), *map(make_plan, range(8)))]
    by = {m: [as_json(review_plan(p, rulebase, matcher=m)) for p in plans] for m in ("indexed", "stock")}

    assert by["indexed"] == by["stock"]
