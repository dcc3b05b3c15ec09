"""The order with the fewest steps moved that keeps given edges.

A pair of steps is *turned* where an edge, or a chain of edges, sets the later-written one before the other. Turned
pairs are a partial order, and steps that stay where they are may hold no turned pair: the most that can stay are the
largest antichain, which a matching finds (Dilworth, König). So this is exact and needs no search. Of equal answers
the earlier-written steps stay. A step that moves goes no further than it must.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import pairwise

Edge = tuple[int, int]
_CHOSEN = 80  # steps in turned pairs up to which equal answers are told apart by who wrote first


def fewest_moves(count: int, edges: Iterable[Edge], last: bool = False) -> tuple[list[int], list[int]] | None:
    """The order of steps 0 … count - 1, and the steps that moved; None where the edges go round in a ring.

    With `last` those that were written last stay, of equal answers.
    """
    before = ancestors(count, edges)
    if before is None:
        return None
    # turned[i]: the later-written steps that must come before step i
    turned = [before[i] >> (i + 1) << (i + 1) for i in range(count)]
    if not any(turned):
        return list(range(count)), []
    stay = _largest_antichain(count, turned, last)
    moved = [i for i in range(count) if i not in stay]
    return _placed(count, before, moved), moved


def with_moved(count: int, edges: Iterable[Edge], moved: Sequence[int]) -> list[int] | None:
    """The order in which just these steps move; None where the edges ask for others too."""
    before = ancestors(count, edges)
    if before is None:
        return None
    stay = (1 << count) - 1 - sum(1 << i for i in moved)
    if any(stay >> i & 1 and (before[i] & stay) >> (i + 1) for i in range(count)):
        return None
    return _placed(count, before, moved)


def ancestors(count: int, edges: Iterable[Edge]) -> list[int] | None:
    """For each step all that must come before it, as bits; None where there is a ring."""
    after: list[list[int]] = [[] for _ in range(count)]
    waiting = [0] * count
    for first, then in set(edges):
        after[first].append(then)
        waiting[then] += 1
    found = [0] * count
    ready = [i for i in range(count) if not waiting[i]]
    for step in ready:  # grows while it is read
        for then in after[step]:
            found[then] |= found[step] | 1 << step
            waiting[then] -= 1
            if not waiting[then]:
                ready.append(then)
    return found if len(ready) == count else None


def _largest_antichain(count: int, turned: Sequence[int], last: bool) -> set[int]:
    involved = sorted({i for i in range(count) if turned[i]} | {j for bits in turned for j in _bits(bits)})
    loose = set(range(count)) - set(involved)
    least = _chains(involved, turned)
    if len(involved) > _CHOSEN:
        return loose | _koenig(involved, turned)
    chosen: list[int] = []
    left = involved
    for step in reversed(involved) if last else involved:
        if step not in left:
            continue
        further = (o for o in left if (o < step if last else o > step))
        rest = [o for o in further if not (turned[step] >> o & 1 or turned[o] >> step & 1)]
        if len(chosen) + 1 + _chains(rest, turned) == least:
            chosen.append(step)
            left = rest
        else:
            left = [o for o in left if o != step]
    return loose | set(chosen)


def _chains(steps: Sequence[int], turned: Sequence[int]) -> int:
    """The size of the largest antichain of the steps: their number less that of a largest matching."""
    return len(steps) - len(_matching(steps, turned))


def _matching(steps: Sequence[int], turned: Sequence[int]) -> dict[int, int]:
    mask = sum(1 << s for s in steps)
    partner: dict[int, int] = {}

    def augment(step: int, seen: list[int]) -> bool:
        for other in _bits(turned[step] & mask):
            if seen[0] >> other & 1:
                continue
            seen[0] |= 1 << other
            if other not in partner or augment(partner[other], seen):
                partner[other] = step
                return True
        return False

    for step in steps:
        if turned[step] & mask:
            augment(step, [0])
    return partner


def _koenig(steps: Sequence[int], turned: Sequence[int]) -> set[int]:
    """A largest antichain, read off a largest matching: steps whose two halves are both outside the least cover."""
    mask = sum(1 << s for s in steps)
    partner = _matching(steps, turned)
    lefts = [s for s in steps if s not in set(partner.values())]
    seen_left, seen_right = set(lefts), 0
    for step in lefts:  # grows while it is read
        for other in _bits(turned[step] & mask & ~seen_right):
            seen_right |= 1 << other
            if other in partner and partner[other] not in seen_left:
                seen_left.add(partner[other])
                lefts.append(partner[other])
    return {s for s in steps if s in seen_left and not seen_right >> s & 1}


def _placed(count: int, before: Sequence[int], moved: Sequence[int]) -> list[int]:
    """The steps that stay in the author's order, and each moved one as near to its own place as its edges allow."""
    away = set(moved)
    stay = [i for i in range(count) if i not in away]
    slot_of = {step: place for place, step in enumerate(stay)}
    slots: dict[int, int] = {}
    # In an order that keeps the edges, so that what must come first has its slot.
    for step in sorted(moved, key=lambda i: (before[i].bit_count(), i)):
        low = max((slot_of[b] + 1 for b in _bits(before[step]) if b in slot_of), default=0)
        low = max([low, *(slots[b] for b in _bits(before[step]) if b in slots)])
        high = min((slot_of[s] for s in stay if before[s] >> step & 1), default=len(stay))
        own = next((place for place, s in enumerate(stay) if s > step), len(stay))
        slots[step] = min(max(own, low), high)
    rank = {step: place for place, step in enumerate(sorted(moved, key=lambda i: (before[i].bit_count(), i)))}
    order: list[int] = []
    for place in range(len(stay) + 1):
        order += sorted((m for m in moved if slots[m] == place), key=rank.__getitem__)
        order += stay[place : place + 1]
    return order


def turned_pairs(order: Sequence[int]) -> int:
    """How many pairs of steps stand the other way round than they were written."""
    total, seen = 0, 0
    for step in order:
        total += (seen >> (step + 1)).bit_count()
        seen |= 1 << step
    return total


def turned_shared(order: Sequence[int], shared: Sequence[int]) -> int:
    """How many turned pairs of steps share a thing; bit j of `shared[i]` says that steps i and j do."""
    total, seen = 0, 0
    for step in order:
        total += ((seen >> (step + 1) << (step + 1)) & shared[step]).bit_count()
        seen |= 1 << step
    return total


def keeps(order: Sequence[int], edges: Iterable[Edge]) -> bool:
    """Whether the order keeps every edge."""
    place = {step: k for k, step in enumerate(order)}
    return all(place[first] < place[then] for first, then in edges)


def chain(order: Sequence[int]) -> list[Edge]:
    """The edges that hold an order as it is."""
    return list(pairwise(order))


def _bits(number: int) -> list[int]:
    found = []
    while number:
        low = number & -number
        found.append(low.bit_length() - 1)
        number ^= low
    return found
