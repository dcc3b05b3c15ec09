"""Of very many ways to a finding, those that can be among the few that are kept of a practice at a step."""

from __future__ import annotations

from bisect import insort
from collections.abc import Callable, Iterable

from advisor.rulebase.model import FINDING_KINDS, Compute, Given, Lookup, Not, Rule
from advisor.rulebase.split import Later
from advisor.site.assume import Set, Ways, size
from advisor.site.matching import Env
from advisor.site.rules import Way

MANY = 64  # matches from which on it is worth the trouble
KEPT_OF_ONE = 12  # sets of assumptions kept of one practice at one step
_SURE = 2  # what rests on fewer unknowns than this is never left out: it says what speaks, and what ends that
_PLAIN = (Not, Given, Later, Compute, Lookup)  # guards that bind no thing of the plan
Step = tuple[Env, Ways]


def few_count(way: Way) -> bool:
    """Whether of the rule only the smallest few sets count: it deduces nothing, and its patterns bind its things."""
    return all(c.kind in FINDING_KINDS for c in way.rule.conclusions) and all(isinstance(g, _PLAIN) for g in way.guards)


def fewest(states: list[Step], rule: Rule, solve: Callable[[Env, Ways], Iterable[Step]]) -> list[Step]:
    """The matches that satisfy the guards, in order, without those that others about the same things leave behind.

    Guards only add assumptions. So once a group of matches about the same things has its few, a match that rests on
    more unknowns before its guards are looked at can come to nothing that is kept.
    """
    names = sorted(name for name, kind in rule.types.items() if kind.startswith("ref:"))
    least = sorted((min(map(size, ways)), place) for place, (_, ways) in enumerate(states))
    kept: dict[tuple[object, ...], tuple[list[tuple[int, int]], list[Set]]] = {}
    made: list[tuple[int, Step]] = []
    for low, place in least:
        env, ways = states[place]
        places, sets = kept.setdefault(tuple([env.get(name) for name in names]), ([], []))
        if low >= _SURE and len(places) >= KEPT_OF_ONE and places[KEPT_OF_ONE - 1] < (low, place):
            continue
        for one in solve(env, ways):
            made.append((place, one))
            for found in one[1]:
                if len(sets) < 4 * KEPT_OF_ONE and found not in sets:
                    sets.append(found)
                    insort(places, (size(found), place))
    made.sort(key=_place)
    return [one for _, one in made]


def _place(one: tuple[int, Step]) -> int:
    return one[0]
