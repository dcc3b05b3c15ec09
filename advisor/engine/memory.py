"""The facts of a run, indexed, and the record of where each came from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from msgspec import Struct, field

from advisor.plain import Plain
from advisor.plan.model import PlanFact
from advisor.rulebase.model import Pattern, Test, Var
from advisor.rulebase.vocabulary import Taxonomy

Env = dict[str, Plain]
UNBOUNDED = 1 << 60
_FEW = 16  # facts of a kind up to which looking at all is as quick
_WORDS = ("is", "in", "not_in")


class Exceeded(Exception):
    """A rule has done as much as it may."""


class Record(Struct, eq=False):
    """A fact of the run. Stated facts come from the plan; deduced ones have at least one derivation."""

    number: int
    kind: str
    values: dict[str, Plain]
    line: int = 0
    presumed: frozenset[str] = frozenset()
    advised: bool = False
    derivations: list[Derivation] = field(default_factory=list)

    def __str__(self) -> str:  # experta's log asks for it at every firing
        return f"<f-{self.number}>"


class Derivation(Struct, eq=False):
    """One way in which a rule came to fire: the facts its patterns matched, and the variables bound."""

    variant: object  # advisor.rulebase.split.Variant
    env: Env
    support: tuple[tuple[Pattern, Record], ...]
    collected: tuple[Record, ...] = ()


class _Kept(Struct):
    """The facts that pass the tests of a pattern that name no variable, of so many that were looked at."""

    pattern: Pattern  # so that its id stays its own
    firm: tuple[Test, ...]
    seen: int = 0
    found: list[Record] = field(default_factory=list)


class Memory:
    """Facts by kind, and by the value of any attribute that was once asked for."""

    def __init__(
        self, taxonomies: Mapping[str, Taxonomy] | None = None, worked: dict[object, object] | None = None
    ) -> None:
        self.taxonomies = taxonomies or {}
        self.worked = {} if worked is None else worked  # what calculators made of which figures; see `guards.py`
        self.records: list[Record] = []
        self.by_kind: dict[str, list[Record]] = {}
        self.places: dict[Plain, float] = {}
        self._index: dict[tuple[str, str], dict[Plain, list[Record]]] = {}
        self._known: dict[tuple[str, tuple[tuple[str, Plain], ...]], Record] = {}
        self._lists: dict[int, _Kept] = {}
        self.looked = 0  # facts looked at since it was last set to 0
        self.most = UNBOUNDED  # more raises Exceeded

    def add_stated(self, fact: PlanFact) -> Record:
        """Add a fact of the plan."""
        record = Record(len(self.records), fact.kind, dict(fact.values), fact.line, fact.presumed, fact.advised)
        place = record.values.get("place")
        if fact.kind == "step" and isinstance(place, int | float):
            self.places[record.values["id"]] = float(place)
        return self._keep(record)

    def add_deduced(self, kind: str, values: tuple[tuple[str, Plain], ...], why: Derivation) -> Record | None:
        """Add a deduced fact; None where it is known already (its further derivation is kept)."""
        known = self._known.get((kind, values))
        if known is not None:
            known.derivations.append(why)
            return None
        record = Record(len(self.records), kind, dict(values), derivations=[why])
        self._known[kind, values] = record
        return self._keep(record)

    def _keep(self, record: Record) -> Record:
        self.records.append(record)
        self.by_kind.setdefault(record.kind, []).append(record)
        for (kind, attribute), rows in self._index.items():
            if kind == record.kind and attribute in record.values:
                rows.setdefault(record.values[attribute], []).append(record)
        return record

    def candidates(self, pattern: Pattern, env: Env) -> list[Record]:
        """Facts that may match: the fewest that a constant or a bound variable picks out."""
        best = self.by_kind.get(pattern.kind, [])
        if len(best) > _FEW:
            best = self._passing(pattern, best)
        for test in pattern.tests:
            if test.many or test.op not in ("is", "bind") or len(best) < 4:
                continue
            value = test.values[0]
            if isinstance(value, Var):
                if value.name not in env:
                    continue
                value = env[value.name]
            rows = self._rows(pattern.kind, test.attribute).get(value, [])
            if len(rows) < len(best):
                best = rows
        return best

    def _passing(self, pattern: Pattern, every: list[Record]) -> list[Record]:
        """Those that pass what the pattern asks without its variables; worked out once, then carried on."""
        kept = self._lists.get(id(pattern))
        if kept is None:
            firm = tuple(t for t in pattern.tests if t.op != "bind" and Var not in map(type, t.values))
            kept = self._lists[id(pattern)] = _Kept(pattern, firm)
        if kept.seen < len(every):
            if kept.firm:
                kept.found += [r for r in every[kept.seen :] if match_one(kept.firm, r, {}) is not None]
            kept.seen = len(every)
        return kept.found if kept.firm else every

    def _rows(self, kind: str, attribute: str) -> dict[Plain, list[Record]]:
        key = (kind, attribute)
        if key not in self._index:
            rows: dict[Plain, list[Record]] = {}
            for record in self.by_kind.get(kind, []):
                if attribute in record.values:
                    rows.setdefault(record.values[attribute], []).append(record)
            self._index[key] = rows
        return self._index[key]

    def match(self, pattern: Pattern, env: Env) -> Iterator[tuple[Env, Record]]:
        """Each fact that matches under `env`, with the variables it binds added."""
        for record in self.candidates(pattern, env):
            self.looked += 1
            if self.looked > self.most:
                raise Exceeded
            found = match_one(pattern.tests, record, env)
            if found is not None and self._in_time(pattern, record, found):
                yield found, record

    def count(self, units: int) -> None:
        """Count work that looks at no fact."""
        self.looked += units
        if self.looked > self.most:
            raise Exceeded

    def _in_time(self, pattern: Pattern, record: Record, env: Env) -> bool:
        if pattern.earlier_than is None and pattern.later_than is None:
            return True
        place = self.places.get(record.values.get("id", ""), 0.0)
        if pattern.earlier_than and not place < self.places.get(env[pattern.earlier_than.name], 0.0):
            return False
        return not (pattern.later_than and not place > self.places.get(env[pattern.later_than.name], 0.0))


def match_one(tests: Iterable[Test], record: Record, env: Env) -> Env | None:
    """`env` with what the record binds, or None where a test fails."""
    grown = env
    for test in tests:
        value = record.values.get(test.attribute)
        if test.op == "unknown":
            if value is not None:
                return None
            continue
        if value is None:
            return None
        if test.op == "bind":
            name = test.values[0].name  # type: ignore[union-attr]
            if name in grown:
                if not same(grown[name], value):
                    return None
            else:
                grown = {**grown, name: value}
        elif not passes(test, value, grown):
            return None
    return grown


def same(left: Plain, right: Plain) -> bool:
    """Equality, with numbers equal to within rounding."""
    if isinstance(left, float) or isinstance(right, float):
        return isinstance(left, int | float) and isinstance(right, int | float) and close(left, right)
    return left == right


def close(left: float, right: float) -> bool:
    """Equal to within the rounding of a few conversions."""
    return abs(left - right) <= 1e-9 * max(1e-6, abs(left), abs(right))


def passes(test: Test, value: Plain, env: Env) -> bool:
    """Whether a value passes a test that binds nothing."""
    op, values = test.op, test.values
    if op == "known":
        return True
    if type(value) is str and op in _WORDS:  # a word, mostly of a long list of words
        there = value in values or (
            Var in map(type, values) and any(value == env[v.name] for v in values if type(v) is Var)
        )
        return there if op != "not_in" else not there
    wanted = [env[v.name] if isinstance(v, Var) else v for v in values]
    if test.many and isinstance(value, tuple):
        there = any(v in wanted for v in value)
        return there if test.op in ("is", "in") else not there
    return compare(test.op, value, wanted)


def compare(op: str, value: Plain, wanted: list[Plain]) -> bool:
    """`value op wanted`; limits pass at equality, `above` and `below` do not."""
    if type(value) is str and op in _WORDS:
        return (value in wanted) == (op != "not_in")
    if op in ("is", "in"):
        return any(same(value, one) for one in wanted)
    if op == "not_in":
        return not any(same(value, one) for one in wanted)
    other = wanted[0]
    if not isinstance(value, int | float) or not isinstance(other, int | float):
        return False
    equal = close(value, other)
    if op == "above":
        return value > other and not equal
    if op == "below":
        return value < other and not equal
    if op == "at_least":
        return value >= other or equal
    return value <= other or equal
