"""What the indexed matcher knows of the rules: which facts go to which store, and the joins of each rule."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from msgspec import Struct

from advisor.engine.bounds import Tally
from advisor.engine.memory import Env, Record
from advisor.engine.stores import FactStore, JoinStep, Values
from advisor.plain import Plain
from advisor.rulebase.alike import alike_of, all_variants
from advisor.rulebase.base import RuleBase
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

    __slots__ = ("absent", "names", "number", "rank", "seeds", "tally", "variant")

    def __init__(self, variant: Variant, number: int, rank: int, tally: Tally) -> None:
        self.variant, self.number, self.rank, self.tally = variant, number, rank, tally
        self.names: tuple[str, ...] = ()
        self.seeds: list[Seed] = []
        self.absent: tuple[JoinStep, ...] | None = None

    def start(self) -> Seed:
        """Where to start when every pattern has a fact and no match is known: at the one with fewest facts."""
        return min(self.seeds, key=_facts)

    @property
    def __name__(self) -> str:  # for experta's log
        return f"{self.variant.rule.id} {self.variant.number}"

    def __call__(self, engine: Any, env: Env, records: tuple[Record, ...]) -> None:
        """Fire, as experta calls a rule with what the match binds."""
        engine.session.fire(self.variant, env, records)

    def name(self) -> None:
        """Number the variables."""
        patterns = self.variant.patterns
        self.names = tuple(dict.fromkeys(t.values[0].name for p in patterns for t in p.tests if t.op == "bind"))  # type: ignore[union-attr]


class JoinPlan:
    """Everything that depends on the rules alone, made as far as facts have asked for it."""

    def __init__(self, rulebase: RuleBase, tallies: Mapping[str, Tally]) -> None:
        self._alike = alike = alike_of(rulebase)
        self._tallies = tallies
        self._variants = all_variants(rulebase)
        self._compiled: dict[int, Compiled] = {}
        self._stores: dict[int, FactStore] = {}  # by group of patterns
        self._buckets: dict[int, list[FactStore]] = {}  # by identity of the tuple of groups, which `_alike` keeps
        self._fit: dict[tuple[Any, ...], list[FactStore]] = {}  # by what a fact says
        self._absent: list[JoinStep] = []
        self._first = [0]  # place of each variant's first pattern among `alike.groups`
        for variant in self._variants:
            self._first.append(self._first[-1] + len(variant.patterns) + len(variant.absent))
        self._places: list[list[int]] = [[] for _ in alike.asks]  # where the patterns of each group stand
        for place, group in enumerate(alike.groups):
            self._places[group].append(place)
        self.lacking = [len(variant.patterns) for variant in self._variants]  # how many of its patterns have no fact
        self.always = [self._of(n) for n, variant in enumerate(self._variants) if not variant.patterns]

    def _of(self, number: int) -> Compiled:
        """The variant of that number, made when every pattern of it first has a fact."""
        compiled = self._compiled.get(number)
        if compiled is None:
            variant = self._variants[number]
            rank, tally = self._alike.ranks[number], self._tallies[variant.rule.id]
            compiled = self._compiled[number] = Compiled(variant, number, rank, tally)
            groups, first = self._alike.groups, self._first[number]
            count = len(variant.patterns)
            for position, group in enumerate(groups[first : first + count]):
                store = self._store(group)
                seed = Seed(compiled, position, store)
                compiled.seeds.append(seed)
                store.seeds.append(seed)
            for position, group in enumerate(groups[first + count : self._first[number + 1]]):
                self._store(group).blocks.append((compiled, position))
        return compiled

    def taking(self, record: Record) -> list[FactStore]:
        """The stores that take the fact, whatever else is there; remembered, as the next run has most facts again."""
        said = _said(record)
        found = self._fit.get(said)
        if found is None:
            values = record.values
            buckets = self._near(record.kind, values)
            found = [s for bucket in buckets for s in self._stores_in(bucket) if s.takes(values)]
            self._fit[said] = found
        return found

    def _near(self, kind: str, values: Values) -> Iterator[tuple[int, ...]]:
        """The groups of patterns that the fact may fit by its words."""
        plain = self._alike.plain.get(kind)
        if plain is not None:
            yield plain
        keyed = self._alike.keyed.get(kind, _NO_ROWS)
        for attribute, value in values.items():
            rows = keyed.get(attribute)
            if rows is not None and value in rows:
                yield rows[value]

    def fill(self, records: Iterable[Record]) -> list[Compiled]:
        """Take the first facts of a run all at once; the rules that then have a fact for every pattern."""
        ready: list[Compiled] = []
        parts: dict[int, tuple[tuple[int, ...], list[Record]]] = {}
        fits: dict[int, list[FactStore]] = {}  # of the facts that no run had before
        fresh: list[Record] = []
        for record in records:
            known = self._fit.get(_said(record))
            if known is not None:
                for store in known:
                    store.keep([record], ready)
                continue
            fits[record.number] = []
            fresh.append(record)
            for bucket in self._near(record.kind, record.values):
                parts.setdefault(id(bucket), (bucket, []))[1].append(record)
        for bucket, part in parts.values():
            for store in self._stores_in(bucket):
                if taken := store.passing(part):
                    store.keep(taken, ready)
                    for record in taken:
                        fits[record.number].append(store)
        for record in fresh:
            self._fit[_said(record)] = fits[record.number]
        return ready

    def _stores_in(self, bucket: tuple[int, ...]) -> list[FactStore]:
        stores = self._buckets.get(id(bucket))
        if stores is None:
            stores = self._buckets[id(bucket)] = [self._store(group) for group in bucket]
        return stores

    def _store(self, group: int) -> FactStore:
        store = self._stores.get(group)
        if store is None:
            alike = self._alike
            store = self._stores[group] = FactStore(alike.asks[group], alike.sorted_by[group], group, self._begin)
        return store

    def _begin(self, store: FactStore) -> list[Compiled]:
        """Take note that a store has its first fact of a run; the variants that now have one for every pattern."""
        if store.feeds is None:
            store.feeds = []
            for place in self._places[store.group]:
                number = bisect_right(self._first, place) - 1
                if place - self._first[number] < len(self._variants[number].patterns):
                    store.feeds.append(number)
        ready, lacking = [], self.lacking
        for number in store.feeds:
            lacking[number] -= 1
            if not lacking[number]:
                ready.append(self._of(number))
        return ready

    def clear(self) -> None:
        """Forget all facts; what they fit is kept for the next run, unless there have been very many."""
        if len(self._fit) > _MOST_KEPT:
            self._fit.clear()
        lacking = self.lacking
        for store in self._stores.values():
            if store.facts:
                for number in store.feeds or ():
                    lacking[number] += 1
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
            yield self._step(chosen, self._first[compiled.number] + chosen, patterns[chosen], slots, bound)
            bound |= _variables(patterns[chosen])
            if not left:
                return
            chosen = max(left, key=lambda n: (len(_variables(patterns[n]) & bound), -n))

    def prepare_absent(self, compiled: Compiled) -> None:
        """Make the look-ups of a rule's absences."""
        slots = {name: slot for slot, name in enumerate(compiled.names)}
        bound = set(compiled.names)
        first = self._first[compiled.number] + len(compiled.variant.patterns)
        made = [self._step(n, first + n, p, slots, bound) for n, p in enumerate(compiled.variant.absent)]
        compiled.absent = tuple(made)
        self._absent += made

    def _step(self, number: int, place: int, pattern: Pattern, slots: dict[str, int], bound: set[str]) -> JoinStep:
        """One join with a pattern or absence that stands at that place among the groups."""
        store = self._store(self._alike.groups[place])
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


_MOST_KEPT = 50_000
_NO_ROWS: Mapping[str, Mapping[Plain, tuple[int, ...]]] = {}


def _said(record: Record) -> tuple[Any, ...]:
    return (record.kind, *record.values.items())


def _facts(seed: Seed) -> int:
    return len(seed.store.facts)


def _variables(pattern: Pattern) -> set[str]:
    return {t.values[0].name for t in pattern.tests if t.op == "bind"}  # type: ignore[union-attr]
