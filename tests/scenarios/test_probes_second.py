"""The later rounds of short plans with one hazard each, by people who had read no rule.

The second: 120 of eight trades, written, frozen and judged after the misses of the first round had been mended: 92 hit,
18 in part, 10 missed (106 of 240 in the first round, before). The third: 30 a trade, again by fresh hands. No rule was
made by any of them when they were judged. What their writers said of that try is `first.yaml`; what was a hit has to
stay one: a finding at the step that the writer named (or at that where the writer found it) at or above the word that
was asked for. After the causes had been mended a fresh judge, who knew what was expected, found 120 hit of the 127
plans of the third round in which something had been wrong, 6 in part and 1 missed; `mended.yaml` names the practice.
"""

from functools import cache
from pathlib import Path
from typing import Any

import pytest
from yaml import load

from advisor.plan import read_plan
from advisor.review.reviewing import review
from advisor.rulebase.base import load_rulebase
from scenarios.test_probes import WORDS, _Plain, as_frozen

ROUNDS = {2: Path(__file__).parent / "probes-2", 3: Path(__file__).parent / "probes-3"}
PLANS_A_FIELD = {2: 15, 3: 30}
FIELDS = [(turn, path.name) for turn, folder in ROUNDS.items() for path in sorted(folder.iterdir())]


@cache
def table(turn: int, field: str, name: str) -> dict[str, Any]:
    return load((ROUNDS[turn] / field / f"{name}.yaml").read_text(encoding="utf-8"), Loader=_Plain)


JUDGED = [(*where, number, one) for where in FIELDS for number, one in sorted(table(*where, "first").items())]
HITS = [(turn, field, number) for turn, field, number, one in JUDGED if one["verdict"] == "hit"]
# What its writer found at a step beside the one that was named.
BESIDE = {
    (2, "plumber", "14"): "rip-out",
    (2, "fire-and-fall-safety", "03"): "rub-in",
    (3, "plumber", "04"): "dig",
    (3, "fire-and-fall-safety", "01"): "board",
    (3, "fire-and-fall-safety", "15"): "planks-down",
    (3, "insurer-and-building-department", "01"): "frame",
    (3, "insurer-and-building-department", "03"): "set-pool",
}


def test_so_many_were_hit_at_the_first_try():
    verdicts = [one["verdict"] for turn, _, _, one in JUDGED if turn == 2]

    assert {word: verdicts.count(word) for word in ("hit", "part", "miss")} == {"hit": 92, "part": 18, "miss": 10}


@pytest.mark.parametrize(("turn", "field"), FIELDS)
def test_plans_are_as_they_were_frozen(turn, field):
    now, frozen = as_frozen(ROUNDS[turn] / field)

    assert now == frozen


@pytest.mark.parametrize(("turn", "field", "number"), HITS, ids=[f"{t} {field} {number}" for t, field, number in HITS])
def test_what_was_hit_stays_so(turn, field, number):
    asked = table(turn, field, "expected")[number]
    found = review(ROUNDS[turn] / field / f"{number}.yaml").findings
    places = {asked["step"], BESIDE.get((turn, field, number)), None}
    words = [one.signal for one in found if one.step in places or places & {*one.steps}]

    assert max(map(WORDS.index, words)) >= WORDS.index(asked["word"])


@pytest.mark.parametrize(("turn", "field"), FIELDS)
def test_every_plan_is_read_without_a_mistake(turn, field):
    vocabulary = load_rulebase().vocabulary
    plans = sorted((ROUNDS[turn] / field).glob("[0-9]*.yaml"))

    assert len(plans) == PLANS_A_FIELD[turn]
    assert [plan.name for plan in plans if not read_plan(plan, vocabulary).steps] == []


def _speaks(turn: int, field: str, number: str) -> set[tuple[str, str, str | None]]:
    found = review(ROUNDS[turn] / field / f"{number}.yaml").findings
    return {(one.rule, one.signal, step) for one in found for step in (one.step, *one.steps)}


MENDED = [
    (*where, number, said)
    for where in FIELDS
    if (ROUNDS[where[0]] / where[1] / "mended.yaml").exists()
    for number, said in table(*where, "mended").items()
]
NAMES = [f"{turn} {field} {number}" for turn, field, number, _ in MENDED]


@pytest.mark.parametrize(("turn", "field", "number", "said"), MENDED, ids=NAMES)
def test_what_was_missed_is_mended(turn, field, number, said):
    """By the practice that says the hazard at the writer's step, or in time before, at or above the writer's word."""
    asked, spoken = table(turn, field, "expected")[number], _speaks(turn, field, number)

    at = said.get("step", asked["step"])
    words = {signal for rule, signal, step in spoken if rule == said["says"] and step == at}

    assert any(WORDS.index(word) >= WORDS.index(asked["word"]) for word in words)


@pytest.mark.parametrize(("turn", "field", "number", "said"), MENDED, ids=NAMES)
def test_its_false_alarms_are_gone(turn, field, number, said):
    assert {rule for rule, _, _ in _speaks(turn, field, number)} & {*said.get("silent", [])} == set()
