"""The invented plans of `scenarios/` against what their author, a remodeler, expected before running them.

What a careful plan may draw is the project's own bar: nothing that injures, two notices at most. The core
rules and the traps of the faulty plans are common practice; `expected.yaml` says why for each.
"""

import re
from functools import cache
from pathlib import Path

import pytest
import yaml

from advisor.reports.text import Shape, as_text
from advisor.review.reviewing import review

TOP = Path(__file__).parent.parent.parent
EXPECTED = yaml.safe_load((Path(__file__).parent / "expected.yaml").read_text(encoding="utf-8"))
PLANS = sorted((TOP / "scenarios").glob("*.yaml"))
FAULTY = [(name, one) for name, wanted in EXPECTED["faulty"].items() for one in wanted]
CORE = [
    "stain-blocker-beside-flame",  # stain-blocking-primer where no flame burns
    "seal-all-faces",
    "shim-from-high-point",
    "support-sink-before-clips",
    "ventilate-solvent-finish",
    "isolate-power",
    "test-for-lead",
]
# Ways of saying that all is well, which no report may do.
ALL_CLEAR = re.compile(
    r"\b(is|are|looks?|seems?|will be|perfectly|completely|quite) safe\b|\bsafe (plan|to (start|begin|proceed|go on))\b"
    r"|\b(no|without|free of) (risks?|hazards?|dangers?)\b|\brisk-free\b|\bnothing to (worry|fear)\b|\ball clear\b"
    r"|\bno problems?\b|\b(plan|work) is (fine|ok|okay|good|sound)\b",
    re.IGNORECASE,
)


@cache
def reviewed(name):
    return review(TOP / "scenarios" / f"{name}.yaml")


def spoken(name):
    return {(finding.rule, finding.step) for finding in reviewed(name).findings}


@pytest.mark.parametrize(("name", "one"), FAULTY, ids=[f"{name}: {one['rule']}" for name, one in FAULTY])
def test_a_faulty_plan_hears_what_its_author_expected(name, one):
    places = {step for rule, step in spoken(name) if rule == one["rule"]}
    assert places, f"{one['rule']} says nothing: {one['why']}"
    assert one.get("step") in {*places, None}


@pytest.mark.parametrize("name", EXPECTED["careful"])
def test_a_careful_plan_draws_nothing_above_a_notice(name):
    assert [(f.signal, f.id, f.what) for f in reviewed(name).findings if f.signal != "notice"] == []


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.stem)
def test_no_rule_stumbles_over_a_material_that_is_none_of_its_business(path):
    """A wood top has no weight of stone, a pipe none of rubble: such rules stay quiet, also about themselves."""
    assert [n for n in reviewed(path.stem).not_checked if "no published value" in n.message] == []


@pytest.mark.parametrize("name", EXPECTED["careful"])
def test_a_careful_plan_draws_two_notices_at_most(name):
    assert [(f.id, f.what) for f in reviewed(name).findings][2:] == []


def test_kitchen_bath_floor_windows_closet_and_porch_have_a_careful_plan():
    plans = [yaml.safe_load((TOP / "scenarios" / f"{name}.yaml").read_text("utf-8")) for name in EXPECTED["careful"]]
    kinds = {room["kind"] for plan in plans for room in plan["rooms"].values()}
    parts = {part["kind"] for plan in plans for part in plan["parts"].values()}
    assert kinds >= {"kitchen", "bathroom", "closet", "porch"}
    assert parts >= {"wood floor", "window"}


def test_every_faulty_plan_has_its_careful_twin():
    twins = {name.removesuffix("-faulty") + "-careful" for name in EXPECTED["faulty"]}
    assert twins - set(EXPECTED["careful"]) == set()


@pytest.mark.parametrize("rule", CORE)
def test_the_faulty_galley_hears_every_core_rule(rule):
    assert rule in {said for said, _ in spoken("galley-kitchen-faulty")}


def test_the_careful_galley_hears_no_core_rule():
    assert {rule for rule, _ in spoken("galley-kitchen-careful")} & set(CORE) == set()


def test_the_same_kitchen_is_meant_by_both_galley_plans():
    def parts(name):
        plan = yaml.safe_load((TOP / "scenarios" / f"{name}.yaml").read_text(encoding="utf-8"))
        return plan["parts"]

    faulty, careful = parts("galley-kitchen-faulty"), parts("galley-kitchen-careful")
    assert set(faulty) - set(careful) == set()
    for name in ("doors", "run", "top", "basin", "splash"):
        for attribute in {"material", "area", "drops", "length", "width", "thickness", "weight"} & set(faulty[name]):
            assert careful[name][attribute] == faulty[name][attribute], (name, attribute)


def test_a_thin_draft_says_what_it_presumes():
    findings = reviewed("thin-first-draft").findings
    presumed = {f.rule for f in findings if any(b.value for b in f.rests_on)}
    assert {"test-for-lead", "ready-if-lead-is-found", "air-unmeasured-solvent"} <= presumed
    assert "In which year was the house built?" in {q.ask for q in reviewed("thin-first-draft").questions}


@pytest.mark.parametrize(
    "said",
    ["This plan is safe.", "A safe plan", "there is No Risk", "it is safe to start", "without danger", "no problems"],
)
def test_a_claim_that_all_is_well_would_be_noticed(said):
    assert ALL_CLEAR.search(said)


@pytest.mark.parametrize("path", PLANS, ids=[path.stem for path in PLANS])
def test_no_report_says_that_all_is_well(path):
    text = " ".join(as_text(reviewed(path.stem), shape=Shape(working=True)).split())
    assert [match.group() for match in ALL_CLEAR.finditer(text)] == []


@pytest.mark.parametrize("name", EXPECTED["careful"])
def test_a_quiet_report_still_defers_to_code_label_and_trade(name):
    text = " ".join(as_text(reviewed(name)).split())
    assert "not a permit, an inspection or professional advice" in text
    assert "What the plan leaves out can still hurt you" in text
