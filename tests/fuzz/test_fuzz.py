"""Anything may be handed in: the outcome is a report or InputError, soon, whatever it is.

`FUZZ` inputs (3,000 in CI; `make fuzz` takes 100,000) are shared out over plans, packs and waivers; `FUZZ_FROM`
moves the seeds on, so that every night tries others.
"""

from __future__ import annotations

import json
import os
import random
import time
import traceback
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path
from typing import Any

import pytest
import yaml
from fuzz.mutation import load, spoil_bytes, spoil_tree
from generators import make_plan
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from advisor.errors import InputError
from advisor.plan import make_facts, read_plan
from advisor.plan.model import PlanFact
from advisor.reports.data import as_json
from advisor.reports.text import as_text
from advisor.review.reviewing import review_plan
from advisor.review.waivers import apply_waivers, read_waivers
from advisor.rulebase.base import load_rulebase
from advisor.rulebase.packs import Reading, read_packs
from advisor.rulebase.strata import strata
from advisor.site.run import run

ROOT = Path(__file__).parents[2]
FUZZ, FIRST = int(os.environ.get("FUZZ", "3000")), int(os.environ.get("FUZZ_FROM", "0"))
BLOCKS = 6
LONGEST = 20.0  # CPU seconds for one input: far above any that was seen, far below a hang
PLANS = sorted([*ROOT.glob("scenarios/*.yaml"), *ROOT.glob("tests/plan/core/*.yaml")])
WAIVERS = """waivers:
  - {rule: noise-dose-of-step, step: sand-doors, reason: ear plugs are worn, by: the owner, until: 2030-01-31}
  - {rule: isolate-power, plan: kitchen.yaml, reason: not connected yet, by: the electrician, until: 2030-02-28}
"""


def _seeds(share: float, block: int) -> range:
    count = int(FUZZ * share / BLOCKS)
    return range(FIRST + block * count, FIRST + (block + 1) * count)


def _try_all(seeds: range, one: Callable[[random.Random], None]) -> list[str]:
    """What went wrong, with the seed to repeat it; InputError is an answer, not a fault."""
    wrong = []
    for seed in seeds:
        start = time.process_time()
        try:
            one(random.Random(seed))
        except InputError as error:
            if not error.problems or any(not p.message or len(str(p)) > 2000 for p in error.problems):
                wrong.append(f"seed {seed}: a message that helps nobody: {error.problems[:2]}")
        except Exception:
            wrong.append(f"seed {seed}: {traceback.format_exc(limit=-3)}")
        if time.process_time() - start > LONGEST:
            wrong.append(f"seed {seed}: took longer than {LONGEST} s")
    return wrong[:5]


def _refuse(constant: str) -> None:
    raise AssertionError(f"{constant} in the report")


def _review(source: Any) -> None:
    rulebase = load_rulebase()
    report = review_plan(read_plan(source, rulebase.vocabulary), rulebase)
    json.loads(as_json(report), parse_constant=_refuse)
    assert as_text(report, colour=False)


@lru_cache(maxsize=1)
def _plan_trees() -> tuple[tuple[str, Any], ...]:
    texts = [path.read_text(encoding="utf-8") for path in PLANS]
    texts += [yaml.safe_dump(make_plan(seed), sort_keys=False, allow_unicode=True) for seed in range(10)]
    return tuple((text, load(text)) for text in texts)


@pytest.mark.parametrize("block", range(BLOCKS))
def test_a_spoiled_plan_gives_a_report_or_says_what_is_wrong(block: int) -> None:
    """Changed as a tree, and handed over as a mapping."""

    def one(pick: random.Random) -> None:
        _review(spoil_tree(pick.choice(_plan_trees())[1], pick))

    assert _try_all(_seeds(0.35, block), one) == []


@pytest.mark.parametrize("block", range(BLOCKS))
def test_a_spoiled_file_gives_a_report_or_says_what_is_wrong(block: int, tmp_path: Path) -> None:
    """Changed as text and as bytes: encodings, marks, line ends, cut short."""
    path = tmp_path / "plan.yaml"

    def one(pick: random.Random) -> None:
        path.write_bytes(spoil_bytes(pick.choice(_plan_trees())[0], pick))
        _review(path)

    assert _try_all(_seeds(0.25, block), one) == []


