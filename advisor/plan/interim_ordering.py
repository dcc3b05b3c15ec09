"""The author's order of steps with `after:` applied."""

from __future__ import annotations

from advisor.errors import Problem
from advisor.plan.model import Entity


def followed(step: Entity) -> tuple[str, ...]:
    """The steps that a step says it follows."""
    after = step.values.get("after")
    return tuple(str(name) for name in after.plain) if after and isinstance(after.plain, tuple) else ()


def in_order(steps: list[Entity], file: str) -> tuple[list[Entity], list[Problem]]:
    """The steps, each just behind what it follows and otherwise as written; a problem for each cycle."""
    known = {step.id: step for step in steps}
    done: list[Entity] = []
    placed: set[str] = set()
    waiting = list(steps)
    while waiting:
        # The first that can go: an author who wrote no `after` keeps the written order.
        ready = next((s for s in waiting if all(a in placed or a not in known for a in followed(s))), None)
        if ready is None:
            return steps, [_cycle(waiting, file)]
        waiting.remove(ready)
        done.append(ready)
        placed.add(ready.id)
    return done, []


def _cycle(waiting: list[Entity], file: str) -> Problem:
    """Name the members of one cycle, from its first step in the file."""
    stuck = {step.id: step for step in waiting}
    path: list[str] = []
    here = waiting[0].id
    while here not in path:
        path.append(here)
        here = next(a for a in followed(stuck[here]) if a in stuck)
    members = path[path.index(here) :]
    first = min(members, key=lambda m: stuck[m].line)
    turn = members.index(first)
    ring = [*members[turn:], *members[:turn], first]
    text = " follows ".join(f"'{m}'" for m in ring)
    return Problem(file, stuck[first].line, 0, f"steps wait for each other in a circle: {text}. Remove one 'after'.")
