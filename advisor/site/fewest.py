"""Of very many ways to a finding, those that can be among the few that are kept of a practice at a step."""

from __future__ import annotations

from bisect import insort
from collections.abc import Callable, Iterable, Iterator
from heapq import heapify, heappop, heappush

from advisor.rulebase.forms import Form, RunVariant
from advisor.rulebase.model import FINDING_KINDS, Compute, Given, Lookup, Not, Rule
from advisor.rulebase.split import Later
from advisor.site.assume import Set, Ways, size
from advisor.site.matching import Env

MANY = 16  # matches from which on it is worth the trouble
KEPT_OF_ONE = 12  # sets of assumptions kept of one practice at one step
_SURE = 2  # what rests on fewer unknowns than this is never left out: it says what speaks, and what ends that
_PLAIN = (Not, Given, Later, Compute, Lookup)  # guards that bind no thing of the plan
Step = tuple[Env, Ways]
Place = tuple[int, ...]  # which fact of each pattern: the order in which matches are found


def few_count(way: RunVariant) -> bool:
    """Whether of the rule only the smallest few sets count: it deduces nothing, and its patterns bind its things."""
    return all(c.kind in FINDING_KINDS for c in way.rule.conclusions) and all(
        isinstance(g, _PLAIN) for g in way.variant.guards
    )


def settled(rule: Rule, forms: list[Form], env: Env) -> bool:
    """Whether the patterns that are still to be matched bind no further thing that a finding is about."""
    return not any(
        name not in env and rule.types.get(name, "").startswith("ref:") for form in forms for _, name in form.binds
    )


def fewest(
    states: list[Step],
    rule: Rule,
    forms: list[Form],
    match: Callable[[Form, Env, Ways], Iterable[Step]],
    solve: Callable[[Env, Ways], Iterator[Step]],
) -> list[Step]:
    """The matches of what is left of the patterns and guards, in order, without those that others leave behind.

    Patterns and guards only add assumptions. So once a group of matches about the same things has its few, a match
    that rests on more unknowns already can come to nothing that is kept. The smallest are followed first.
    """
    names = sorted(name for name, kind in rule.types.items() if kind.startswith("ref:"))
    waiting: list[tuple[int, Place, Env, Ways]] = [
        (size(ways[0]), (place,), env, ways) for place, (env, ways) in enumerate(states)
    ]
    heapify(waiting)
    kept: dict[tuple[object, ...], tuple[list[tuple[int, Place]], list[Set]]] = {}
    made: list[tuple[Place, int, Step]] = []
    while waiting:
        low, place, env, ways = heappop(waiting)
        places, sets = kept.setdefault(tuple([env.get(name) for name in names]), ([], []))
        if low >= _SURE and len(places) >= KEPT_OF_ONE and places[KEPT_OF_ONE - 1] < (low, place):
            continue
        if len(place) <= len(forms):
            for number, (grown, left) in enumerate(match(forms[len(place) - 1], env, ways)):
                heappush(waiting, (size(left[0]), (*place, number), grown, left))
            continue
        for one in solve(env, ways):
            made.append((place, len(made), one))
            for found in one[1]:
                if len(sets) < 4 * KEPT_OF_ONE and found not in sets:
                    sets.append(found)
                    insort(places, (size(found), place))
    made.sort(key=_place)
    return [one for _, _, one in made]


def _place(one: tuple[Place, int, Step]) -> tuple[Place, int]:
    return one[0], one[1]
