"""How long it takes to settle the order of 50, 200 and 500 steps: `python -m benchmarks.site.run`.

Careful plans of `tests/site/careful` one after the other, with every tenth step displaced; grounding is counted with
settling, the rules' run is not. The target is a ratio to one grounding of the first 50 steps, as machines differ.
"""

from __future__ import annotations

import random
import time
from pathlib import Path
from typing import Any

import yaml

from advisor.engine.run import run_rules
from advisor.plan import make_facts, read_plan
from advisor.rulebase.base import load_rulebase
from advisor.site.ground import ground
from advisor.site.mover import settle

_NAMES = (
    "id", "to", "using", "in", "on", "against", "circuit", "room", "box", "above", "beside", "serves", "supports",
    "drains_into", "pipe", "disposer", "hood", "after", "products",
)  # fmt: skip
PLANS = Path(__file__).parents[2] / "tests" / "site" / "careful"


class _Plain(yaml.CSafeLoader):
    """Scalars as written: `no` stays a word."""


_Plain.yaml_implicit_resolvers = {}


def plan_of(count: int, displaced: float = 0.02) -> dict[str, Any]:
    """The careful plans after each other until there are so many steps; names get the number of their copy."""
    pick = random.Random(count)
    whole: dict[str, Any] = {
        "house": {"built": 2003, "wiring": "copper"},
        "rooms": {},
        "parts": {},
        "products": {},
        "steps": [],
    }
    number = 0
    paths = sorted(PLANS.glob("*.yaml"))
    while len(whole["steps"]) < count:
        text = paths[number % len(paths)].read_text(encoding="utf-8")
        one = yaml.load(text, Loader=_Plain)
        names = [n for s in ("rooms", "parts", "products") for n in one.get(s, {})] + [s["id"] for s in one["steps"]]
        new = {name: f"{name}-{number}" for name in names}

        def renamed(value: Any, key: str = "", new: dict[str, str] = new) -> Any:
            if isinstance(value, dict):
                return {k: renamed(v, k) for k, v in value.items()}
            if isinstance(value, list):
                return [renamed(v, key) for v in value]
            return new.get(value, value) if isinstance(value, str) and key in _NAMES else value

        for section in ("rooms", "parts", "products"):
            whole[section] |= {new[n]: renamed(spec) for n, spec in one.get(section, {}).items()}
        whole["steps"] += [renamed(step) for step in one["steps"]]
        number += 1
    steps = whole["steps"][:count]
    for _ in range(int(count * displaced)):
        here = pick.randrange(len(steps))
        steps.insert(min(len(steps), max(0, here + pick.choice((-4, 4)))), steps.pop(here))
    whole["steps"] = steps
    return whole


def measure(count: int) -> tuple[float, float, int, int, bool]:
    """Seconds to ground and to settle, needs, steps moved, and whether it was settled within the bound."""
    rulebase = load_rulebase()
    plan = read_plan(plan_of(count), rulebase.vocabulary)
    outcome = run_rules(rulebase, make_facts(plan, rulebase.vocabulary).facts)
    start = time.perf_counter()
    site = ground(outcome.memory, outcome.drawn, rulebase.states)
    grounded = time.perf_counter() - start
    start = time.perf_counter()
    settled = settle(site)
    return grounded, time.perf_counter() - start, len(settled.needs), len(settled.moved), settled.within_bound


def main() -> None:
    """Print a line for each size."""
    for count in (50, 200, 500):
        grounded, settled, needs, moved, within = measure(count)
        said = "settled" if within else "not settled within the bound"
        times = f"ground {grounded * 1000:7.1f} ms, settle {settled * 1000:7.1f} ms"
        print(f"{count:>4} steps, {needs:>5} needs: {times}, {moved} moved, {said}")


if __name__ == "__main__":
    main()
