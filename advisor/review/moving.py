"""The order nearest to the author's that keeps the constraints.

*Nearest* means: as few pairs of steps as possible stand the other way round than the author wrote them
(Kendall's distance). Among equals, as few pairs that work on the same part; among those still equal, what the
author put last stays last, so that a step that was forgotten moves up rather than the rest down.

The general problem is NP-hard. It falls apart at every place of the author's order that no constraint crosses
backwards, and each piece is searched exactly (Dijkstra over sets of steps still to place) within a budget of
work. A piece beyond that starts from the better of two greedy orders and moves single steps to their best place
until nothing gets better.
"""

from __future__ import annotations

import heapq
from collections.abc import Sequence

_SURE = 8  # steps of a piece that is searched exactly whatever it costs
_BUDGET = 12_000  # states that all larger pieces may look at together
_ROUNDS = 6  # of moving single steps

Edges = list[tuple[int, int]]


def nearest_order(count: int, edges: Edges, shared: Sequence[int]) -> tuple[list[int], bool]:
    """The order of steps 0 … count - 1 (numbered as the author wrote them), and whether it is surely the nearest.

    `edges` are pairs (first, then) without rings; bit j of `shared[i]` says that steps i and j share a part.
    """
    reach = list(range(count))  # the furthest step that must come before step i or one written before it
    for first, then in edges:
        reach[then] = max(reach[then], first)
    order: list[int] = []
    exact, budget, start, far = True, _BUDGET, 0, 0
    for place in range(count):
        far = max(far, reach[place])
        if far > place:
            continue
        if place == start:
            order.append(start)
        else:
            piece = _Piece(start, place + 1, edges, shared)
            found, sure, budget = piece.solve(budget)
            order += found
            exact &= sure
        start = place + 1
    return order, exact


def moved(order: Sequence[int]) -> list[int]:
    """The fewest steps that one would have to pick up to get from 0, 1, 2 … to `order`, in the new order.

    The rest is a longest rising run of `order`; among equally long runs the one that keeps later steps.
    """
    best: list[tuple[int, int]] = []  # length of the run that starts here, and where it goes on
    for i in range(len(order) - 1, -1, -1):
        longest, after = 1, -1
        for j in range(len(order) - 1, i, -1):
            if order[j] > order[i] and best[len(order) - 1 - j][0] + 1 > longest:
                longest, after = best[len(order) - 1 - j][0] + 1, j
        best.append((longest, after))
    best.reverse()
    kept = set()
    i = max(range(len(order)), key=lambda k: (best[k][0], k), default=-1)
    while i >= 0:
        kept.add(i)
        i = best[i][1]
    return [step for k, step in enumerate(order) if k not in kept]


