"""Eighty short plans with one hazard each, ten a trade, by a hand that had read no rule: a look after the rounds.

Written, frozen and judged by one author after three rounds had been mended: 48 hit, 27 in part, 5 missed; of the 27
parts 19 were right in all but the signal word, which the author wanted one step graver. `judged.yaml` is the author's.
What was a hit stays one, and what was missed is told now by the rule that is named here.
"""

from __future__ import annotations

import hashlib
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from yaml import load

from advisor.review.model import Report
from advisor.review.reviewing import review
from scenarios.test_probes import WORDS, _Plain

PLANS = Path(__file__).parent / "probes-4"
FIELDS = sorted(path.name for path in PLANS.iterdir() if path.is_dir())


@cache
def table(field: str, name: str) -> dict[str, dict[str, Any]]:
    """The author's rows by plan."""
    rows = load((PLANS / field / f"{name}.yaml").read_text(encoding="utf-8"), Loader=_Plain)
    return {row["plan"]: row for row in rows}


@cache
def said(field: str, plan: str) -> Report:
    return review(PLANS / field / plan)


JUDGED = [(field, plan, row["verdict"]) for field in FIELDS for plan, row in sorted(table(field, "judged").items())]
# Missed at the first try; the rule that tells it now.
TOLD_NOW = {
    ("remodeller", "05.yaml"): "flames-out-before-slow-solvent",
    ("plumber", "10.yaml"): "air-too-strong-for-pipe",
    ("gas-and-heating", "10.yaml"): "flue-in-use-closed",
    ("fire-and-fall-safety", "04.yaml"): "attic-footing",
    ("insurer-and-building-department", "09.yaml"): "pool-fence-down",
}
# What its author found at a step beside the one that was named.
BESIDE = {("structural-carpenter", "09.yaml"): "carry"}


def test_so_many_were_hit_at_the_first_try() -> None:
    verdicts = [verdict for _, _, verdict in JUDGED]

    assert {word: verdicts.count(word) for word in ("hit", "part", "miss")} == {"hit": 48, "part": 27, "miss": 5}


def test_plans_and_expectations_are_as_they_were_frozen() -> None:
    lines = (PLANS / "frozen.txt").read_text(encoding="utf-8").splitlines()
    frozen = {path: digest for digest, path in (line.split() for line in lines)}

    assert {path: hashlib.sha256((PLANS / path).read_bytes()).hexdigest() for path in frozen} == frozen
    assert len(frozen) == 88


@pytest.mark.parametrize(("field", "plan"), [(f, p) for f, p, verdict in JUDGED if verdict == "hit"])
def test_what_was_hit_stays_so(field: str, plan: str) -> None:
    asked = table(field, "expected")[plan]
    places = {asked["step"], BESIDE.get((field, plan)), None}
    words = [one.signal for one in said(field, plan).findings if one.step in places or places & {*one.steps}]

    assert max(map(WORDS.index, words)) >= WORDS.index(asked["word"])


@pytest.mark.parametrize(("field", "plan"), TOLD_NOW, ids=lambda v: v)
def test_what_was_missed_is_told_now(field: str, plan: str) -> None:
    assert table(field, "judged")[plan]["verdict"] == "miss"
    assert TOLD_NOW[field, plan] in {
        one.rule for one in said(field, plan).findings if one.signal in ("danger", "warning")
    }
