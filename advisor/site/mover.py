"""The author's order, moved as little as needs and bringings allow.

Order, simulate, branch on the first need that fails: which step brings what is missing, or on which side of what
spoiled it the step stands. Each branch adds edges; the order of a branch is the one with the fewest steps moved
(`least.py`). Branches are taken best first, after one dive that finds some answer soon. Beyond a bound of branches the
best answer so far is taken and said to be *not settled*. A need that no order keeps is given up: order needs before
those of effects, milder signal words before graver ones, and each is told.

Four things are never tried, for they would only dodge: a step is not slipped in before what spoils its state (only
before what puts it back), nothing is moved by what comes by the way, nobody turns back on what is not off yet, and what
an effect itself needs and has in the author's order is never given up for another need.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Sequence

from msgspec import Struct, field
from msgspec.structs import replace

from advisor.site.further import further
from advisor.site.least import fewest_moves, turned_pairs, turned_shared
from advisor.site.model import INNER, Effect, Need, SimulatedSite, Want
from advisor.site.simulate import FailedNeed, failures

BOUND = 300  # branches looked at, of a plan of up to _SMALL steps; of longer plans fewer, so that time stays bounded
_SMALL = 200
_FEW = 2_400  # edges given from outside, from which on both are fewer in the same way


class Edge(Struct, frozen=True, order=True):
    """One step before another, how firmly, and for which need (or, of an edge given from outside, which constraint)."""

    first: int
    then: int
    firmness: int
    need: int = -1  # number of the need in `Settled.needs`; -1 where it was given


class Settled(Struct):
    """The order, the edges that made it, and what could not be kept."""

    order: list[int]
    moved: list[int]
    edges: list[Edge] = field(default_factory=list)  # chosen for needs
    needs: list[Need] = field(default_factory=list)
    given_up: list[Need] = field(default_factory=list)
    dropped: list[Edge] = field(default_factory=list)  # edges from outside that gave way to a need
    within_bound: bool = True
    looked_at: int = 0


class _Branch(Struct, frozen=True):
    edges: frozenset[Edge]
    dropped: frozenset[Edge]
    given_up: frozenset[int]  # needs
    order: tuple[int, ...] = ()
    moved: tuple[int, ...] = ()

    def cost(self, mover: _Mover) -> tuple[object, ...]:
        """What is given up, gravest first; then the steps moved; then how far."""
        lost = sorted(
            [mover.needs[n].firmness * 2 + 1 for n in self.given_up] + [e.firmness * 2 for e in self.dropped],
            reverse=True,
        )
        return (tuple(lost), len(self.moved), turned_pairs(self.order))


def settle(site: SimulatedSite, given: Iterable[Edge] = (), bound: int = BOUND, shared: Sequence[int] = ()) -> Settled:
    """The order of a site's steps under edges given from outside; those must hold no ring.

    Of orders with as few moves the one that turns fewer steps on one thing is taken: bit j of `shared[i]` says that
    steps i and j work on the same.
    """
    mover = _Mover(site, sorted(given), bound)
    found = mover.gentler(mover.settle(), shared)
    return mover.further(found) if site.rather and found.moved and mover.count <= _SMALL else found


class _Mover:
    def __init__(self, site: SimulatedSite, given: list[Edge], bound: int) -> None:
        self.count = len(site.steps)
        self.site, self.given = site, given
        self.bound = bound * _SMALL // max(_SMALL, self.count) * _FEW // max(_FEW, len(given))
        self.dives = bound // 2 * _FEW // max(_FEW, len(given))
        self.needs = [need for needs in site.needs for need in needs]
        self.number = {id(need): n for n, need in enumerate(self.needs)}
        self.bringers: dict[tuple[str, str], list[Effect]] = {}
        for effects in site.effects:
            for effect in effects:
                if effect.mode == "brings":
                    self.bringers.setdefault(effect.key, []).append(effect)
        self.put_back = {e.key for effects in site.effects for e in effects if e.mode == "puts_back"}
        self.looked_at = 0
        self.lost: set[int] = set()  # needs that the author's order does not keep
        # What no order can mend is advice to add a step, and no matter of order.
        self.live = [[need for need in needs if self._mendable(need)] for needs in site.needs]

    def _mendable(self, need: Need) -> bool:
        """Whether some step brings what is needed, or puts it back too early."""
        for key, values in need.wants:
            if any(e.value in values and e.step != need.step for e in self.bringers.get(key, ())):
                return True
        for key, values in need.never:
            if any(e.value not in values and e.step != need.step for e in self.bringers.get(key, ())):
                return True
        return any(key in self.put_back for key in need.keys)

    def settle(self) -> Settled:
        start = self._ordered(_Branch(frozenset(), frozenset(), frozenset()))
        assert start is not None, "edges given from outside go round in a ring"
        self.lost = {self.number[id(f.need)] for f in failures(self.site, start.order, lambda _: False, self.live)}
        best, exact = self._dive(start), True
        queue = [(start.cost(self), 0, start)]
        seen = {(start.edges, start.dropped, start.given_up)}
        number, after = 0, self.looked_at
        while queue:
            cost, _, branch = heapq.heappop(queue)
            if best is not None and cost >= best.cost(self):
                break
            if self.looked_at - after >= self.bound:
                exact = False
                break
            failure = self._first_failure(branch)
            if failure is None:
                best = branch
                break
            for child in self._children(branch, failure):
                key = (child.edges, child.dropped, child.given_up)
                if key not in seen and (best is None or child.cost(self) < best.cost(self)):
                    seen.add(key)
                    number += 1
                    heapq.heappush(queue, (child.cost(self), number, child))
        found = best or start
        return Settled(
            list(found.order), list(found.moved), sorted(found.edges), self.needs,
            [self.needs[n] for n in sorted(found.given_up)], sorted(found.dropped), exact and best is not None,
            self.looked_at,
        )  # fmt: skip

    def gentler(self, found: Settled, shared: Sequence[int]) -> Settled:
        """The same edges with the later-written steps left where they are, if that tears less apart."""
        if not shared or not found.moved:
            return found
        pairs = {(e.first, e.then) for e in (*self.given, *found.edges) if e not in found.dropped}
        placed = fewest_moves(self.count, pairs, last=True)
        assert placed is not None
        if (turned_shared(placed[0], shared), turned_pairs(placed[0])) >= (
            turned_shared(found.order, shared),
            turned_pairs(found.order),
        ):
            return found
        given_up = frozenset(self.number[id(need)] for need in found.given_up)
        branch = _Branch(frozenset(found.edges), frozenset(found.dropped), given_up, tuple(placed[0]))
        if self._first_failure(branch) is None:
            found.order, found.moved = placed
        return found

    def further(self, found: Settled) -> Settled:
        """What moves goes to where it rather stands (`further.py`)."""
        bare = _Branch(frozenset(), frozenset(), frozenset(self.number[id(need)] for need in found.given_up))

        def holds(order: list[int]) -> bool:
            return self._first_failure(replace(bare, order=tuple(order))) is None

        pairs = {(e.first, e.then) for e in (*self.given, *found.edges) if e not in found.dropped}
        found.order, found.moved, wishes = further(self.site.rather, found.order, found.moved, pairs, holds)
        found.edges += [Edge(one.first, one.then, INNER, len(found.needs) + k) for k, one in enumerate(wishes)]
        found.needs += [Need(one.then, (), (), one.rule, INNER, one.because) for one in wishes]
        return found

    def _dive(self, branch: _Branch) -> _Branch | None:
        """Some answer soon: always the cheapest child."""
        for _ in range(self.dives):
            failure = self._first_failure(branch)
            if failure is None:
                return branch
            children = self._children(branch, failure)
            if not children:
                return None
            branch = min(children, key=lambda c: (c.cost(self), sorted(c.edges)))
        return None

    def _first_failure(self, branch: _Branch) -> FailedNeed | None:
        self.looked_at += 1

        def ignore(need: Need) -> bool:
            return self.number[id(need)] in branch.given_up

        for failure in failures(self.site, branch.order, ignore, self.live):
            if self._options(failure, branch.order):
                return failure
        return None

    def _children(self, branch: _Branch, failure: FailedNeed) -> list[_Branch]:
        need = self.number[id(failure.need)]
        found = []
        for option in self._options(failure, branch.order):
            new = frozenset(Edge(a, b, failure.need.firmness, need) for a, b in option)
            child = self._ordered(_Branch(branch.edges | new, branch.dropped, branch.given_up))
            if child is not None and child.edges != branch.edges:
                found.append(child)
        if failure.need.firmness == INNER and need not in self.lost:
            return found
        give_up = _Branch(branch.edges, branch.dropped, branch.given_up | {need}, branch.order, branch.moved)
        return [*found, give_up]

    def _options(self, failure: FailedNeed, order: Sequence[int]) -> list[tuple[tuple[int, int], ...]]:
        """Ways to make a need hold, each as edges to add."""
        step, place = failure.need.step, {s: k for k, s in enumerate(order)}
        found: list[tuple[tuple[int, int], ...]] = []
        current = {key: (value, by) for key, value, by in failure.found}
        for want, good in self._targets(failure):
            value, by = current[want[0]]
            if (value in want[1]) == good:
                continue
            found += self._ways(want, good, step, place, by)
        return sorted(set(found))

    def _targets(self, failure: FailedNeed) -> list[tuple[Want, bool]]:
        """The states to change: what must not be so first; else any of the wanted ones."""
        current = {key: value for key, value, _ in failure.found}
        bad = [(want, False) for want in failure.need.never if current[want[0]] in want[1]]
        return bad[:1] or [(want, True) for want in failure.need.wants]

    def _ways(
        self, want: Want, good: bool, step: int, place: dict[int, int], by: Effect | None
    ) -> list[tuple[tuple[int, int], ...]]:
        key, values = want
        found: list[tuple[tuple[int, int], ...]] = []
        for effect in self.bringers.get(key, ()):
            bringer = effect.step
            if bringer == step or (effect.value in values) != good or bringer in self.site.done:
                continue
            if bringer in self.site.conditions and self.site.conditions.get(step) != self.site.conditions[bringer]:
                continue
            if place[bringer] > place[step]:
                spoiler = () if by is None or by.step == bringer or by.mode == "brings" else ((by.step, bringer),)
                found.append(((bringer, step), *spoiler))
            elif by is not None and by.step not in (bringer, step) and place[by.step] > place[bringer]:
                found.append(((by.step, bringer), (bringer, step)))
        if by is not None and by.mode == "puts_back" and by.step != step and by.step not in self.site.done:
            found.append(((step, by.step),))
        return found

    def _ordered(self, branch: _Branch) -> _Branch | None:
        """The branch with its order; edges from outside that are softer than a need's give way to it."""
        dropped = set(branch.dropped)
        while True:
            kept = [e for e in self.given if e not in dropped]
            pairs = {(e.first, e.then) for e in (*kept, *branch.edges)}
            placed = fewest_moves(self.count, pairs)
            if placed is not None:
                order, moved = placed
                return _Branch(branch.edges, frozenset(dropped), branch.given_up, tuple(order), tuple(moved))
            softest = self._softest(kept, branch.edges)
            if softest is None:
                return None
            dropped.add(softest)

    def _softest(self, kept: Sequence[Edge], chosen: Iterable[Edge]) -> Edge | None:
        """The softest edge of a ring, if it was given from outside and is softer than a need in the ring."""
        ring = _ring([*kept, *chosen])
        given = sorted((e for e in ring if e.need < 0), key=lambda e: (e.firmness, e))
        firmest = max((e.firmness for e in ring if e.need >= 0), default=INNER)
        return given[0] if given and given[0].firmness < firmest else None


def _ring(edges: Sequence[Edge]) -> list[Edge]:
    """The edges of some ring among the edges; there is one."""
    after: dict[int, list[Edge]] = {}
    for one in sorted(edges):
        after.setdefault(one.first, []).append(one)
    state: dict[int, int] = {}
    path: list[Edge] = []
    for start in sorted(after):
        if start in state:
            continue
        stack = [(start, iter(after[start]))]
        state[start] = 1
        while stack:
            node, rest = stack[-1]
            following = next(rest, None)
            if following is None:
                state[node] = 2
                stack.pop()
                if path:
                    path.pop()
                continue
            edge = following
            if state.get(edge.then) == 1:
                nodes = [e.first for e in path]
                return [*path[nodes.index(edge.then) :], edge] if edge.then in nodes else [edge]
            if edge.then not in state:
                state[edge.then] = 1
                path.append(edge)
                stack.append((edge.then, iter(after.get(edge.then, []))))
    return []
