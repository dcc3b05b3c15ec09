"""Order and schedule of growing plans: time and growth.

Run: .venv/bin/python benchmarks/order/run.py
"""

from __future__ import annotations

import random
import sys
from pathlib import Path
from time import process_time

sys.path.insert(0, str(Path(__file__).parents[2] / "tests"))

from review.working import finding, plan_of, random_edges

from advisor.review.planned_work import plan_work
from advisor.rulebase.base import load_rulebase

SIZES = (50, 100, 200, 500)


def timed(count: int, seed: int) -> tuple[float, bool, int]:
    """Processor seconds for order and schedule of one plan, whether its order moves the fewest steps, pairs turned."""
    chance = random.Random(seed)
    steps = [
        {
            "id": f"s{i}",
            "do": chance.choice(("fill", "paint", "install", "sand")),
            "to": f"part{chance.randrange(max(4, count // 4))}",
            "for": f"{chance.randint(1, 6)} h",
            "wait": chance.choice(("0 h", "4 h", "24 h")),
        }
        for i in range(count)
    ]
    plan = plan_of(steps, crew={"people": chance.choice((1, 2))})
    findings = [
        finding(chance.choice(("precede", "wait")), f"s{a}", f"s{b}", chance.choice((4, 24)))
        for a, b in random_edges(chance, count, count)
    ]
    rulebase = load_rulebase()
    started = process_time()
    work = plan_work(plan, findings, rulebase)
    return process_time() - started, work.order.exact, work.order.turned


def main() -> None:
    """Print the tables."""
    before = None
    timed(SIZES[0], 0)  # the rules are taken apart once
    print("steps   cpu seconds (worst of 5)   times the last   fewest moves")
    for count in SIZES:
        runs = [timed(count, seed) for seed in range(5)]
        worst = max(seconds for seconds, _, _ in runs)
        grown = f"{worst / before:.1f}" if before else "-"
        print(f"{count:>5}   {worst:>24.3f}   {grown:>14}   {sum(exact for _, exact, _ in runs)} of 5")
        before = worst


if __name__ == "__main__":
    main()
