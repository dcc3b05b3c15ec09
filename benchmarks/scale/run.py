"""The real rules on the demo, once, 5, 20 and 50 times over: each phase of a review, first run and warm, and growth.

    .venv/bin/python benchmarks/scale/run.py [--machine TEXT] [--date TEXT] [--stock TIMES]

Processor time; trust the ratios within one run. Both matchers are held to the same conclusions, compared as sets.
"""

from __future__ import annotations

import argparse
import gc
import json
import math
import sys
from collections.abc import Callable
from pathlib import Path
from time import process_time
from typing import Any

import yaml

HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(HERE.parents[1] / "tests"), str(HERE.parents[1])]

from engine.clips_rules import conclusions  # noqa: E402

from advisor.plan import make_facts, read_plan  # noqa: E402
from advisor.reports.data import as_json  # noqa: E402
from advisor.review import reviewing  # noqa: E402
from advisor.rulebase.base import RuleBase, load_rulebase  # noqa: E402
from advisor.site.run import run  # noqa: E402

DEMO = HERE.parents[1] / "scenarios" / "galley-kitchen-faulty.yaml"
TIMES = (1, 5, 20, 50)
PLACES = ("in", "on", "to", "using", "after", "room")  # attributes that name things of the plan
PHASES = {
    "run": "what the rules say", "make_findings": "findings in words", "_of_advice": "of the advice",
    "of_the_new_order": "of the new order", "plan_work": "order and calendar", "opened_by": "what is open",
}  # fmt: skip


def copied(times: int) -> str:
    """The demo so many times over: rooms, parts, products and steps of each copy have names of their own."""
    plan = yaml.load(DEMO.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
    sorts = ("rooms", "parts", "products")
    names = {name for sort in sorts for name in plan[sort]} | {step["id"] for step in plan["steps"]}

    def renamed(value: Any, copy: int) -> Any:
        if isinstance(value, list):
            return [renamed(one, copy) for one in value]
        return f"{value}-{copy}" if value in names else value

    def of(thing: dict[str, Any], copy: int) -> dict[str, Any]:
        place = ("id", *PLACES)
        return {k: renamed(v, copy) if k in place else json.loads(json.dumps(v)) for k, v in thing.items()}

    made = {key: value for key, value in plan.items() if key not in (*sorts, "steps")}
    for sort in sorts:
        made[sort] = {f"{n}-{c}": of(thing, c) for c in range(times) for n, thing in plan[sort].items()}
    made["steps"] = [of(step, c) for c in range(times) for step in plan["steps"]]
    return yaml.safe_dump(made, sort_keys=False, allow_unicode=True, width=4000)


def phases(text: str, rulebase: RuleBase) -> dict[str, float]:
    """Seconds of one review by phase, and of the whole with its JSON."""
    spent: dict[str, float] = {}
    kept = {name: getattr(reviewing, name) for name in PHASES}

    def timed(name: str, function: Callable[..., Any]) -> Callable[..., Any]:
        def inner(*args: Any, **more: Any) -> Any:
            began = process_time()
            try:
                return function(*args, **more)
            finally:
                spent[name] = spent.get(name, 0.0) + process_time() - began

        return inner

    for name, function in kept.items():
        setattr(reviewing, name, timed(name, function))
    gc.collect()
    began = process_time()
    try:
        report = reviewing.review_plan(read_plan(text, rulebase.vocabulary), rulebase)
        reviewed = process_time()
        as_json(report)
        spent["json"] = process_time() - reviewed
    finally:
        for name, function in kept.items():
            setattr(reviewing, name, function)
    spent["whole"] = process_time() - began
    spent["not known to be closed"] = float(len([n for n in report.not_checked if n.may]))
    spent["not checked"] = float(len(report.missed()))
    return spent


def main() -> None:
    """Print the table, write the results."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--machine", default="not said")
    parser.add_argument("--date", default="not said")
    parser.add_argument("--stock", type=int, default=5, help="copies up to which the stock matcher runs too")
    parser.add_argument("--runs", type=int, default=3, help="warm runs, of which the least counts")
    wanted = parser.parse_args()
    gc.set_threshold(800_000, 50, 50)  # as the command does
    rulebase, rows = load_rulebase(), []
    for times in TIMES:
        text = copied(times)
        facts = make_facts(read_plan(text, rulebase.vocabulary), rulebase.vocabulary).facts
        row: dict[str, Any] = {"times": times, "facts": len(facts), "first": phases(text, rulebase)}
        warm = [phases(text, rulebase) for _ in range(wanted.runs)]
        row["warm"] = {name: min(one[name] for one in warm) for name in warm[0]}
        if times <= wanted.stock:
            row |= _against_stock(rulebase, facts, wanted.runs)
        rows.append(row)
        print(
            f"x{times:<3} {len(facts):5} facts", json.dumps(row["warm"] | {"first": row["first"]["whole"]}), flush=True
        )
        if "stock_to_own" in row:
            print(f"     stock / own {row['stock_to_own']:.1f}", flush=True)
    five, fifty = (next(r["warm"]["whole"] for r in rows if r["times"] == n) for n in (5, 50))
    results = {
        "machine": wanted.machine, "date": wanted.date, "python": sys.version.split()[0], "rows": rows,
        "exponent_5_to_50": math.log(fifty / five, 10), "fifty_to_five": fifty / five,
    }  # fmt: skip
    print(f"exponent from x5 to x50: {results['exponent_5_to_50']:.2f}")
    (HERE / "results.json").write_text(json.dumps(results, indent=1) + "\n", encoding="utf-8")


def _against_stock(rulebase: RuleBase, facts: Any, runs: int) -> dict[str, float]:
    """The stock matcher on the same facts, which must come to the same."""
    seconds = {}
    found = {}
    for name in ("indexed", "stock"):
        found[name] = conclusions(run(rulebase, facts, name))
        best = math.inf
        for _ in range(runs if name == "indexed" else 1):
            began = process_time()
            run(rulebase, facts, name)
            best = min(best, process_time() - began)
        seconds[name] = best
    assert {k: set(v) for k, v in found["indexed"].items()} == {k: set(v) for k, v in found["stock"].items()}
    return {
        "indexed_s": seconds["indexed"],
        "stock_s": seconds["stock"],
        "stock_to_own": seconds["stock"] / seconds["indexed"],
    }


if __name__ == "__main__":
    main()
