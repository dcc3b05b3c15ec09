"""What the indexed matcher knows of the rules: stores of facts, their indexes, and the joins of each rule."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

from advisor.engine.memory import Record, passes
from advisor.plan.model import Plain
from advisor.rulebase.model import Pattern, Test
from advisor.rulebase.split import Variant

Values = dict[str, Plain]
_NONE: list[Record] = []


class Store:
    """Facts of one kind that pass certain tests, with an index for each set of attributes joined on."""

    __slots__ = ("_indexes", "_needs", "_tests", "_unknown", "_words", "blocks", "facts", "kind", "seeds")

    def __init__(self, pattern: Pattern) -> None:
        self.kind = pattern.kind
        self._unknown = tuple(t.attribute for t in pattern.tests if t.op == "unknown")
        self._needs = tuple(dict.fromkeys(t.attribute for t in pattern.tests if t.op in ("bind", "known")))
        checks = [t for t in pattern.tests if t.op not in ("bind", "unknown", "known")]
        self._words = tuple((t.attribute, frozenset(t.values)) for t in checks if _is_words(t))
        self._tests = tuple(t for t in checks if not _is_words(t))
        self.facts: list[Record] = []
        self._indexes: dict[tuple[str, ...], dict[Any, list[Record]]] = {}
        self.seeds: list[tuple[Compiled, int]] = []  # patterns it feeds
        self.blocks: list[tuple[Compiled, int]] = []  # absences it feeds

    def takes(self, values: Values) -> bool:
        """Whether a fact with these values passes the store's tests."""
        for attribute, words in self._words:
            if values.get(attribute) not in words:
                return False
        for name in self._needs:
            if name not in values:
                return False
        for name in self._unknown:
            if name in values:
                return False
        for test in self._tests:
            if test.attribute not in values or not passes(test, values[test.attribute], {}):
                return False
        return True

    def add(self, record: Record) -> None:
        """Keep the fact and enter it in every index."""
        self.facts.append(record)
        for names, rows in self._indexes.items():
            rows.setdefault(_key(names, record.values), []).append(record)

    def index(self, names: tuple[str, ...]) -> dict[Any, list[Record]]:
        """The index over these attributes, made over the facts that are there."""
        rows = self._indexes.get(names)
        if rows is None:
            rows = self._indexes[names] = {}
            for record in self.facts:
                rows.setdefault(_key(names, record.values), []).append(record)
        return rows

    def clear(self) -> None:
        """Forget all facts."""
        self.facts.clear()
        for rows in self._indexes.values():
            rows.clear()


@dataclass(slots=True, eq=False)
class Step:
    """One join: look up `names` with the values at `slots`; bind the rest; compare what is bound twice."""

    position: int
    store: Store
    rows: dict[Any, list[Record]] | None  # None: every fact of the store
    names: tuple[str, ...]
    slots: tuple[int, ...]
    binds: tuple[tuple[str, int], ...]
    equal: tuple[tuple[str, int], ...]
    waiting: dict[Any, list[tuple[int, ...]]] = field(default_factory=dict)  # of an absence: matches by key

    def find(self, env: Sequence[Plain]) -> list[Record]:
        """The facts that fit the variables bound so far."""
        if self.rows is None:
            return self.store.facts
        return self.rows.get(self.key(env), _NONE)

    def key(self, env: Sequence[Plain]) -> Any:
        """What the index is asked for."""
        slots = self.slots
        return env[slots[0]] if len(slots) == 1 else tuple([env[s] for s in slots])

    def key_of(self, values: Values) -> Any:
        """Under which key a fact with these values stands."""
        return _key(self.names, values)


def _key(names: tuple[str, ...], values: Values) -> Any:
    return values[names[0]] if len(names) == 1 else tuple([values[n] for n in names])


class Compiled:
    """A variant with its slots of variables; the joins from each seed and its absences come on demand."""

    __slots__ = ("_make", "_rule", "absent", "names", "rank", "stores", "variant", "walks")

    def __init__(self, variant: Variant, rank: int, make: Callable[[Variant], Any]) -> None:
        self.variant, self.rank, self._make = variant, rank, make
        self._rule: Any = None
        self.names: tuple[str, ...] = ()
        self.stores: list[Store | None] = [None] * len(variant.patterns)  # None: no fact came near it
        self.walks: list[tuple[Step, ...] | None] = [None] * len(variant.patterns)
        self.absent: tuple[Step, ...] | None = None

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
        self.stores: list[Store] = []


