"""Forty plans with one hazard each, of eight views, by a third hand that had read no rule.

Written and frozen by their author; run and judged strictly by a second hand before anything was mended: 18 hit, 18
told under a milder word or too late, 1 asked, 3 missed. Then causes were mended: a burner that only its room names, a
bead of caulk that passed for a seal, the height of a drain that stands with its pipe, the fuel that the old range
burnt, the hole that is cut before its grille, a crew that is hired before it begins; and four practices that were new
(two plastics in one joint, cement of another plastic, old treated wood in a stove, a furnace closet that only the room
tells of). One thing was false: a factory joist was told how deep it may be notched. On the state after that 28 are hit
and 12 told milder; it was tuned to them, so that is no measure. Milder are those whose word `rules/harm.yaml` settles:
work that is spoiled is a notice, what happens now and then is no danger.
"""

from __future__ import annotations

import pytest

from scenarios.one_hazard_each import Judged
from scenarios.test_probes import WORDS, as_frozen

PLANS = Judged("probes-6")
# What said it at the first try: the rule and its step, where that is told at one.
STAYS = {
    "01": ("shared-neutral-both-off", "power-off"),
    "02": ("cord-through-wall", None),
    "03": ("recessed-light-by-insulation", "blow"),
    "05": ("box-closed-up", "cover"),
    "09": ("relief-valve-shut", "stop"),
    "14": ("heater-left-on-big-chimney", "out"),
    "17": ("engineered-member-cut", "cut-tie"),
    "18": ("post-out-load-held", "out"),
    "19": ("chimney-above-held", "down"),
    "20": ("shore-before-bearing-wall", "widen"),
    "22": ("droppings-stay-wet", "brush"),
    "23": ("dry-silica-cut-indoors", "widen"),
    "24": ("vermiculite-left-alone", "rake"),
    "26": ("ladder-by-power-line", "up"),
    "28": ("edge-open-for-days", "down"),
    "29": ("bars-open-from-inside", "bars-up"),
    "30": ("dryer-duct-plastic", None),
    "38": ("lines-marked-before-deep-digging", "holes"),
}
# What another finding tells now than at the first try: the rule, its step and its word, by what must be said.
TOLD_NOW = {
    "06": ("wall-outlet-too-high", None, "caution"),
    "07": ("toilet-new-seal", "back", "caution"),
    "08": ("plastic-on-other-plastic", "glue-up", "caution"),
    "10": ("pipes-tested-before-closing", "board", "caution"),
    "11": ("burner-room-shut", "hang", "danger"),
    "13": ("propane-through-wide-holes", "hook", "danger"),
    "15": ("no-return-air-by-burner", "hole", "warning"),
    "16": ("factory-joist-flange", "make-room", "danger"),
    "21": ("mold-large", "out", "warning"),
    "25": ("treated-wood-heats-no-room", "burn", "danger"),
    "33": ("shim-from-high-point", "line", "notice"),
    "39": ("certified-firm-for-pay", "tape", "warning"),
}


def test_so_many_were_hit_at_the_first_try() -> None:
    assert PLANS.verdicts == {"hit": 18, "milder": 18, "asked": 1, "miss": 3}


def test_all_that_was_missed_is_told_now() -> None:
    assert {*PLANS.at_first("asked", "miss")} <= TOLD_NOW.keys()
    assert PLANS.told_since() == TOLD_NOW.keys()


def test_plans_and_expectations_are_as_they_were_frozen() -> None:
    now, frozen = as_frozen(PLANS.folder)

    assert now == frozen
    assert len(frozen) == 41


def test_every_plan_is_read_without_a_mistake() -> None:
    assert PLANS.without_steps() == []


@pytest.mark.parametrize("plan", PLANS.at_first("hit"))
def test_what_was_hit_stays_so(plan: str) -> None:
    rule, step = STAYS[plan]
    words = [one.signal for one in PLANS.said(plan).findings if (one.rule, one.step) == (rule, step)]

    assert words
    assert max(map(WORDS.index, words)) >= WORDS.index(PLANS.asked[plan]["word"])


@pytest.mark.parametrize("plan", TOLD_NOW)
def test_what_was_missed_or_late_is_told_now(plan: str) -> None:
    rule, step, word = TOLD_NOW[plan]

    assert (rule, step, word) in {(one.rule, one.step, one.signal) for one in PLANS.said(plan).findings}
