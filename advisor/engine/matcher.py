"""A matcher for experta that joins by hash index and works from the changed fact only.

It keeps experta's contract (`abstract.Matcher`): same activations as the stock one for the rules that
`network.py` builds. The compiled plan belongs to the engine class, so another engine of it costs nothing.
Facts that pass the constant tests of a pattern lie in a `_Store`, shared by all patterns with those tests;
a new fact is joined outwards from each pattern it passes, so a match is met when its last fact arrives.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from advisor.engine.adapter import experta
from advisor.engine.memory import passes
from advisor.plan.model import Plain
from advisor.rulebase.model import Pattern, Test
from advisor.rulebase.split import Variant

Key = tuple[Plain, ...]
Match = tuple[int, ...]  # fact ids in pattern order


@dataclass(slots=True, eq=False)
class _Store:
    """Facts of one kind that pass certain tests, with an index for each set of attributes joined on."""

    kind: str
    tests: tuple[Test, ...]
    missing: frozenset[str]
    needs: tuple[str, ...]  # attributes that must be there to be bound
    facts: list[Any] = field(default_factory=list)
    indexes: dict[tuple[str, ...], dict[Key, list[Any]]] = field(default_factory=dict)
    seeds: list[tuple[_Compiled, int]] = field(default_factory=list)  # patterns it feeds
    blocks: list[tuple[_Compiled, int]] = field(default_factory=list)  # absences it feeds

    def takes(self, fact: Any, unknown: str) -> bool:
        """Whether the fact passes the store's tests."""
        for name in self.needs:
            if name not in fact:
                return False
        for test in self.tests:
            if test.attribute not in fact or not passes(test, fact[test.attribute], {}):
                return False
        return not self.missing or self.missing <= set(fact.get(unknown, ()))

    def add(self, fact: Any) -> None:
        """Keep the fact and enter it in every index."""
        self.facts.append(fact)
        for names, rows in self.indexes.items():
            rows.setdefault(tuple(fact[n] for n in names), []).append(fact)

    def index(self, names: tuple[str, ...]) -> dict[Key, list[Any]]:
        """The index over these attributes, made over the facts that are there."""
        rows = self.indexes.get(names)
        if rows is None:
            rows = self.indexes[names] = {}
            for fact in self.facts:
                rows.setdefault(tuple(fact[n] for n in names), []).append(fact)
        return rows

    def clear(self) -> None:
        """Forget all facts."""
        self.facts.clear()
        for rows in self.indexes.values():
            rows.clear()


@dataclass(frozen=True, slots=True)
class _Step:
    """One join: look up `names` with the values at `slots`; bind the rest; compare what is bound twice."""

    position: int
    store: _Store
    rows: dict[Key, list[Any]] | None
    slots: tuple[int, ...]
    binds: tuple[tuple[str, int], ...]
    equal: tuple[tuple[str, int], ...]


@dataclass(slots=True, eq=False)
class _Compiled:
    """A variant with its slots of variables, the joins from each seed, and its absences."""

    rule: Any
    variant: Variant
    names: tuple[str, ...]
    walks: list[tuple[_Step, ...] | None]  # made when the first fact arrives at the seed
    absent: list[_Step] = field(default_factory=list)


