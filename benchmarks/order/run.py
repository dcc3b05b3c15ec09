"""Order and schedule of growing plans: time, growth, and how near the order is to the exact one.

Run: .venv/bin/python benchmarks/order/run.py
"""

from __future__ import annotations

import random
import sys
from pathlib import Path
from time import process_time

sys.path.insert(0, str(Path(__file__).parents[2] / "tests"))

from review.working import finding, plan_of, random_edges, words

from advisor.review import moving
from advisor.review.work import plan_work

SIZES = (50, 100, 200, 500)


def timed(count: int, seed: int) -> tuple[float, bool, int]:
    """Processor seconds for order and schedule of one generated plan, whether its order is exact, pairs turned."""
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
    started = process_time()
    work = plan_work(plan, findings, words())
    return process_time() - started, work.order.exact, work.order.turned


def ratio(count: int, seed: int, moves: bool) -> float:
    """Turned pairs of the greedy order, with single moves or without, to the exact ones, on one piece."""
    chance = random.Random(seed)
    edges = sorted(random_edges(chance, count, 2 * count))
    shared = [0] * count
    exact, _ = moving.nearest_order(count, edges, shared)
    piece = moving._Piece(0, count, edges, shared)
    found = piece._greedy()
    found = piece._improve(found) if moves else found
    least = piece._total(exact)
    return piece._total(found) / least if least else 1.0


def main() -> None:
    """Print the tables."""
    before = None
    print("steps   cpu seconds (worst of 5)   times the last   order exact")
    for count in SIZES:
        runs = [timed(count, seed) for seed in range(5)]
        worst = max(seconds for seconds, _, _ in runs)
        grown = f"{worst / before:.1f}" if before else "-"
        print(f"{count:>5}   {worst:>24.3f}   {grown:>14}   {sum(exact for _, exact, _ in runs)} of 5")
        before = worst
    print("\nstated method beyond the exact search, against the exact order (200 plans each)")
    print("steps   mean ratio   worst ratio   equal")
    for count in (6, 8, 10, 12):
        for moves in (False, True):
            found = [ratio(count, seed, moves) for seed in range(200)]
            same = sum(one <= 1 for one in found)
            print(
                f"{count:>5}   {sum(found) / len(found):>10.4f}   {max(found):>11.3f}   {same} of 200"
                f"   {'with single moves' if moves else 'greedy alone'}"
            )


if __name__ == "__main__":
    main()