@lru_cache(maxsize=1)
def _packs() -> tuple[Any, ...]:
    return tuple(load(p.read_text(encoding="utf-8")) for p in sorted((ROOT / "rules/packs").glob("**/*.yaml")))


@lru_cache(maxsize=1)
def _demo_facts() -> tuple[PlanFact, ...]:
    vocabulary = load_rulebase().vocabulary
    return tuple(make_facts(read_plan(PLANS[0], vocabulary), vocabulary).facts)


def _small(tree: Any, pick: random.Random) -> Any:
    """A pack cut down to a few rules, so that a change falls on one that is then read."""
    rules = tree.get("rules") or []
    kept = pick.sample(rules, min(3, len(rules)))
    return {**tree, "rules": kept}


@pytest.mark.parametrize("block", range(BLOCKS))
def test_a_spoiled_pack_is_read_and_run_or_refused(block: int, tmp_path: Path) -> None:
    """What is still a pack runs over the demo."""
    path = tmp_path / "pack.yaml"
    base = load_rulebase()

    def one(pick: random.Random) -> None:
        tree = spoil_tree(_small(pick.choice(_packs()), pick), pick)
        text = yaml.dump(tree, Dumper=yaml.CSafeDumper, sort_keys=False, allow_unicode=True)
        path.write_bytes(spoil_bytes(text, pick) if pick.random() < 0.2 else text.encode("utf-8", "replace"))
        reading = Reading(base.vocabulary, base.citations, dict(base.kinds))
        read_packs([(path, pick.random() < 0.5)], reading)
        levels, problems = strata(reading.rules.values())
        if reading.problems or problems:
            raise InputError([*reading.problems, *problems])
        rules = tuple(reading.rules[name] for name in sorted(reading.rules))
        run(replace(base, kinds=reading.kinds, rules=rules, strata=levels, split={}), _demo_facts())

    assert _try_all(_seeds(0.25, block), one) == []


@pytest.mark.parametrize("block", range(BLOCKS))
def test_spoiled_waivers_are_applied_or_refused(block: int, tmp_path: Path) -> None:
    """Waivers of the demo."""
    from datetime import date

    path = tmp_path / "waivers.yaml"
    rulebase = load_rulebase()
    plan = read_plan(PLANS[0], rulebase.vocabulary)
    report = review_plan(plan, rulebase)

    def one(pick: random.Random) -> None:
        tree = spoil_tree(load(WAIVERS), pick)
        text = yaml.dump(tree, Dumper=yaml.CSafeDumper, sort_keys=False, allow_unicode=True)
        path.write_bytes(spoil_bytes(text, pick) if pick.random() < 0.4 else text.encode("utf-8", "replace"))
        apply_waivers(
            replace(report, findings=list(report.findings), accepted=[]), read_waivers(path), date(2030, 1, 1)
        )

    assert _try_all(_seeds(0.15, block), one) == []


@given(st.text(max_size=400))
@settings(max_examples=max(100, FUZZ // 10), deadline=None, suppress_health_check=list(HealthCheck))
def test_any_text_gives_a_report_or_says_what_is_wrong(text: str) -> None:
    """Text of any letters, in the place where a plan's steps stand and as a whole."""
    for source in (f"title: x\nsteps:\n  - {text}", f"steps: [{{do: sand, note: {text!r}}}]\nparts: {text}"):
        wrong = _try_all(range(1), lambda _, source=source: _review(source))  # type: ignore[misc]

        assert wrong == []


def test_many_spoiled_plans_are_still_reviewed() -> None:
    """Were nearly all refused, nothing behind the reading would be tried."""
    reviewed = 0
    for seed in range(60):
        try:
            _review(spoil_tree(_plan_trees()[seed % 10][1], random.Random(seed)))
            reviewed += 1
        except InputError:
            continue

    assert 10 < reviewed < 60
