"""How far a step goes that moves anyway.

Needs say past which steps a step has to go, and the mover takes it no further. A tradesperson takes it to where the
work has its place: who covers the floor late, and has to go back before the sanding, covers it before anything is
carried over it. So `rather.yaml` says what a step rather comes before. It moves nothing by itself: it counts
where one of the two steps moves, and only as long as no other step has to move for it and every need still holds.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from advisor.site.least import fewest_moves, with_moved
from advisor.site.model import Rather

MOST = 60  # wishes looked at, the nearest first; each may cost a walk through the site
Pair = tuple[int, int]
Holds = Callable[[list[int]], bool]


def further(
    rather: Sequence[Rather], order: list[int], moved: list[int], edges: Iterable[Pair], holds: Holds
) -> tuple[list[int], list[int], list[Rather]]:
    """The order with the moved steps where they rather stand, which steps moved, and the wishes that took them there.

    `edges` made the order, and `holds` says whether an order keeps all that this one keeps. Where as few other steps
    may move instead, those move that leave fewer wishes broken.
    """
    pairs = set(edges)
    best = _gone(rather, order, moved, pairs, holds)
    for last in (False, True):
        other = fewest_moves(len(order), pairs, last)
        if other is None or other[1] == moved or len(other[1]) != len(moved) or not holds(other[0]):
            continue
        found = _gone(rather, *other, pairs, holds)
        if _broken(rather, found[0]) < _broken(rather, best[0]):
            best = found
    return best


def _gone(
    rather: Sequence[Rather], order: list[int], moved: list[int], pairs: set[Pair], holds: Holds
) -> tuple[list[int], list[int], list[Rather]]:
    away = set(moved)
    wished = [one for one in rather if one.first in away or one.then in away]
    wished = sorted(wished, key=lambda r: (abs(r.first - r.then), r))[:MOST]
    for check in (_anything, holds):  # each walk through the site costs, so one is made for all wishes first
        kept = _fitting(wished, moved, pairs, len(order), check)
        placed = with_moved(len(order), pairs | _pairs(kept), moved)
        if placed is not None and holds(placed):
            return placed, moved, kept
    return order, moved, []


def _broken(rather: Sequence[Rather], order: Sequence[int]) -> int:
    place = {step: k for k, step in enumerate(order)}
    return sum(place[one.first] > place[one.then] for one in rather)


def _fitting(
    wished: Sequence[Rather], moved: Sequence[int], pairs: set[Pair], count: int, holds: Holds
) -> list[Rather]:
    kept: list[Rather] = []
    for one in wished:
        placed = with_moved(count, pairs | _pairs([*kept, one]), moved)
        if placed is not None and holds(placed):
            kept.append(one)
    return kept


def _pairs(wishes: Sequence[Rather]) -> set[Pair]:
    return {(one.first, one.then) for one in wishes}


def _anything(_: list[int]) -> bool:
    return True
