"""A matcher for experta that joins by hash index and works from the changed fact only.

It keeps experta's contract (`abstract.Matcher`): same activations as the stock one for the rules that
`network.py` builds. Facts that pass the constant tests of a pattern lie in a `Store`, shared by all patterns
with those tests. The facts of the plan come all at once: each rule is joined once, from its pattern with fewest
facts. A fact that comes later is joined outwards from each pattern it passes. Most rules never come near a
match, so all that a rule needs is made when it first does.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from msgspec import Struct

from advisor.engine.adapter import experta
from advisor.engine.bounds import MATCH, Ledger
from advisor.engine.compiled import Compiled, JoinPlan, Seed
from advisor.engine.memory import Exceeded, Record
from advisor.engine.stores import JoinStep
from advisor.plain import Plain

Match = tuple[int, ...]  # rank of the rule, then the numbers of the facts in pattern order


class OwnActivation(Struct, eq=False):
    """A match to fire, equal to itself alone: experta's own compares and hashes all its facts at every turn."""

    rule: Compiled
    context: dict[str, Any]
    key: Match
    facts: tuple[()] = ()  # experta puts their names together for its log at every firing; nobody reads it


class IndexedMatcher(experta.abstract.Matcher):  # type: ignore[misc]
    """Experta's matcher interface over the plan."""

    def __init__(self, engine: Any) -> None:
        super().__init__(engine)
        self.ledger: Ledger = engine.ledger
        self.plan = JoinPlan(engine.rulebase, self.ledger.tallies)
        self.reset()

    def reset(self) -> None:
        """Forget all facts and matches; keep the plan."""
        self.plan.clear()
        self.live: dict[Match, Any] = {}
        self.empty = True

    def changes(self, adding: Any = None, deleting: Any = None) -> tuple[list[Any], list[Any]]:
        """Activations that came and went since the last call."""
        if deleting:
            return self._start_over()
        if not adding:
            return [], []
        added: dict[Match, Any] = {}
        removed: list[Any] = []
        records = self._records(adding, added)
        if records and self.empty:
            self._take_first(records, added, removed)
        else:
            for record in records:
                self._take(record, added, removed)
        return list(added.values()), removed

    def _start_over(self) -> tuple[list[Any], list[Any]]:
        """After a retraction (which the advisor never makes): match what is left afresh and compare."""
        before = self.live
        self.reset()
        again: dict[Match, Any] = {}
        records = self._records(self.engine.facts.values(), again)
        self._take_first(records, again, [])
        for match in before.keys() & again.keys():
            self.live[match] = before[match]
        return [a for m, a in again.items() if m not in before], [a for m, a in before.items() if m not in again]

    def _records(self, facts: Iterable[Any], added: dict[Match, Any]) -> list[Record]:
        """The records behind the handles. InitialFact has none: rules that only ask for absence start with it."""
        records: list[Record] = []
        for fact in facts:
            if isinstance(fact, experta.InitialFact):
                for compiled in self.plan.always:
                    if not compiled.tally.over:
                        self._finish(compiled, [], [], added)
            else:
                records += fact.records
        return records

    def _take_first(self, records: list[Record], added: dict[Match, Any], removed: list[Any]) -> None:
        """All facts of a plan at once: each rule is joined once, not once for each fact."""
        self.empty = False
        for compiled in self.plan.fill(records):
            seed = compiled.start()
            self._seed(seed, seed.store.facts, added)
        for compiled in self.plan.always:
            for step in compiled.absent or ():
                if step.store.facts:
                    self._take_back(step.waiting.pop((), ()), added, removed)

    def _take(self, record: Record, added: dict[Match, Any], removed: list[Any]) -> None:
        values = record.values
        stores = self.plan.taking(record)
        for store in stores:  # all of them first: one fact may fill two patterns of a rule
            store.add(record)
        for store in stores:
            for compiled, number in store.blocks:
                if compiled.absent is not None:  # else the rule never matched
                    step = compiled.absent[number]
                    self._take_back(step.waiting.pop(step.key_of(values), ()), added, removed)
        lacking = self.plan.lacking
        for store in stores:
            for seed in store.seeds:
                if not lacking[seed.compiled.number]:
                    self._seed(seed, [record], added)

    def _seed(self, seed: Seed, records: list[Record], added: dict[Match, Any]) -> None:
        """Nothing for a rule that was given up; the matches it has are not fired."""
        if seed.compiled.tally.over:
            return
        if not seed.walk:
            self.plan.walk(seed)
        try:
            for record in seed.hopeful(records):
                self._join(seed, record, added)
        except Exceeded:
            return

    def _join(self, seed: Seed, record: Record, added: dict[Match, Any]) -> None:
        """Matches with this fact at the seed. One that holds the fact twice is met twice: its key makes it one."""
        compiled, walk, values = seed.compiled, seed.walk, record.values
        first = walk[0]
        env: list[Plain] = [""] * len(compiled.names)
        for attribute, slot in first.binds:
            env[slot] = values[attribute]
        for attribute, slot in first.equal:
            if values[attribute] != env[slot]:
                return
        records = [record] * len(walk)
        if len(walk) == 1:
            self._finish(compiled, env, records, added)
        else:
            self._extend(compiled, walk, 1, env, records, added)

    def _extend(
        self,
        compiled: Compiled,
        walk: tuple[JoinStep, ...],
        depth: int,
        env: list[Plain],
        records: list[Record],
        added: dict[Match, Any],
    ) -> None:
        step = walk[depth]
        position, binds, equal = step.position, step.binds, step.equal
        last = depth + 1 == len(walk)
        found = step.find(env)
        if len(found) > 1:  # a match counts for itself
            self.ledger.charge(compiled.tally, len(found))
        for record in found:
            values = record.values
            for attribute, slot in binds:
                env[slot] = values[attribute]
            if equal and any(values[a] != env[s] for a, s in equal):
                continue
            records[position] = record
            if last:
                self._finish(compiled, env, records, added)
            else:
                self._extend(compiled, walk, depth + 1, env, records, added)

    def _finish(self, compiled: Compiled, env: list[Plain], records: list[Record], added: dict[Match, Any]) -> None:
        """A full match: an activation, unless an absence is broken."""
        self.ledger.charge(compiled.tally, MATCH)
        if compiled.absent is None:
            self.plan.prepare_absent(compiled)
        keys = []
        for step in compiled.absent:  # type: ignore[union-attr]  # it was just made
            if step.find(env):
                return
            keys.append(step.key(env))
        match: Match = (compiled.rank, *[r.number for r in records])
        context = {"env": dict(zip(compiled.names, env, strict=True)), "records": tuple(records)}
        activation = OwnActivation(compiled, context, match)
        self.live[match] = added[match] = activation
        for step, key in zip(compiled.absent, keys, strict=True):  # type: ignore[arg-type]
            step.waiting.setdefault(key, []).append(match)

    def _take_back(self, matches: Iterable[Match], added: dict[Match, Any], removed: list[Any]) -> None:
        """Matches that waited for the absence of a fact that is there now."""
        for match in matches:
            activation = self.live.pop(match, None)
            if activation is not None and added.pop(match, None) is None:
                removed.append(activation)
