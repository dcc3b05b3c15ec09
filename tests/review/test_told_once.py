"""Told once: one practice, one finding (common practice: nobody reads the same advice twice)."""

from __future__ import annotations

import json
from datetime import date
from functools import cache
from itertools import combinations
from pathlib import Path

import pytest
import yaml
from typer.testing import CliRunner

from advisor.cli.app import app
from advisor.document import read_file
from advisor.plan import read_plan
from advisor.reports.data import as_data
from advisor.reports.text import as_text
from advisor.review.model import Report
from advisor.review.reviewing import review_plan
from advisor.review.set_aside import Waiver
from advisor.review.told_once import FILE, groups, names, told
from advisor.review.waivers import apply_waivers
from advisor.rulebase.base import load_rulebase
from advisor.rulebase.model import FINDING_KINDS, SIGNALS
from advisor.tables import rules_folder

TOP = Path(__file__).parents[2]
TRIM = """house: {built: 1957, power_shutoff_known: %s}
rooms: {hall: {kind: hallway, length: 14 ft, width: 4 ft, height: 8 ft}}
parts:
  casing: {kind: trim, room: hall, material: pine, coating: paint, area: 22 sqft, lead_test: positive}
  socket: {kind: outlet, room: hall}
  tap: {kind: faucet, room: hall}
crew: {people: 1, owns: [%s]}
steps:
  - {id: smooth, do: sand, to: casing, by: hand, wet: yes}
  - {id: swap, do: replace, to: socket}
  - {id: fit, do: install, to: tap}
"""


@cache
def _review(text: str) -> Report:
    rulebase = load_rulebase()
    return review_plan(read_plan(text, rulebase.vocabulary, "plan.yaml"), rulebase)


def _told(text: str) -> dict[str, object]:
    report = _review(text)
    return {finding.id: finding for finding in told(report.findings, report.plan)}


def test_setting_up_for_lead_is_one_finding_with_a_list() -> None:
    found = _told(TRIM % ("no", "none"))["set-up-for-lead@smooth"]

    assert "doors and the grilles of heating and cooling; a real HEPA vacuum; masks with P100" in found.what
    assert found.signal == "warning"
    assert sorted(found.of) == [
        f"{rule}@smooth"
        for rule in ("contain-lead-dust", "hepa-vacuum-for-lead", "respirator-for-lead", "verify-lead-cleaning")
    ]


def test_the_list_leaves_out_what_is_there() -> None:
    found = _told(TRIM % ("no", "HEPA vacuum, half mask with P100"))["set-up-for-lead@smooth"]

    assert "HEPA vacuum" not in found.what
    assert "mask" not in found.what
    assert "plastic taped over floor" in found.what


def test_what_to_know_before_you_begin_is_one_line_and_not_asked_where_it_is_done() -> None:
    one = _told(TRIM % ("no", "none"))["before-you-begin"]
    other = _told(TRIM % ("yes", "first aid kit"))["before-you-begin"]

    assert (one.step, one.steps) == (None, ("swap", "fit"))
    assert [word in one.what for word in ("main breaker", "main water valve")] == [True, True]
    assert [word in other.what for word in ("main breaker", "main water valve")] == [False, True]


def test_every_name_of_a_finding_stays_valid(tmp_path: Path) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text(TRIM % ("no", "none"), encoding="utf-8")
    for name in ("set-up-for-lead@smooth", "contain-lead-dust@smooth", "before-you-begin", "power-shutoff-known"):
        said = CliRunner().invoke(app, ["why", str(plan), name])
        assert said.exit_code == 0, said.output
    said = CliRunner().invoke(app, ["revise", str(plan), "--accept", "set-up-for-lead@smooth"])
    assert said.exit_code == 0, said.output
    assert "contain" in said.output


def test_a_waiver_of_one_item_takes_it_from_the_list_and_one_of_the_group_takes_all() -> None:
    for rule, left in (("respirator-for-lead", 3), ("set-up-for-lead", 0)):
        rulebase = load_rulebase()
        report = review_plan(read_plan(TRIM % ("no", "none"), rulebase.vocabulary, "plan.yaml"), rulebase)
        apply_waivers(report, [Waiver(rule, "", "", "r", "me", date(2999, 1, 1), "w.yaml", 1)], date(2026, 1, 1))
        found = [f for f in told(report.findings, report.plan) if f.rule == "set-up-for-lead"]
        assert sum(len(f.of) for f in found) == left


