"""What the mover does within its bound: fast enough for long plans; beyond it the head of every report says so.

Long plans are careful ones by another hand set one after the other, a step of each in a wrong place.
"""

from __future__ import annotations

import json
import random
import sys
import time
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parent))

import displacing

from advisor.plan import make_facts, read_plan
from advisor.reports.data import as_data
from advisor.reports.html import as_html
from advisor.reports.markdown import as_markdown
from advisor.reports.text import as_text
from advisor.reports.unchecked import NOT_SETTLED
from advisor.review.order import work_order as order_of_work
from advisor.rulebase.base import load_rulebase
from advisor.site.model import FIRM, SimulatedSite
from advisor.site.mover import settle
from advisor.site.run import run
from advisor.site.simulate import failures

NAMES = ("rooms", "parts", "products")


def long_site(count: int, seed: int) -> SimulatedSite:
    """The site of so many steps: careful plans one after the other, each with a step displaced."""
    plan: dict[str, Any] = {"house": {"built": "2003"}, **{sort: {} for sort in NAMES}, "steps": []}
    pick = random.Random(seed)
    number = seed
    while len(plan["steps"]) < count:
        one = displacing.read(displacing.CAREFUL[number % len(displacing.CAREFUL)])
        one = _renamed(one, {own for sort in NAMES for own in one.get(sort, {})}, f"-{number}")
        for sort in NAMES:
            plan[sort] |= {f"{own}-{number}": thing for own, thing in one.get(sort, {}).items()}
        steps = [{**step, "id": f"{step['id']}-{number}"} for step in one["steps"]]
        steps.insert(pick.randrange(len(steps) - 1), steps.pop(pick.randrange(len(steps))))
        plan["steps"] += steps
        number += 1
    plan["steps"] = plan["steps"][:count]
    rulebase = load_rulebase()
    site = run(rulebase, make_facts(read_plan(plan, rulebase.vocabulary), rulebase.vocabulary).facts).site
    assert site is not None
    return site


PLACES = {
    "room", "in", "on", "to", "using", "box", "circuit", "beside", "above", "against", "serves", "supports",
    "drains_into", "hood", "disposer",
}  # fmt: skip


def _renamed(value: Any, names: set[str], mark: str, key: str = "") -> Any:
    """The plan with the things that it names marked, so that plans can stand in one."""
    if isinstance(value, dict):
        return {own: _renamed(inside, names, mark, own) for own, inside in value.items()}
    if isinstance(value, list):
        return [_renamed(inside, names, mark, key) for inside in value]
    return value + mark if key in PLACES and value in names else value


@pytest.mark.parametrize(("count", "seconds"), [(50, 0.05), (500, 2.0)])
def test_long_plans_are_moved_in_time_and_what_is_firm_is_kept(count: int, seconds: float) -> None:
    """50 steps settled within 50 ms, 500 within 2 s of the processor, the better of two turns."""
    site = long_site(count, 1)
    turns = []
    for _ in range(2):
        start = time.process_time()
        settled = settle(site)
        turns.append(time.process_time() - start)
    before, after = (
        [f for f in failures(site, order) if f.need.firmness >= FIRM] for order in (site.order(), settled.order)
    )

    assert min(turns) <= seconds
    assert settled.moved
    assert len(after) < len(before) or not before
    if count == 50:
        assert settled.within_bound


def test_beyond_the_bound_every_report_says_so_at_its_head(monkeypatch: pytest.MonkeyPatch) -> None:
    """A displaced step, and a search that may look at nothing."""
    one = next(d for d in displacing.displaced() if d.key == "swap-faucet: water-off to_after take-out")
    plan = displacing.with_step_moved(one)
    settled = displacing.report_of(plan)
    monkeypatch.setattr(order_of_work, "settle", lambda site, given, shared: settle(site, given, 0, shared))
    report = displacing.report_of(plan)

    assert settled.settled
    assert NOT_SETTLED not in as_text(settled)
    assert not report.settled
    assert NOT_SETTLED in " ".join(" ".join(as_text(report).split("\n")[:8]).split())
    assert NOT_SETTLED in as_html([report])
    assert NOT_SETTLED in as_markdown([report]).replace("\\", "")
    assert (as_data(settled)["settled"], as_data(report)["settled"]) == (True, False)
    assert json.dumps(as_data(report))
