"""How far a step goes that moves anyway.

Needs say past which steps a step has to go, and the mover takes it no further. A tradesperson takes it to where the
work has its place: who covers the floor late, and has to go back before the sanding, covers it before anything is
carried over it. So `rather.yaml` says what a step rather comes before. It moves nothing by itself: it counts
where one of the two steps moves, and only as long as no other step has to move for it and every need still holds.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from advisor.site.least import fewest_moves
from advisor.site.model import Rather, Site

MOST = 60  # wishes looked at, the nearest first; each may cost a walk through the site
Pair = tuple[int, int]


def further(
    site: Site, order: Sequence[int], moved: Sequence[int], edges: Iterable[Pair], holds: Callable[[list[int]], bool]
) -> tuple[list[int], list[Rather]]:
    """The order with the moved steps where they rather stand, and the wishes that took them there.

    `edges` made the order, and `holds` says whether an order keeps all that this one keeps.
    """
    away, pairs = set(moved), set(edges)
    wished = [one for one in site.rather if one.first in away or one.then in away]
    wished = sorted(wished, key=lambda r: (abs(r.first - r.then), r))[:MOST]
    kept = _fitting(wished, order, moved, pairs, lambda _: True)
    placed = _placed(order, moved, pairs, kept)
    if placed is None or not holds(placed):
        kept = _fitting(wished, order, moved, pairs, holds)
        placed = _placed(order, moved, pairs, kept)
    return (placed, kept) if placed is not None else (list(order), [])


def _fitting(
    wished: Sequence[Rather], order: Sequence[int], moved: Sequence[int], pairs: set[Pair],
    holds: Callable[[list[int]], bool],
) -> list[Rather]:  # fmt: skip
    kept: list[Rather] = []
    for one in wished:
        placed = _placed(order, moved, pairs, [*kept, one])
        if placed is not None and holds(placed):
            kept.append(one)
    return kept


def _placed(order: Sequence[int], moved: Sequence[int], pairs: set[Pair], kept: Sequence[Rather]) -> list[int] | None:
    """The order with these wishes; None where they ask for another step to move."""
    wanted = pairs | {(one.first, one.then) for one in kept}
    for last in (False, True):
        found = fewest_moves(len(order), wanted, last)
        if found is not None and set(found[1]) == set(moved):
            return found[0]
    return None