class _Piece:
    """A stretch of the author's order that no constraint leaves backwards. Sets of its steps are bits."""

    def __init__(self, start: int, stop: int, edges: Edges, shared: Sequence[int]) -> None:
        self.start, self.size = start, stop - start
        full = (1 << self.size) - 1
        self.before, self.after = [0] * self.size, [0] * self.size
        for first, then in edges:
            if start <= first and then < stop and start <= then and first < stop:
                self.before[then - start] |= 1 << (first - start)
                self.after[first - start] |= 1 << (then - start)
        self.higher = [full & ~((1 << (i + 1)) - 1) for i in range(self.size)]
        self.shared = [(shared[start + i] >> start) & full for i in range(self.size)]
        self.weight = self.size * self.size  # one turned pair outweighs every shared part

    def solve(self, budget: int) -> tuple[list[int], bool, int]:
        """The order of the piece, whether it is surely the nearest, and the budget that is left."""
        if not any(b >> i for i, b in enumerate(self.before)):
            return list(range(self.start, self.start + self.size)), True, budget
        sure = self.size <= _SURE
        found, used = self._search(1 << 60 if sure else budget)
        left = budget if sure else max(0, budget - used)
        order = found if found is not None else self._improve(self._greedy())
        return [self.start + i for i in order], found is not None, left

    def _cost(self, step: int, earlier: int) -> int:
        """What it costs that `step` stands behind the steps in `earlier`."""
        turned = earlier & self.higher[step]
        return self.weight * turned.bit_count() + (turned & self.shared[step]).bit_count()

    def _search(self, budget: int) -> tuple[list[int] | None, int]:
        """Dijkstra from the end: the state is the set still to place, the step is which of them comes last."""
        ancestors = self._ancestors()
        forced = [self._cost(i, ancestors[i]) for i in range(self.size)]
        full = (1 << self.size) - 1
        heap: list[tuple[int, tuple[int, ...], int]] = [(0, (), full)]
        best: dict[int, tuple[int, tuple[int, ...]]] = {full: (0, ())}
        used = 0
        while heap:
            cost, path, left = heapq.heappop(heap)
            if not left:
                return [-step for step in reversed(path)], used
            if best[left] < (cost, path):
                continue
            for step in range(self.size):
                bit = 1 << step
                if not left & bit or self.after[step] & left:
                    continue
                rest = left ^ bit
                # Turned pairs that a constraint forces cost the same on every way; only the others are counted.
                key = (cost + self._cost(step, rest) - forced[step], (*path, -step))
                if rest not in best or key < best[rest]:
                    best[rest] = key
                    heapq.heappush(heap, (*key, rest))
                    used += 1
            if used > budget:
                return None, used
        raise AssertionError("the constraints were free of rings")

    def _ancestors(self) -> list[int]:
        found = [0] * self.size
        for step in self._upwards():
            for first in _bits(self.before[step]):
                found[step] |= found[first] | 1 << first
        return found

    def _upwards(self) -> list[int]:
        """The author's order, each step put off until what must come before it is there."""
        waiting = [b.bit_count() for b in self.before]
        ready = [i for i in range(self.size) if not waiting[i]]
        order = []
        while ready:
            order.append(heapq.heappop(ready))
            for then in _bits(self.after[order[-1]]):
                waiting[then] -= 1
                if not waiting[then]:
                    heapq.heappush(ready, then)
        return order

    def _downwards(self) -> list[int]:
        """The author's order, each step drawn forward to before what needs it."""
        waiting = [a.bit_count() for a in self.after]
        ready = [-i for i in range(self.size) if not waiting[i]]
        heapq.heapify(ready)
        order = []
        while ready:
            order.append(-heapq.heappop(ready))
            for first in _bits(self.before[order[-1]]):
                waiting[first] -= 1
                if not waiting[first]:
                    heapq.heappush(ready, -first)
        return order[::-1]

    def _total(self, order: list[int]) -> int:
        seen, total = 0, 0
        for step in order:
            total += self._cost(step, seen)
            seen |= 1 << step
        return total

    def _greedy(self) -> list[int]:
        return min((self._downwards(), self._upwards()), key=self._total)

    def _improve(self, order: list[int]) -> list[int]:
        for _ in range(_ROUNDS):
            better = False
            for step in list(order):
                better |= self._shift(order, step)
            if not better:
                break
        return order

    def _shift(self, order: list[int], step: int) -> bool:
        """Move one step to its best place between what must come before and what must come after it."""
        here = order.index(step)
        best, target, change = 0, here, 0
        for there in range(here - 1, -1, -1):
            other = order[there]
            if self.before[step] >> other & 1:
                break
            pair = self.weight + (self.shared[step] >> other & 1)
            change += -pair if other > step else pair
            if change < best:
                best, target = change, there
        change = 0
        for there in range(here + 1, len(order)):
            other = order[there]
            if self.after[step] >> other & 1:
                break
            pair = self.weight + (self.shared[step] >> other & 1)
            change += -pair if other < step else pair
            if change < best:
                best, target = change, there
        if target != here:
            order.insert(target, order.pop(here))
        return target != here


def _bits(number: int) -> list[int]:
    found = []
    while number:
        low = number & -number
        found.append(low.bit_length() - 1)
        number ^= low
    return found
