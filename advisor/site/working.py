"""Calculators and tables whose inputs are all known, worked out as the engine does and once for the same figures."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from advisor.engine.guards import PartialMatch, solve, workings
from advisor.engine.memory import Memory
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import Compute, Lookup
from advisor.site.assume import Key, Set, Ways, with_set
from advisor.site.cells import Open, WorkedOut
from advisor.site.matching import Env, compared


class Working:
    """What one evaluation worked out."""

    def __init__(self, cells: Mapping[Key, Open], rulebase: RuleBase) -> None:
        self._cells = cells
        self._memory = Memory(worked=workings(rulebase))  # the engine met most of the figures
        self._known: dict[Any, list[tuple[tuple[str, Any], ...]]] = {}

    def ways(
        self, guard: Compute | Lookup, env: Env, ways: Ways, read: list[Any], names: tuple[str, ...]
    ) -> Iterator[tuple[Env, Ways]]:
        """Each result with the variables that it binds; of a variable that is bound to something open, what it asks."""
        bound = tuple(env.get(n) for n in names)
        if any(type(b) is Open or type(b) is WorkedOut for b in bound):
            key_env = {n: v for n, v in env.items() if n not in names}
        else:
            key_env = env
        key = (id(guard), tuple(read), bound)
        found = self._known.get(key)
        if found is None:
            found = self._known[key] = [
                tuple((n, s.env[n]) for n in names)
                for s in solve((guard,), PartialMatch(key_env), self._memory, [], "")
            ]
        for one in found:
            need: Set = {}
            if key_env is not env:
                for name, value in one:
                    more = compared("is", env.get(name, value), (value,), self._cells)
                    need = {**need, **(more or {})}
                yield env, with_set(ways, need)
            else:
                yield {**env, **dict(one)}, ways