class Plan:
    """Everything that depends on the rules alone, made as far as facts have asked for it."""

    def __init__(self, prepared: Iterable[tuple[Variant, int, Callable[[Variant], Any]]]) -> None:
        self._stores: dict[tuple[Any, ...], Store] = {}
        self._absent: list[Step] = []
        self._plain: dict[str, _Bucket] = {}
        self._keyed: dict[str, dict[str, dict[Plain, _Bucket]]] = {}
        self.always: list[Compiled] = []
        for variant, rank, make in prepared:
            compiled = Compiled(variant, rank, make)
            if not variant.patterns:
                self.always.append(compiled)
            for number, pattern in enumerate(variant.patterns):
                self._await(pattern, (compiled, number, False))
            for number, pattern in enumerate(variant.absent):
                self._await(pattern, (compiled, number, True))

    def _await(self, pattern: Pattern, place: tuple[Compiled, int, bool]) -> None:
        best: Test | None = None
        for test in pattern.tests:
            if _is_words(test) and (best is None or len(test.values) < len(best.values)):
                best = test
        if best is None:
            self._plain.setdefault(pattern.kind, _Bucket()).waiting.append(place)
            return
        rows = self._keyed.setdefault(pattern.kind, {}).setdefault(best.attribute, {})
        for value in best.values:
            bucket = rows.get(value)
            if bucket is None:
                bucket = rows[value] = _Bucket()
            bucket.waiting.append(place)

    def stores_of(self, kind: str, values: Values) -> Iterator[Store]:
        """The stores that may take a fact, those that it is the first to need made now."""
        plain = self._plain.get(kind)
        if plain is not None:
            if plain.waiting:
                self._make(plain)
            yield from plain.stores
        for attribute, rows in self._keyed.get(kind, _NO_ROWS).items():
            bucket = rows.get(values.get(attribute, ""))
            if bucket is not None:
                if bucket.waiting:
                    self._make(bucket)
                yield from bucket.stores

    def _make(self, bucket: _Bucket) -> None:
        stores = dict.fromkeys(bucket.stores)
        for compiled, number, absent in bucket.waiting:
            if absent:
                store = self._store(compiled.variant.absent[number])
                if (compiled, number) not in store.blocks:  # another bucket may have brought it
                    store.blocks.append((compiled, number))
            else:
                known = compiled.stores[number]
                store = known or self._store(compiled.variant.patterns[number])
                if known is None:
                    compiled.stores[number] = store
                    store.seeds.append((compiled, number))
            stores[store] = None
        bucket.stores = list(stores)
        bucket.waiting.clear()

    def _store(self, pattern: Pattern) -> Store:
        key = (pattern.kind, *[t if t.op != "bind" else ("bind", t.attribute) for t in pattern.tests])
        store = self._stores.get(key)
        if store is None:
            store = self._stores[key] = Store(pattern)
        return store

    def clear(self) -> None:
        """Forget all facts."""
        for store in self._stores.values():
            store.clear()
        for step in self._absent:
            step.waiting.clear()

    def walk(self, compiled: Compiled, seed: int) -> tuple[Step, ...]:
        """The joins outwards from one pattern: always the pattern next with most variables bound already."""
        made = compiled.walks[seed]
        if made is None:
            if not compiled.names:
                compiled.name()
            made = compiled.walks[seed] = tuple(self._walk(compiled, seed))
        return made

    def _walk(self, compiled: Compiled, seed: int) -> Iterator[Step]:
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

    def _step(self, number: int, pattern: Pattern, slots: dict[str, int], bound: set[str]) -> Step:
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
        return Step(number, store, rows, names, tuple(slots[n] for _, n in joined), binds, tuple(equal))


_NO_ROWS: dict[str, dict[Plain, _Bucket]] = {}


def _variables(pattern: Pattern) -> set[str]:
    return {t.values[0].name for t in pattern.tests if t.op == "bind"}  # type: ignore[union-attr]


def _is_words(test: Test) -> bool:
    return test.op in ("is", "in") and not test.many and all(type(value) is str for value in test.values)
