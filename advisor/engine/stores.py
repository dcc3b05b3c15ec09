"""Facts that pass the constant tests of a pattern, indexed, and the joins that look them up."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

from msgspec import Struct, field

from advisor.engine.memory import Record, passes
from advisor.plain import Plain
from advisor.rulebase.alike import is_words
from advisor.rulebase.model import Pattern, Test

if TYPE_CHECKING:
    from advisor.engine.compiled import Compiled, Seed

Values = dict[str, Plain]
_NONE: list[Record] = []


class FactStore:
    """Facts of one kind that pass certain tests, with an index for each set of attributes joined on."""

    __slots__ = (
        "_begin", "_indexes", "_needs", "_tests", "_unknown", "_words", "blocks", "facts", "feeds", "group", "seeds",
        "stale",
    )  # fmt: skip

    def __init__(
        self, pattern: Pattern, sorted_by: int, group: int, begin: Callable[[FactStore], list[Compiled]]
    ) -> None:
        self.group = group  # see `Alike`
        self._begin = begin  # told of the first fact of a run, gives the variants that then have one for all patterns
        self.feeds: list[int] | None = None  # the variants that it feeds, by number, once it had a fact
        self._unknown: list[str] = []
        self._needs: list[str] = []
        self._words: list[tuple[str, frozenset[object]]] = []
        self._tests: list[Test] = []
        for number, test in enumerate(pattern.tests):
            op = test.op
            if op in ("bind", "known"):
                if test.attribute not in self._needs:
                    self._needs.append(test.attribute)
            elif op == "unknown":
                self._unknown.append(test.attribute)
            elif number == sorted_by:  # the plan has looked at it already
                continue
            elif is_words(test):
                self._words.append((test.attribute, frozenset(test.values)))
            else:
                self._tests.append(test)
        self.facts: list[Record] = []
        self.stale = False  # whether facts are not in the indexes yet
        self._indexes: list[
            tuple[str, tuple[str, ...], dict[Any, list[Record]]]
        ] = []  # the one name or '', names, rows
        self.seeds: list[Seed] = []  # patterns it feeds, of variants that were ready once
        self.blocks: list[tuple[Compiled, int]] = []  # absences it feeds, of the same

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

    def passing(self, records: list[Record]) -> list[Record]:
        """Those of many facts that pass the store's tests."""
        if self._words or self._unknown or self._tests:
            return [r for r in records if self.takes(r.values)]
        for name in self._needs:
            records = [r for r in records if name in r.values]
        return records

    def keep(self, records: list[Record], ready: list[Compiled]) -> None:
        """Keep facts that pass; indexes wait till they are asked. `ready`: rules that now have a fact for all."""
        if not self.facts:
            ready += self._begin(self)
        self.facts += records
        self.stale = True

    def add(self, record: Record) -> None:
        """Keep the fact and enter it in every index."""
        if not self.facts:
            self._begin(self)
        self.facts.append(record)
        if self.stale:
            return
        values = record.values
        for name, names, rows in self._indexes:
            key = values[name] if name else tuple([values[n] for n in names])
            found = rows.get(key)
            if found is None:
                rows[key] = [record]
            else:
                found.append(record)

    def refresh(self) -> None:
        """Enter in the indexes all facts that came at once."""
        self.stale = False
        for name, names, rows in self._indexes:
            rows.clear()
            for record in self.facts:
                key = record.values[name] if name else _key(names, record.values)
                if key in rows:
                    rows[key].append(record)
                else:
                    rows[key] = [record]

    def index(self, names: tuple[str, ...]) -> dict[Any, list[Record]]:
        """The index over these attributes; it is filled when it is first asked."""
        for _, known, rows in self._indexes:
            if known == names:
                return rows
        made: dict[Any, list[Record]] = {}
        self._indexes.append((names[0] if len(names) == 1 else "", names, made))
        self.stale = bool(self.facts)
        return made

    def clear(self) -> None:
        """Forget all facts."""
        self.facts.clear()
        self.stale = False
        for _, _, rows in self._indexes:
            rows.clear()


class JoinStep(Struct, eq=False):
    """One join: look up `names` with the values at `slots`; bind the rest; compare what is bound twice."""

    position: int
    store: FactStore
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
        if self.store.stale:
            self.store.refresh()
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
