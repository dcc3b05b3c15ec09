"""The steps in the author's order with `after:` applied."""

from __future__ import annotations

import heapq
from graphlib import CycleError, TopologicalSorter

from advisor.plan.model import Entity

After = dict[str, list[str]]  # a step's id to the ids that it follows
_MOST_RINGS = 20  # more would only repeat the same mistake


def follows(steps: list[Entity]) -> After:
    """What each step follows; only names of steps that exist."""
    known = {step.id for step in steps}
    found: After = {}
    for step in steps:
        after = step.values.get("after")
        names = after.plain if after and isinstance(after.plain, tuple) else (after.plain,) if after else ()
        found[step.id] = [str(name) for name in names if name in known]
    return found


def cycles(steps: list[Entity]) -> list[list[str]]:
    """Groups of steps that wait for each other; each step in one group at most, in the author's order."""
    after = follows(steps)
    found: list[list[str]] = []
    place = {step.id: number for number, step in enumerate(steps)}
    while len(found) < _MOST_RINGS:
        try:
            TopologicalSorter(after).prepare()
        except CycleError as error:
            ring = sorted(set(error.args[1]), key=place.__getitem__)
            found.append(ring)
            for step_id in ring:
                after[step_id] = []
        else:
            break
    return sorted(found, key=lambda ring: place[ring[0]])


def order_steps(steps: list[Entity]) -> list[Entity]:
    """The author's order, in which a step that stands before one it follows moves to just behind it.

    Of the steps that may come next the one that the author wrote first comes next; so nothing else moves.
    The steps must be free of cycles.
    """
    after = follows(steps)
    place = {step.id: number for number, step in enumerate(steps)}
    behind: dict[str, list[str]] = {}
    waiting = {step_id: len(set(names)) for step_id, names in after.items()}
    for step_id, names in after.items():
        for name in set(names):
            behind.setdefault(name, []).append(step_id)
    ready = [place[step_id] for step_id, count in waiting.items() if not count]
    heapq.heapify(ready)
    ordered = []
    while ready:
        step = steps[heapq.heappop(ready)]
        ordered.append(step)
        for later in behind.get(step.id, ()):
            waiting[later] -= 1
            if not waiting[later]:
                heapq.heappush(ready, place[later])
    return ordered
