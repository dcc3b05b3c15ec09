"""All advice taken, on every scenario, firing case and generated plan: nothing is mended by wishing.

A tenth of cases and generated plans by a hash of their names; all of them and 20 orders with TAKEN=all (`make taken`).
"""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
sys.path.insert(0, str(Path(__file__).parents[1] / "site"))

import planning
import share
import taking
from rules.harness import cases, packs_with_cases

from advisor.plan import read_plan
from advisor.plan.supposed import as_got
from advisor.review.reviewing import review_plan
from advisor.review.revision.revise import Revision, accept
from advisor.site.mover import settle
from advisor.site.simulate import failures

SCENARIOS = sorted((Path(__file__).parents[2] / "scenarios").glob("*.yaml"))
FAULTY = [
    path for path in SCENARIOS if "faulty" in path.stem or path.stem in ("thin-first-draft", "trim-in-an-old-hall")
]
KNOWN = [(f"{p}: {c.name}", c.plan) for p in packs_with_cases() for c in cases(p) if c.spec.get("speaks")]
CASES = [(name, plan) for name, plan in KNOWN if taking.taken(name)]
GENERATED = [(name, plan) for name, plan in share.generated(300) if taking.taken(name)]
ORDERS = 20 if taking.FULL else 2
KILLS = 200 if taking.FULL else 20


def all_taken(text: str) -> Revision:
    """The plan with all advice; its name stands in no message."""
    return accept(text, "x.yaml", ["all"], taking.rules())


def test_the_share_of_plans_that_is_looked_at() -> None:
    """Printed, so that nobody takes the tenth for the whole."""
    print(f"\nadvice taken on {len(CASES)} of {len(KNOWN)} firing cases, {len(GENERATED)} of 300 generated plans")

    assert len(CASES) * 15 > len(KNOWN)


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda p: p.stem)
def test_scenarios_keep_their_facts_and_no_danger_goes_silent(path: Path) -> None:
    """Every byte of a line that was not changed stays; taking all of it again changes nothing."""
    text = path.read_text()
    revision = all_taken(text)
    lines = revision.after.splitlines()
    steps = text.index("\nsteps:")
    head = text[:steps].splitlines()

    assert taking.wrong(revision) == []
    changed = [line for line in head if line not in lines]
    assert [line for line in changed if not any(word in line for word in taking.DECIDED)] == []
    assert all_taken(revision.after).after == revision.after


@pytest.mark.parametrize(("name", "plan"), CASES, ids=lambda v: v if isinstance(v, str) else "")
def test_cases_keep_their_facts_and_no_danger_goes_silent(name: str, plan: dict[str, object]) -> None:
    """Every firing case of the packs."""
    check(taking.as_text(plan))


@pytest.mark.parametrize(("name", "plan"), GENERATED, ids=lambda v: v if isinstance(v, str) else "")
def test_generated_plans_keep_their_facts_and_no_danger_goes_silent(name: str, plan: dict[str, object]) -> None:
    """Plans from seeds."""
    check(taking.as_text(plan))


def check(text: str) -> None:
    """What must hold of a plan after all advice was taken; taken again, nothing changes."""
    revision = all_taken(text)

    assert taking.wrong(revision) == []
    assert all_taken(revision.after).after == revision.after


@pytest.mark.parametrize("path", FAULTY, ids=lambda p: p.stem)
def test_a_planning_library_agrees_that_needs_are_kept(path: Path) -> None:
    """The plan with everything got, in its order of work: valid for the library exactly where no need fails."""
    pytest.importorskip("unified_planning")
    rulebase = taking.rules()
    revision = all_taken(path.read_text())
    plan = read_plan(revision.after, rulebase.vocabulary, "x")
    site = review_plan(as_got(plan), rulebase).site
    assert site is not None
    firm = [f for f in failures(site, settle(site).order) if f.need.firmness > 1]

    assert firm == []
    if not site.conditions:  # the library knows no results of tests
        assert planning.valid(site, settle(site).order) == (not list(failures(site, settle(site).order)))


@pytest.mark.parametrize("path", FAULTY, ids=lambda p: p.stem)
def test_the_order_of_taking_makes_no_grave_difference(path: Path) -> None:
    """Warnings and dangers that are left are the same in any order."""
    text = path.read_text()
    wanted = taking.grave(all_taken(text).new)

    for seed in range(ORDERS):
        assert taking.grave(taking.in_random_order(text, "x.yaml", seed)) == wanted


WRITER = """
import sys
from pathlib import Path
from advisor.cli.revising import Written, write_plan
path = Path(sys.argv[1])
texts = [Path(one).read_text() for one in sys.argv[2:4]]
first = Written.read(path)
print("ready", flush=True)
while True:
    for text in texts:
        write_plan(path, first, text)
"""


def test_killed_in_mid_write_the_plan_is_old_or_new(tmp_path: Path) -> None:
    """Never half; and the copy is the first text."""
    rng = random.Random(20)
    old = SCENARIOS[0].read_text()
    new = old + "\nto_get: [{what: ladder}]\n" + "# long\n" * 20_000
    path, one, two = tmp_path / "plan.yaml", tmp_path / "one", tmp_path / "two"
    one.write_text(old)
    two.write_text(new)
    for _ in range(KILLS):
        path.write_text(old)
        command = [sys.executable, "-c", WRITER, str(path), str(one), str(two)]
        ran = subprocess.Popen(command, stdout=subprocess.PIPE, cwd=Path(__file__).parents[2])
        assert ran.stdout is not None
        ran.stdout.readline()
        time.sleep(rng.uniform(0.001, 0.02))
        os.kill(ran.pid, signal.SIGKILL)
        ran.wait()
        ran.stdout.close()

        assert path.read_text() in (old, new)
        assert not (kept := tmp_path / "plan.yaml.bak").exists() or kept.read_text() == old


def test_the_judge_of_facts_tells_each_change() -> None:
    """The judge itself: a changed fact, gear that is suddenly owned and a step that is gone are all told."""
    before = {"crew": {"owns": ["drill"]}, "house": {"built": "1957"}, "steps": [{"id": "a"}]}
    after = {"crew": {"owns": ["drill", "fan"]}, "house": {"built": "1985"}, "steps": [{"id": "b"}]}
    told = taking.facts_changed(before, after)

    assert [one.split(" ")[0] for one in told] == ["house.built", "crew.owns", "fan", "step"]
