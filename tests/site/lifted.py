"""Whether what was taken out of a plan had lifted an exemption, so that without it the exemption holds.

*Nobody locks a breaker for what is only unplugged, unless wires are touched too*: take the step at the wires out, and
what the plan still says answers the finding. That is read from the conditions of the rules and from both runs: a
`not` that stops the finding now was itself stopped before, by something of what was taken out.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from deletions import Deletion

from advisor.engine.guards import PartialMatch, solve
from advisor.engine.memory import Derivation, Env, Memory, Record
from advisor.rulebase.model import Not
from advisor.rulebase.split import Variant, flatten

_DEPTH = 8
_PLACE = "place"  # where a step stands in the plan: another number once one before it is gone


def lifted(finding: Any, gone: Deletion, before: Memory, after: Memory) -> bool:
    """Whether the finding went because of an exemption that only the step or thing taken out had lifted."""
    if gone.attribute:
        return False
    return _Reading(gone.thing, before, after).lost(finding.why, 0)


@dataclass
class _Reading:
    thing: str
    before: Memory
    after: Memory

    def lost(self, why: Derivation, depth: int) -> bool:
        """Whether the match of a rule is no more, for an exemption alone."""
        if depth > _DEPTH:
            return False
        gone = [r for r in (*(record for _, record in why.support), *why.collected) if not _there(r, self.after)]
        if any(not r.derivations or not all(self.lost(one, depth + 1) for one in r.derivations) for r in gone):
            return False
        return bool(gone) or any(self._exempt(inside, why.env, depth) for inside in _absences(why))

    def _exempt(self, inside: tuple[Any, ...], env: Env, depth: int) -> bool:
        """Whether that which must not be there is there now, and was kept away before by what was taken out."""
        for conditions in flatten(inside):
            for state in solve(conditions, PartialMatch(env), self.after, [], ""):
                new = [record for _, record in state.support if not _there(record, self.before)]
                if any(record.derivations and self._held_back(record, depth) for record in new):
                    return True
            plain = [one for one in conditions if not isinstance(one, Not)]
            nested = [one for one in conditions if isinstance(one, Not)]
            for state in solve(plain, PartialMatch(env), self.before, [], "") if nested else ():
                if any(self._stopped(one.inside, state.env) for one in nested):
                    return True
        return False

    def _held_back(self, record: Record, depth: int) -> bool:
        """Whether a fact that was not there before had been stopped by what was taken out."""
        for why in record.derivations if depth < _DEPTH else ():
            if any(self._stopped(inside, why.env) for inside in _absences(why)):
                return True
            for _, one in why.support:
                if one.derivations and not _there(one, self.before) and self._held_back(one, depth + 1):
                    return True
        return False

    def _stopped(self, inside: tuple[Any, ...], env: Env) -> bool:
        """Whether something of what was taken out stood where a rule asks for an absence."""
        return any(
            _of(self.thing, record)
            for state in solve(inside, PartialMatch(env), self.before, [], "")
            for _, record in state.support
        )


def _absences(why: Derivation) -> Iterator[tuple[Any, ...]]:
    """What must not be there for the rule to hold of the match."""
    variant = why.variant
    assert isinstance(variant, Variant)
    yield from ((pattern,) for pattern in variant.absent)
    yield from (guard.inside for guard in variant.guards if isinstance(guard, Not))


def _there(record: Record, memory: Memory) -> bool:
    values = {name: value for name, value in record.values.items() if name != _PLACE}
    return any(
        values == {name: value for name, value in one.values.items() if name != _PLACE}
        for one in memory.by_kind.get(record.kind, ())
    )


def _of(thing: str, record: Record) -> bool:
    """Whether a fact is of the thing, or was deduced from one of it."""
    seen: set[int] = set()
    queue = [record]
    while queue:
        one = queue.pop()
        if one.number in seen:
            continue
        seen.add(one.number)
        if thing in one.values.values():
            return True
        for why in one.derivations:
            queue += [r for _, r in why.support] + list(why.collected)
    return False
