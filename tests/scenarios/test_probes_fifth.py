"""Forty plans with one hazard each, of eight views, by a hand that had read no rule.

Written and frozen by their author; run and judged strictly by a second hand before anything was mended: 14 hit, 16
told under a milder word or too late, 10 missed. Then causes were mended: a precaution that was taken for another one
(a drop cloth for a rail, an engineer's sizes for a slow lift, a mask for caught dust, next week's lamp for capped
ends), a thing that was named by its breaker, words told after the harm, and four practices that were new. On the state
after that 23 are hit and 17 told milder; it was tuned to them, so that is no measure. Milder are those whose word
`rules/harm.yaml` settles: work that is spoiled is a notice, what happens now and then is no danger.
"""

from __future__ import annotations

import pytest

from scenarios.one_hazard_each import Judged
from scenarios.test_probes import WORDS, as_frozen

PLANS = Judged("probes-5")
# What another finding tells now than at the first try: the rule, its step and its word, by what must be said.
TOLD_NOW = {
    "04": ("cable-lies-deep", "trench", "warning"),
    "05": ("ends-live-again", "live", "danger"),
    "08": ("heater-powered-dry", "live", "notice"),
    "13": ("no-return-air-by-burner", "cut", "warning"),
    "15": ("propane-through-wide-holes", "place", "danger"),
    "20": ("raised-little-by-little", "jack", "warning"),
    "22": ("strong-coat-by-a-bed", "rest", "warning"),
    "23": ("treated-wood-sanded", "sand", "warning"),
    "25": ("large-mold-in-a-draft", "blow", "warning"),
    "30": ("stilts-by-an-edge", "skim", "danger"),
    "32": ("one-barrier-in-a-wall", "skin", "caution"),
    "33": ("acid-eats-stone", "haze", "notice"),
    "34": ("raised-floor-locks-dishwasher", "board", "notice"),
    "35": ("bare-board-papered", "paper", "notice"),
    "37": ("pool-open-to-small-children", "off", "danger"),
}
# What is said a step earlier than its author asked.
EARLIER = {"11": "out", "16": "open", "38": "loose"}


def test_so_many_were_hit_at_the_first_try() -> None:
    assert PLANS.verdicts == {"hit": 14, "milder": 16, "miss": 10}


def test_all_that_was_missed_is_told_now() -> None:
    assert {*PLANS.at_first("miss")} <= TOLD_NOW.keys()
    assert PLANS.told_since() == TOLD_NOW.keys()


def test_plans_and_expectations_are_as_they_were_frozen() -> None:
    now, frozen = as_frozen(PLANS.folder)

    assert now == frozen
    assert len(frozen) == 41


def test_every_plan_is_read_without_a_mistake() -> None:
    assert PLANS.without_steps() == []


@pytest.mark.parametrize("plan", PLANS.at_first("hit"))
def test_what_was_hit_stays_so(plan: str) -> None:
    places = {PLANS.asked[plan]["step"], EARLIER.get(plan)}
    words = [one.signal for one in PLANS.said(plan).findings if places & {one.step, *one.steps}]

    assert max(map(WORDS.index, words)) >= WORDS.index(PLANS.asked[plan]["word"])


@pytest.mark.parametrize("plan", TOLD_NOW)
def test_what_was_missed_or_late_is_told_now(plan: str) -> None:
    rule, step, word = TOLD_NOW[plan]

    assert (rule, step, word) in {(one.rule, one.step, one.signal) for one in PLANS.said(plan).findings}