class _Plan:
    """Everything that depends on the rules alone."""

    def __init__(self, rules: list[Any], unknown: str) -> None:
        self.unknown = unknown
        self.stores: dict[tuple[Any, ...], _Store] = {}
        self.compiled = [self._compile(rule) for rule in rules if hasattr(rule, "variant")]
        self.always = [c for c in self.compiled if not c.variant.patterns]
        self.dispatch: dict[str, tuple[list[_Store], dict[str, dict[Plain, list[_Store]]]]] = {}
        for store in self.stores.values():
            plain, keyed = self.dispatch.setdefault(store.kind, ([], {}))
            test = next((t for t in store.tests if t.op in ("is", "in") and not t.many and _words(t)), None)
            if test is None:
                plain.append(store)
                continue
            for value in test.values:
                keyed.setdefault(test.attribute, {}).setdefault(value, []).append(store)

    def stores_of(self, kind: str, fact: Any) -> Iterator[_Store]:
        """The stores that may take the fact."""
        plain, keyed = self.dispatch.get(kind, ((), {}))
        yield from plain
        for attribute, rows in keyed.items():
            if attribute in fact:
                yield from rows.get(fact[attribute], ())

    def _store(self, pattern: Pattern) -> _Store:
        tests = tuple(t for t in pattern.tests if t.op not in ("bind", "unknown"))
        missing = frozenset(t.attribute for t in pattern.tests if t.op == "unknown")
        needs = tuple(sorted({t.attribute for t in pattern.tests if t.op == "bind"}))
        key = (pattern.kind, tests, missing, needs)
        return self.stores.setdefault(key, _Store(pattern.kind, tests, missing, needs))

    def _compile(self, rule: Any) -> _Compiled:
        variant: Variant = rule.variant
        names = tuple(dict.fromkeys(t.values[0].name for p in variant.patterns for t in p.tests if t.op == "bind"))  # type: ignore[union-attr]
        compiled = _Compiled(rule.new_conditions(*rule), variant, names, [None] * len(variant.patterns))
        slots = {name: slot for slot, name in enumerate(names)}
        for seed, pattern in enumerate(variant.patterns):
            self._store(pattern).seeds.append((compiled, seed))
        for number, pattern in enumerate(variant.absent):
            bound = set(names)
            compiled.absent.append(self._step(number, pattern, slots, bound))
            self._store(pattern).blocks.append((compiled, number))
        return compiled

    def walk(self, compiled: _Compiled, seed: int) -> tuple[_Step, ...]:
        """The joins outwards from one pattern; most rules never need theirs, so they are made on demand."""
        made = compiled.walks[seed]
        if made is None:
            slots = {name: slot for slot, name in enumerate(compiled.names)}
            made = compiled.walks[seed] = tuple(self._walk(compiled.variant.patterns, seed, slots))
        return made

    def _walk(self, patterns: tuple[Pattern, ...], seed: int, slots: dict[str, int]) -> Iterator[_Step]:
        """The seed first, then always the pattern with most variables bound already."""
        bound: set[str] = set()
        left = list(range(len(patterns)))
        chosen = seed
        while True:
            left.remove(chosen)
            yield self._step(chosen, patterns[chosen], slots, bound, seed=chosen == seed and not bound)
            bound |= _variables(patterns[chosen])
            if not left:
                return
            chosen = max(left, key=lambda n: (len(_variables(patterns[n]) & bound), -n))

    def _step(self, number: int, pattern: Pattern, slots: dict[str, int], bound: set[str], seed: bool = False) -> _Step:
        store = self._store(pattern)
        cells = [(t.attribute, t.values[0].name) for t in pattern.tests if t.op == "bind"]  # type: ignore[union-attr]
        joined = [(a, n) for a, n in cells if n in bound and n in slots]
        fresh: dict[str, str] = {}
        equal: list[tuple[str, int]] = []
        for attribute, name in cells:
            if name in bound or name not in slots:
                continue
            if name in fresh:
                equal.append((attribute, slots[name]))
            else:
                fresh[name] = attribute
        names = tuple(a for a, _ in joined)
        rows = None if seed or not names else store.index(names)
        return _Step(
            number,
            store,
            rows,
            tuple(slots[n] for _, n in joined),
            tuple((a, slots[n]) for n, a in fresh.items()),
            tuple(equal),
        )


def _variables(pattern: Pattern) -> set[str]:
    return {t.values[0].name for t in pattern.tests if t.op == "bind"}  # type: ignore[union-attr]


def _words(test: Test) -> bool:
    return all(isinstance(value, str) for value in test.values)


