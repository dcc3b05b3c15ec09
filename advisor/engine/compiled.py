"""What the indexed matcher knows of the rules: which facts go to which store, and the joins of each rule."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

from msgspec import Struct

from advisor.engine.bounds import Tally
from advisor.engine.memory import Record
from advisor.engine.stores import FactStore, JoinStep, Values, sorting_test
from advisor.plain import Plain
from advisor.rulebase.model import Pattern
from advisor.rulebase.split import Variant


class Seed(Struct, eq=False):
    """A pattern of a rule at which a new fact may complete a match, with the joins outwards from it."""

    compiled: Compiled
    position: int
    store: FactStore
    walk: tuple[JoinStep, ...] = ()  # made when every other pattern of the rule has a fact
    rows: dict[Any, list[Record]] | None = None  # where the first join looks, if one attribute of the fact is its key
    probe: str = ""  # that attribute

    def hopeful(self, records: list[Record]) -> list[Record]:
        """Those of the facts for which the first join finds something."""
        rows, probe = self.rows, self.probe
        if rows is None:
            return records
        if self.walk[1].store.stale:
            self.walk[1].store.refresh()
        return [r for r in records if r.values[probe] in rows]


class Compiled:
    """A variant with its slots of variables; the joins from each seed and its absences come on demand."""

    __slots__ = ("_make", "_rule", "absent", "lacking", "names", "rank", "seeds", "tally", "variant")

    def __init__(self, variant: Variant, rank: int, make: Callable[[Variant], Any], tally: Tally) -> None:
        self.variant, self.rank, self._make, self.tally = variant, rank, make, tally
        self._rule: Any = None
        self.names: tuple[str, ...] = ()
        self.seeds: list[Seed | None] = [None] * len(variant.patterns)  # None: no fact came near it
        self.lacking = len(variant.patterns)  # how many patterns have no fact
        self.absent: tuple[JoinStep, ...] | None = None

    def start(self) -> Seed:
        """Where to start when every pattern has a fact and no match is known: at the one with fewest facts."""
        return min(self.seeds, key=_facts)  # type: ignore[return-value, arg-type]  # none is None

    @property
    def rule(self) -> Any:
        """The experta rule to fire."""
        if self._rule is None:
            self._rule = self._make(self.variant)
        return self._rule

    def name(self) -> None:
        """Number the variables."""
        patterns = self.variant.patterns
        self.names = tuple(dict.fromkeys(t.values[0].name for p in patterns for t in p.tests if t.op == "bind"))  # type: ignore[union-attr]


class _Bucket:
    """Patterns that a fact with one value may fit; they become stores when the first such fact comes."""

    __slots__ = ("stores", "waiting")

    def __init__(self) -> None:
        self.waiting: list[tuple[Compiled, int, bool]] = []
        self.stores: list[FactStore] = []


class JoinPlan:
    """Everything that depends on the rules alone, made as far as facts have asked for it."""

    def __init__(
        self, prepared: Iterable[tuple[Variant, int, Callable[[Variant], Any]]], tallies: Mapping[str, Tally]
    ) -> None:
        self._stores: dict[tuple[Any, ...], FactStore] = {}
        self._absent: list[JoinStep] = []
        self._plain: dict[str, _Bucket] = {}
        self._keyed: dict[str, dict[str, dict[Plain, _Bucket]]] = {}
        self.always: list[Compiled] = []
        for variant, rank, make in prepared:
            compiled = Compiled(variant, rank, make, tallies[variant.rule.id])
            if not variant.patterns:
                self.always.append(compiled)
            for number, pattern in enumerate(variant.patterns):
                self._await(pattern, (compiled, number, False))
            for number, pattern in enumerate(variant.absent):
                self._await(pattern, (compiled, number, True))

    def _await(self, pattern: Pattern, place: tuple[Compiled, int, bool]) -> None:
        best = sorting_test(pattern)
        if best is None:
            bucket = self._plain.get(pattern.kind)
            if bucket is None:
                bucket = self._plain[pattern.kind] = _Bucket()
            bucket.waiting.append(place)
            return
        rows = self._keyed.setdefault(pattern.kind, {}).setdefault(best.attribute, {})
        for value in best.values:
            bucket = rows.get(value)
            if bucket is None:
                bucket = rows[value] = _Bucket()
            bucket.waiting.append(place)

    def stores_of(self, kind: str, values: Values) -> Iterator[FactStore]:
        """The stores that may take a fact, those that it is the first to need made now."""
        plain = self._plain.get(kind)
        if plain is not None:
            yield from self._stores_in(plain)
        for attribute, rows in self._keyed.get(kind, _NO_ROWS).items():
            bucket = rows.get(values.get(attribute, ""))
            if bucket is not None:
                yield from self._stores_in(bucket)

    def fill(self, records: Iterable[Record]) -> list[Compiled]:
        """Take the first facts of a run all at once; the rules that then have a fact for every pattern."""
        ready: list[Compiled] = []
        kinds: dict[str, list[Record]] = {}
        for record in records:
            kinds.setdefault(record.kind, []).append(record)
        for kind, group in kinds.items():
            if kind in self._plain:
                self._fill(self._plain[kind], group, ready)
            for attribute, rows in self._keyed.get(kind, _NO_ROWS).items():
                parts: dict[Plain, list[Record]] = {}
                for record in group:
                    parts.setdefault(record.values.get(attribute, ""), []).append(record)
                for value, part in parts.items():
                    if value in rows:
                        self._fill(rows[value], part, ready)
        return ready

    def _fill(self, bucket: _Bucket, records: list[Record], ready: list[Compiled]) -> None:
        for store in self._stores_in(bucket):
            store.fill(records, ready)

    def _stores_in(self, bucket: _Bucket) -> list[FactStore]:
        if bucket.waiting:
            self._make(bucket)
        return bucket.stores

    def _make(self, bucket: _Bucket) -> None:
        stores = dict.fromkeys(bucket.stores)
        for compiled, number, absent in bucket.waiting:
            if absent:
                store = self._store(compiled.variant.absent[number])
                if (compiled, number) not in store.blocks:  # another bucket may have brought it
                    store.blocks.append((compiled, number))
            else:
                store = self._store(compiled.variant.patterns[number])
                if compiled.seeds[number] is None:
                    compiled.seeds[number] = seed = Seed(compiled, number, store)
                    store.seeds.append(seed)
            stores[store] = None
        bucket.stores = list(stores)
        bucket.waiting.clear()

    def _store(self, pattern: Pattern) -> FactStore:
        key = (pattern.kind, *[t if t.op != "bind" else ("bind", t.attribute) for t in pattern.tests])
        store = self._stores.get(key)
        if store is None:
            store = self._stores[key] = FactStore(pattern)
        return store

    def clear(self) -> None:
        """Forget all facts."""
        for store in self._stores.values():
            store.clear()
        for step in self._absent:
            step.waiting.clear()

    def walk(self, seed: Seed) -> tuple[JoinStep, ...]:
        """The joins outwards from one pattern: always the pattern next with most variables bound already."""
        compiled = seed.compiled
        if not compiled.names:
            compiled.name()
        seed.walk = tuple(self._walk(compiled, seed.position))
        if len(seed.walk) > 1 and len(seed.walk[1].slots) == 1:
            slot = seed.walk[1].slots[0]
            seed.rows, seed.probe = seed.walk[1].rows, next(a for a, s in seed.walk[0].binds if s == slot)
        return seed.walk

    def _walk(self, compiled: Compiled, seed: int) -> Iterator[JoinStep]:
        slots = {name: slot for slot, name in enumerate(compiled.names)}
        patterns = compiled.variant.patterns
        bound: set[str] = set()
        left = list(range(len(patterns)))
        chosen = seed
        while True:
            left.remove(chosen)
            yield self._step(chosen, patterns[chosen], slots, bound)
            bound |= _variables(patterns[chosen])
            if not left:
                return
            chosen = max(left, key=lambda n: (len(_variables(patterns[n]) & bound), -n))

    def prepare_absent(self, compiled: Compiled) -> None:
        """Make the look-ups of a rule's absences."""
        slots = {name: slot for slot, name in enumerate(compiled.names)}
        bound = set(compiled.names)
        made = [self._step(n, p, slots, bound) for n, p in enumerate(compiled.variant.absent)]
        compiled.absent = tuple(made)
        self._absent += made

    def _step(self, number: int, pattern: Pattern, slots: dict[str, int], bound: set[str]) -> JoinStep:
        store = self._store(pattern)
        cells = [(t.attribute, t.values[0].name) for t in pattern.tests if t.op == "bind"]  # type: ignore[union-attr]
        joined = [(a, n) for a, n in cells if n in bound]
        fresh: dict[str, str] = {}
        equal: list[tuple[str, int]] = []
        for attribute, name in cells:
            if name in bound or name not in slots:
                continue  # a variable of an absence's own stands for anything
            if name in fresh:
                equal.append((attribute, slots[name]))
            else:
                fresh[name] = attribute
        names = tuple(a for a, _ in joined)
        rows = store.index(names) if names else None
        binds = tuple((a, slots[n]) for n, a in fresh.items())
        return JoinStep(number, store, rows, names, tuple(slots[n] for _, n in joined), binds, tuple(equal))


_NO_ROWS: dict[str, dict[Plain, _Bucket]] = {}


def _facts(seed: Seed) -> int:
    return len(seed.store.facts)


def _variables(pattern: Pattern) -> set[str]:
    return {t.values[0].name for t in pattern.tests if t.op == "bind"}  # type: ignore[union-attr]
