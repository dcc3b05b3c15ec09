"""What ends what is so today, and what an absence leaves of assumptions that would break it."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.site.assume import MARK, Key, Set, Ways, meet, pruned
from advisor.site.cells import Open


def ends_of(one: Set, cells: Mapping[Key, Open]) -> Ways:
    """The smallest sets of assumptions that end what rests on this one, which is true today; empty for none."""
    found: list[Set] = []
    for key, constraint in one.items():
        if not constraint[1]:
            continue
        if constraint[0] == "b":
            found += constraint[2]
        elif key in cells:
            found += [{key: other} for other in cells[key].against(constraint)]
    return pruned(found, 12) if found else ()


def restricted(ways: Ways, breaking: list[Set], cells: Mapping[Key, Open]) -> Ways:
    """The ways without those that bring by themselves what must be absent.

    Only what stated facts alone decide counts here: what else would break the absence is left open.
    """
    left = list(ways)
    for one in breaking:
        if MARK in one:
            continue
        kept: list[Set] = []
        for way in left:
            if not all(key in way for key in one) or meet(way, one) is None:
                kept.append(way)  # it does not bring it, or rules it out
                continue
            for key, constraint in one.items():
                for other in cells[key].against(constraint) if key in cells else ():
                    met = meet(way, {key: other})
                    if met is not None:
                        kept.append(met)
        left = kept
    return pruned(left) if left else ()


def may_hold(one: Set) -> bool:
    """Whether a set can be true at all: none of its absences is broken by what the set itself assumes.

    An absence of a fact that was worked out before was joined with the assumption only later.
    """
    for constraint in one.values():
        if constraint[0] != "b":
            continue
        for broken in constraint[2]:
            if MARK not in broken and broken and all(one.get(key) == other for key, other in broken.items()):
                return False
    return True