class IndexedMatcher(experta.abstract.Matcher):  # type: ignore[misc]
    """Experta's matcher interface over the plan."""

    def __init__(self, engine: Any) -> None:
        super().__init__(engine)
        self.plan = _Plan(engine.get_rules(), engine.unknown)
        self.kinds: dict[type, str] = engine.kind_names
        self.reset()

    def reset(self) -> None:
        """Forget all facts and matches; keep the plan."""
        for store in self.plan.stores.values():
            store.clear()
        self.live: dict[int, dict[Match, Any]] = {id(c): {} for c in self.plan.compiled}
        self.waiting: dict[tuple[int, int], dict[Key, set[Match]]] = {}
        self.started = False

    def changes(self, adding: Any = None, deleting: Any = None) -> tuple[list[Any], list[Any]]:
        """Activations that came and went since the last call."""
        added: dict[tuple[int, Match], Any] = {}
        removed: list[Any] = []
        if deleting:
            return self._start_over()
        for fact in adding or ():
            self._take(fact, added, removed)
        return list(added.values()), removed

    def _start_over(self) -> tuple[list[Any], list[Any]]:
        """After a retraction (which the advisor never makes): match what is left afresh and compare."""
        before = {(c, m): a for c, matches in self.live.items() for m, a in matches.items()}
        self.reset()
        again: dict[tuple[int, Match], Any] = {}
        for fact in self.engine.facts.values():
            self._take(fact, again, [])
        for key in set(before) & set(again):
            self.live[key[0]][key[1]] = before[key]
        return [a for k, a in again.items() if k not in before], [a for k, a in before.items() if k not in again]

    def _take(self, fact: Any, added: dict[tuple[int, Match], Any], removed: list[Any]) -> None:
        kind = self.kinds.get(type(fact))
        if kind is None:  # InitialFact: rules that only ask for absence start with it
            if not self.started:
                self.started = True
                for compiled in self.plan.always:
                    self._finish(compiled, [], [], added)
            return
        stores = [s for s in self.plan.stores_of(kind, fact) if s.takes(fact, self.plan.unknown)]
        for store in stores:
            store.add(fact)
        for store in stores:
            for compiled, number in store.blocks:
                self._block(compiled, number, fact, added, removed)
        for store in stores:
            for compiled, seed in store.seeds:
                self._join(compiled, seed, fact, added)

    def _join(self, compiled: _Compiled, seed: int, fact: Any, added: dict[tuple[int, Match], Any]) -> None:
        walk = self.plan.walk(compiled, seed)
        env: list[Plain] = [""] * len(compiled.names)
        facts: list[Any] = [None] * len(compiled.variant.patterns)
        first = walk[0]
        for attribute, slot in first.binds:
            env[slot] = fact[attribute]
        for attribute, slot in first.equal:
            if fact[attribute] != env[slot]:
                return
        facts[seed] = fact
        self._extend(compiled, walk, 1, env, facts, added)

    def _extend(
        self,
        compiled: _Compiled,
        walk: tuple[_Step, ...],
        depth: int,
        env: list[Plain],
        facts: list[Any],
        added: dict[tuple[int, Match], Any],
    ) -> None:
        if depth == len(walk):
            self._finish(compiled, env, facts, added)
            return
        step = walk[depth]
        found = step.store.facts if step.rows is None else step.rows.get(tuple(env[s] for s in step.slots), ())
        for fact in found:
            for attribute, slot in step.binds:
                env[slot] = fact[attribute]
            if step.equal and any(fact[a] != env[s] for a, s in step.equal):
                continue
            facts[step.position] = fact
            self._extend(compiled, walk, depth + 1, env, facts, added)

    def _finish(
        self, compiled: _Compiled, env: list[Plain], facts: list[Any], added: dict[tuple[int, Match], Any]
    ) -> None:
        """A full match: an activation, unless it stands already or an absence is broken."""
        match: Match = tuple(f.__factid__ for f in facts)
        live = self.live[id(compiled)]
        if match in live:
            return
        keys = []
        for step in compiled.absent:
            key = tuple(env[s] for s in step.slots)
            if step.store.facts if step.rows is None else step.rows.get(key):
                return
            keys.append(key)
        context = {f"v {name}": value for name, value in zip(compiled.names, env, strict=True)}
        context.update((f"f{n}", fact) for n, fact in enumerate(facts))
        activation = experta.activation.Activation(compiled.rule, facts, context)
        live[match] = activation
        added[id(compiled), match] = activation
        for number, key in enumerate(keys):
            self.waiting.setdefault((id(compiled), number), {}).setdefault(key, set()).add(match)

    def _block(
        self,
        compiled: _Compiled,
        number: int,
        fact: Any,
        added: dict[tuple[int, Match], Any],
        removed: list[Any],
    ) -> None:
        """Take back the activations that waited for this fact to be absent."""
        step = compiled.absent[number]
        rows = self.waiting.get((id(compiled), number))
        if not rows:
            return
        names = next((n for n, r in step.store.indexes.items() if r is step.rows), ())
        live = self.live[id(compiled)]
        for match in sorted(rows.pop(tuple(fact[n] for n in names), ())):
            activation = live.pop(match, None)
            if activation is not None and added.pop((id(compiled), match), None) is None:
                removed.append(activation)
