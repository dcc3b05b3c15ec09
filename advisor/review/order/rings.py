"""Constraints that go round in a ring: found, told, and opened at their softest place."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from typing import TYPE_CHECKING

from msgspec import Struct

from advisor.review.order.constraints import Constraint

if TYPE_CHECKING:
    import networkx as nx

_MOST_RINGS = 50
_MOST_LOOKED_AT = 250_000  # constraints, over all rings: each is looked for among all that are left


class Ring(Struct, frozen=True):
    """Steps that wait for each other: the constraints along the ring, and those given up to open it."""

    members: tuple[str, ...]
    constraints: tuple[Constraint, ...]
    given_up: tuple[Constraint, ...]

    def told(self) -> str:
        """The ring in words: who waits for whom and why, and what is softest."""
        legs = "; ".join(f"{c.then} waits for {c.first} ({_by(c)})" for c in self.constraints)
        soft = self.given_up[0]
        return (
            f"Steps {_listed(self.members)} wait for each other: {legs}. "
            f"The softest is {soft.first} before {soft.then} ({_by(soft)}); think that one over first."
        )


def _by(constraint: Constraint) -> str:
    return "your own 'after'" if constraint.rule == "after" else constraint.rule


def _listed(names: tuple[str, ...]) -> str:
    return ", ".join(names[:-1]) + " and " + names[-1]


def free_of_rings(steps: Iterable[str], constraints: list[Constraint]) -> tuple[list[Constraint], list[Ring]]:
    """The constraints that can all be kept, and the rings that stood in the way; input order does not matter."""
    if _sortable(steps, constraints):
        return constraints, []
    import networkx as nx  # importing costs more than a whole review has left, and only a ring needs it

    kept = list(constraints)
    rings: list[Ring] = []
    most = max(5, min(_MOST_RINGS, _MOST_LOOKED_AT // len(kept)))
    while len(rings) < most:
        graph = nx.DiGraph(sorted({(c.first, c.then) for c in kept}))
        knots = sorted(sorted(k) for k in nx.strongly_connected_components(graph) if len(k) > 1)
        if not knots:
            return kept, rings
        rings.append(_open(graph.subgraph(knots[0]).copy(), kept))
        kept = [c for c in kept if c not in rings[-1].given_up]
    # So many rings are one great contradiction; what is left of it is not worth keeping.
    tangled = {step for knot in knots for step in knot}
    return [c for c in kept if not (c.first in tangled and c.then in tangled)], rings


def _open(graph: nx.DiGraph[str], kept: list[Constraint]) -> Ring:
    import networkx as nx

    edges: dict[tuple[str, str], list[Constraint]] = {}
    for one in kept:
        if graph.has_edge(one.first, one.then):
            edges.setdefault((one.first, one.then), []).append(one)
    # A pair that several rules hold is as firm as the firmest of them.
    softest = min(edges, key=lambda e: (max(c.firmness for c in edges[e]), e))
    way = nx.shortest_path(graph, softest[1], softest[0])
    legs = [*pairwise(way), softest]
    firmest = tuple(max(edges[leg], key=lambda c: (c.firmness, c)) for leg in legs)
    return Ring(tuple(way), firmest, tuple(edges[softest]))


def _sortable(steps: Iterable[str], constraints: list[Constraint]) -> bool:
    waiting = dict.fromkeys(steps, 0)
    behind: dict[str, list[str]] = {step: [] for step in waiting}
    for one in constraints:
        waiting[one.then] += 1
        behind[one.first].append(one.then)
    ready = [step for step, count in waiting.items() if not count]
    for step in ready:  # grows while it is read
        for then in behind[step]:
            waiting[then] -= 1
            if not waiting[then]:
                ready.append(then)
    return len(ready) == len(waiting)
