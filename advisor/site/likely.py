"""How usual an answer is, from 0 to 1, as far as `rules/site/usual.yaml` tells."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.plan.model import Plan
from advisor.site.assume import MISSING, Constraint, Key, Ways, words
from advisor.site.cells import Open
from advisor.site.things import asked_of
from advisor.site.usual import Usual

RARE = 0.1  # below it hardly anyone would say so of such a thing


def share(key: Key, constraint: Constraint, cell: Open | None, usual: Usual) -> float:
    """How usual an answer is that meets the constraint, from 0 to 1."""
    tag = constraint[0]
    if key == MISSING:
        return 0.7
    if tag == "a":
        return 0.6
    known = usual.often.get((key[0], key[2]), {})
    if tag == "w":
        if cell is None or not cell.allowed:
            return 0.5
        named = [known[w] for w in constraint[2] if w in known]
        if named:
            return max(named)
        part = len(constraint[2]) / len(cell.allowed)
        return 0.5 if len(cell.allowed) == 2 else 0.2 + 0.6 * part
    if tag == "l" and cell is not None and cell.several:
        sets = [*constraint[2]] or [cell.allowed - constraint[3]]
        return min(share(key, words(one), cell, usual) for one in sets)
    if tag == "l":
        found = [_member(one, cell, known) for one in constraint[2]]
        return min(found) if found else 0.35  # anything but: which of them it is says nobody
    usually = usual.ranges.get((key[0], key[2]))
    if usually is not None and (constraint[2] >= usually[1] or constraint[3] <= usually[0]):
        return 0.03
    return 0.4


def rare(ways: Ways, cells: Mapping[Key, Open], plan: Plan, usual: Usual) -> bool:
    """Whether each of the ways needs an answer that hardly anyone would give of such a thing."""
    return all(
        any(
            share(key, constraint, cells.get(key), usual) * usual.seldom(plan, *asked_of(key)) < RARE
            for key, constraint in one.items()
            if not constraint[1] and key != MISSING
        )
        for one in ways
    )


def _member(wanted: frozenset[str], cell: Open | None, known: Mapping[str, float]) -> float:
    """How usual it is that one of these is in a list."""
    named = [known[w] for w in wanted if w in known]
    if named:
        return max(named)
    return 0.1 + 0.5 * len(wanted) / max(len(cell.allowed), 1) if cell is not None and cell.allowed else 0.3