def test_reports_and_account_name_the_practice_that_tells() -> None:
    report = _review(TRIM % ("no", "none"))
    data = as_data(report)
    account = {one["step"]: one["rules"]["speaks"] for one in data["account"]}
    shown = {(step["step"] or "", one["rule"]) for one in data["findings"] for step in one["steps"]}

    assert "set-up-for-lead" in account["smooth"]
    assert "contain-lead-dust" not in account["smooth"]
    assert " ".join(as_text(report).split()).count("HEPA vacuum; masks") == 1
    assert {(step, rule) for step, rules in account.items() for rule in rules if rule != "before-you-begin"} <= shown


def test_a_finding_of_the_whole_plan_names_the_steps_that_handle_its_thing() -> None:
    """A step that handles what a grave finding is about is not one with no finding."""
    text = """rooms: {bath: {kind: bathroom}}
parts: {fan: {kind: bath fan, room: bath, termination: attic}}
steps: [{id: paint-it, do: clean, to: fan}]
"""
    report = _review(text)
    found = [f for f in told(report.findings, report.plan) if f.step is None and "fan" in f.parts]

    assert found, [f.id for f in report.findings]
    assert {step for f in found for step in f.steps} == {"paint-it"}
    assert "No finding at 1. paint-it" not in as_text(report)


def test_a_graver_practice_is_never_told_by_a_milder_one() -> None:
    rows = read_file(rules_folder() / FILE).plain()["told_by"]
    said = {r.id: c.signal for r in load_rulebase().rules for c in r.conclusions if c.kind in FINDING_KINDS}
    graver = [
        (rule, by)
        for rule, row in rows.items()
        for by in row["by"]
        if SIGNALS.index(said[by]) < SIGNALS.index(said[rule])
    ]

    assert graver == [], "such a pair could never be told once"
    assert [rule for rule, row in rows.items() if not row.get("why")] == []
    assert {rule for group in groups().values() for rule in group.items} <= set(said)


def test_no_practice_tells_another_in_a_ring() -> None:
    rows = {rule: set(row["by"]) for rule, row in read_file(rules_folder() / FILE).plain()["told_by"].items()}
    for rule in rows:
        seen, left = set(), {rule}
        while left:
            seen |= left
            left = {by for one in left for by in rows.get(one, ())}
            assert rule not in left, f"{rule} is told by what it tells"


PLANS = sorted([*(TOP / "scenarios").glob("*.yaml"), *(TOP / "tests/site/authors/terse").glob("*.yaml")])
PAIRS = read_file(rules_folder() / FILE).plain()["told_by"]


@pytest.mark.parametrize("path", PLANS, ids=lambda p: p.stem)
def test_no_plan_is_told_one_practice_twice_at_a_step(path: Path) -> None:
    """By words: no two findings of a step ask for the same in the same words, but for those that were looked at."""
    apart = {frozenset(pair) for pair in yaml.safe_load((Path(__file__).parent / "told_apart.yaml").read_text("utf-8"))}
    report = _review(path.read_text("utf-8"))
    twice = [
        f"{one.id} and {other.id}: {one.what} / {other.what}"
        for one, other in combinations(told(report.findings, report.plan), 2)
        if one.step == other.step
        and one.rule != other.rule
        and frozenset((one.rule, other.rule)) not in apart
        and _alike(one.what, other.what) >= ALIKE
    ]

    assert twice == []


ALIKE = 0.45
_SMALL = frozenset(
    ["a", "an", "and", "are", "as", "at", "before", "by", "do", "for", "from", "have", "if", "in", "is", "it", "no",
     "not", "of", "on", "or", "that", "the", "then", "to", "until", "with", "you"]
)  # fmt: skip


def _alike(one: str, other: str) -> float:
    """The share of the shorter sentence's words that the other one has too."""
    mine, theirs = ({w.strip(".,;:()").rstrip("s").lower() for w in text.split()} - _SMALL for text in (one, other))
    return len(mine & theirs) / max(1, min(len(mine), len(theirs)))


def test_names_hold_the_gathered_ones() -> None:
    report = _review(TRIM % ("no", "none"))
    found = next(f for f in report.findings if f.rule == "respirator-for-lead")

    assert names(found) == {
        "respirator-for-lead", "respirator-for-lead@smooth", "set-up-for-lead", "set-up-for-lead@smooth",
    }  # fmt: skip
    assert json.dumps(as_data(report))
