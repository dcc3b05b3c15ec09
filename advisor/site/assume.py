"""Assumptions about what a plan leaves unknown: constraints on single unknowns, and sets of them.

An unknown is named by a key (sort, id, attribute). A constraint is a tuple that begins with its sort and whether it
is true of the plan as it stands:

    ("k", True)                          the unknown stays as it is: not stated
    ("a", False)                         it is stated, whatever it is
    ("w", today, words)                  it is one of these words
    ("n", today, low, high, above, below)  it lies between; `above`, `below`: not at the limit itself
    ("l", today, wanted, barred)         a list: one of each set of `wanted`, none of `barred`
    ("b", True, ways)                    nothing has broken an absence; `ways` are what would
    ("~", True)                          mark: more than the constraints say decides whether it holds

A set of assumptions is a dict from key to constraint; a fact or a match carries the smallest few of them.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

Key = tuple[str, str, str]
Constraint = tuple[Any, ...]
Set = dict[Key, Constraint]
Ways = tuple[Set, ...]

NOTHING: Set = {}
CERTAIN: Ways = (NOTHING,)
KEPT: Constraint = ("k", True)
STATED: Constraint = ("a", False)
MARK: Key = ("~", "", "")
MARKED: Constraint = ("~", True)
MISSING: Key = ("missing", "", "")  # at most one thing that is not listed in a set
MOST = 6
_INF = float("inf")


def words(values: Iterable[Any], today: bool = False) -> Constraint:
    """One of these words."""
    return ("w", today, frozenset(values))


def between(low: float, high: float, above: bool, below: bool, today: bool = False) -> Constraint:
    """A number between limits."""
    return ("n", today, low, high, above, below)


def limit(op: str, value: float, today: bool = False) -> Constraint:
    """The numbers that pass a comparison."""
    if op == "above":
        return between(value, _INF, True, False, today)
    if op == "at_least":
        return between(value, _INF, False, False, today)
    if op == "below":
        return between(-_INF, value, False, True, today)
    if op == "at_most":
        return between(-_INF, value, False, False, today)
    return between(value, value, False, False, today)


def both(one: Constraint, other: Constraint) -> Constraint | None:
    """What satisfies both constraints of one unknown; None where nothing does."""
    a, b = one[0], other[0]
    if a == "k" or b == "k":
        return KEPT if one[1] and other[1] else None
    if a == "~" or a == "b":
        return one
    today = one[1] and other[1]
    if a == "a":
        return other if not other[1] else (b, False, *other[2:])
    if b == "a":
        return one if not one[1] else (a, False, *one[2:])
    if a == "w" and b == "w":
        left = one[2] & other[2]
        return ("w", today, left) if left else None
    if a == "n" and b == "n":
        return _overlap(one, other, today)
    if a == "l" and b == "l":
        wanted, barred = one[2] | other[2], one[3] | other[3]
        return None if any(w <= barred for w in wanted) else ("l", today, wanted, barred)
    return None


def _overlap(one: Constraint, other: Constraint, today: bool) -> Constraint | None:
    low, high = max(one[2], other[2]), min(one[3], other[3])
    above = (one[4] and one[2] == low) or (other[4] and other[2] == low)
    below = (one[5] and one[3] == high) or (other[5] and other[3] == high)
    if low > high or (low == high and (above or below)):
        return None
    return ("n", today, low, high, above, below)


def meet(one: Set, other: Set) -> Set | None:
    """Both sets at once; None where they contradict each other."""
    if not other or one is other:
        return one
    if not one:
        return other
    found = one.copy()
    for key, constraint in other.items():
        known = found.get(key)
        if known is None:
            found[key] = constraint
        elif known is not constraint and known != constraint:
            joined = both(known, constraint)
            if joined is None:
                return None
            found[key] = joined
    return found


def size(one: Set) -> int:
    """How many unknowns would have to be other than they are."""
    count = 0
    for constraint in one.values():
        if not constraint[1]:
            count += 1
    return count


def holds_today(one: Set) -> bool:
    """Whether the set is true of the plan as it stands."""
    for constraint in one.values():  # noqa: SIM110  # a generator costs more than most sets
        if not constraint[1]:
            return False
    return True


def pruned(sets: list[Set], most: int = MOST) -> Ways:
    """The smallest few, none of them twice; what is certain needs no other."""
    if len(sets) == 1:
        return tuple(sets)
    kept: list[Set] = []
    sizes: list[int] = []
    last, sort = 0, False
    for one in sets:  # `size` of each, not called: nothing is done so often
        count = 0
        for constraint in one.values():
            if not constraint[1]:
                count += 1
        if count < last:
            sort = True
        last = count
        sizes.append(count)
    if sort:
        sets = [sets[place] for place in sorted(range(len(sets)), key=sizes.__getitem__)]
    for one in sets:
        if not one:
            return CERTAIN
        if one in kept:
            continue
        kept.append(one)
        if len(kept) == most:
            break
    return tuple(kept)


def joined(one: Ways, other: Ways) -> Ways:
    """Each way of the one with each of the other; empty where none fit together."""
    if other is CERTAIN or (len(other) == 1 and not other[0]):
        return one
    if one is CERTAIN or (len(one) == 1 and not one[0]):
        return other
    if len(one) == 1 and len(other) == 1:
        found = meet(one[0], other[0])
        return () if found is None else (found,)
    if len(one) * len(other) > MOST:
        return _smallest(one, other)
    made = [m for a in one for b in other if (m := meet(a, b)) is not None]
    return pruned(made) if made else ()


def _smallest(one: Ways, other: Ways) -> Ways:
    """The smallest few of all pairs, as `pruned` leaves them; only they are put together.

    What would have to be other than it is in one of two sets would have to be so in both at once: so the size of a
    pair is known before.
    """
    left, right = ([frozenset([key for key, c in a.items() if not c[1]]) for a in ways] for ways in (one, other))
    kept: list[Set] = []
    for _, a, b in sorted([(len(x | y), a, b) for a, x in enumerate(left) for b, y in enumerate(right)]):
        found = meet(one[a], other[b])
        if found is None or found in kept:
            continue
        if not found:
            return CERTAIN
        kept.append(found)
        if len(kept) == MOST:
            break
    return tuple(kept)


def with_set(ways: Ways, one: Set) -> Ways:
    """Each way with the assumptions of one set added."""
    if not one:
        return ways
    if len(ways) == 1:
        found = meet(ways[0], one)
        return () if found is None else (found,)
    made = [m for a in ways if (m := meet(a, one)) is not None]
    return pruned(made) if made else ()
