"""Rules as an experta engine: built once for a rule base and thread, reused through `reset()`."""

from __future__ import annotations

import inspect
import threading
from collections.abc import Callable, Sequence
from typing import Any

from advisor.engine.adapter import TotalOrder, experta
from advisor.engine.bounds import Ledger
from advisor.engine.memory import Record, passes
from advisor.plain import Plain
from advisor.rulebase.alike import alike_of, all_variants
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import Pattern, Test
from advisor.rulebase.split import Variant

SERIAL = "serial"  # makes every fact unequal to every other; the number of its record
UNKNOWN = "left out"  # the attributes that a fact does not have, as far as rules ask

_SIGNATURE = inspect.Signature(
    [
        inspect.Parameter("engine", inspect.Parameter.POSITIONAL_OR_KEYWORD),
        inspect.Parameter("bound", inspect.Parameter.VAR_KEYWORD),
    ]
)
_lock = threading.Lock()
_engines = threading.local()


class Handle(experta.Fact):  # type: ignore[misc]
    """What experta keeps for facts that come at once: the number of the first; the matcher reads the records."""

    def __init__(self, records: Sequence[Record]) -> None:
        dict.__setitem__(self, SERIAL, records[0].number)
        self.records = records


class _Prepared(experta.KnowledgeEngine):  # type: ignore[misc]
    """experta looks through all attributes for rules and first facts, at each start; here they are known."""

    def get_rules(self) -> list[Any]:
        """None: the matcher makes the rules that fire."""
        return []

    def declare(self, *facts: Any) -> None:
        """As experta's, without its looking for constraints, and for a fact that is there already: handles are new."""
        known = self.facts
        for fact in facts:
            fact.__factid__ = known.last_index
            known[known.last_index] = fact
            known.last_index += 1
            known.added.append(fact)
        if not self.running:
            self.strategy.update_agenda(self.agenda, *self.get_activations())

    def run_on(self) -> None:
        """As experta's `run`, without the words for its log at every firing, and the look for news where none is."""
        self.running = True
        facts, agenda = self.facts, self.agenda
        while self.running:
            if facts.added or facts.removed:
                self.strategy.update_agenda(agenda, *self.get_activations())
            activation = agenda.get_next()
            if activation is None:
                break
            activation.rule(self, **activation.context)
        self.running = False

    def get_deffacts(self) -> list[Any]:
        """The one that brings InitialFact."""
        return [self._declare_initial_fact]


class Network:
    """The experta engine of a rule base and the classes of its facts."""

    def __init__(self, rulebase: RuleBase, matcher: type[Any] | None) -> None:
        strata = rulebase.strata
        self.ledger = Ledger(rule.id for rule in rulebase.rules)
        namespace: dict[str, Any] = {"__strategy__": TotalOrder, "session": None, "ledger": self.ledger}
        self.joins_counted = int(matcher is not None)  # experta's own counts nothing, so its matches count as they fire
        if matcher is not None:
            namespace["__matcher__"] = matcher
            namespace["rulebase"] = rulebase
            self.facts_of: Callable[[Sequence[Record]], list[Any]] = _handles
            self.engine = type("Engine", (_Prepared,), namespace)()
            return
        self.kinds: dict[str, Any] = {
            name: type(f"Fact_{name}", (experta.Fact,), {}) for name in sorted(rulebase.kinds)
        }
        compiled, ranks = all_variants(rulebase), alike_of(rulebase).ranks
        self.asked = _asked_unknown(compiled)
        self.read = _read_attributes(compiled)
        self.facts_of = lambda records: [self._written_out(record) for record in records]
        for number, variant in enumerate(compiled):
            namespace[f"r{number:05d}"] = self._rule(variant, -strata[variant.rule.id], ranks[number])
        self.engine = type("Engine", (experta.KnowledgeEngine,), namespace)()

    def _written_out(self, record: Record) -> Any:
        """The record as experta sees it: the attributes that rules read, no others."""
        values: dict[str, Any] = {k: v for k, v in record.values.items() if k in self.read.get(record.kind, ())}
        values[SERIAL] = record.number
        if asked := self.asked.get(record.kind):
            values[UNKNOWN] = tuple(sorted(a for a in asked if a not in record.values))
        return self.kinds[record.kind].from_iter(values.items())

    def _rule(self, variant: Variant, salience: int, rank: int) -> Any:
        parts = [f"f{i}" << self._pattern(p) for i, p in enumerate(variant.patterns)]
        parts += [experta.NOT(self._pattern(p)) for p in variant.absent]
        return experta.Rule(*parts, salience=salience)(_action(variant, rank))

    def _pattern(self, pattern: Pattern) -> Any:
        cells: dict[str, Any] = {}
        checks: dict[str, list[Test]] = {}
        missing = tuple(sorted(t.attribute for t in pattern.tests if t.op == "unknown"))
        for test in pattern.tests:
            if test.op == "bind" and test.attribute not in cells:
                cells[test.attribute] = getattr(experta.MATCH, f"v {test.values[0].name}")  # type: ignore[union-attr]
            elif test.op != "unknown":
                checks.setdefault(test.attribute, []).append(test)
        for attribute, tests in checks.items():
            check = experta.P(_predicate(tests))
            cells[attribute] = cells[attribute] & check if attribute in cells else _literal(tests) or check
        if missing:
            cells[UNKNOWN] = experta.P(lambda left_out, missing=missing: set(missing) <= set(left_out))
        return self.kinds[pattern.kind].from_iter(cells.items())


def _handles(records: Sequence[Record]) -> list[Any]:
    return [Handle(records)] if records else []


def _literal(tests: list[Test]) -> Any:
    """A plain value where equality is all that is asked, which matchers can index."""
    if len(tests) == 1 and tests[0].op == "is" and not tests[0].many and isinstance(tests[0].values[0], str):
        return experta.L(tests[0].values[0])
    return None


def _predicate(tests: list[Test]) -> Callable[[Plain], bool]:
    return lambda value: all(passes(test, value, {}) for test in tests)


def _name(variant: Variant) -> str:
    return f"{variant.rule.id} {variant.number}"


def _action(variant: Variant, rank: int) -> Callable[..., None]:
    """What the stock matcher's rules do: variables and facts come by name."""
    count = len(variant.patterns)

    def action(engine: Any, **bound: Any) -> None:
        env = {name[2:]: value for name, value in bound.items() if name.startswith("v ")}
        known = engine.session.outcome.memory.records
        engine.session.fire(variant, env, tuple(known[bound[f"f{i}"][SERIAL]] for i in range(count)))

    return _dressed(action, variant, rank, count)


def _dressed(function: Callable[..., None], variant: Variant, rank: int, count: int) -> Callable[..., None]:
    """Attributes that experta copies to the rule, and that the strategy reads."""
    action: Any = function
    action.__signature__ = _SIGNATURE  # or experta inspects each one afresh
    action.__name__ = _name(variant)
    action.rank, action.count = rank, count
    return function


def _asked_unknown(compiled: list[Variant]) -> dict[str, set[str]]:
    asked: dict[str, set[str]] = {}
    for variant in compiled:
        for pattern in (*variant.patterns, *variant.absent):
            for test in pattern.tests:
                if test.op == "unknown":
                    asked.setdefault(pattern.kind, set()).add(test.attribute)
    return asked


def _read_attributes(compiled: list[Variant]) -> dict[str, set[str]]:
    read: dict[str, set[str]] = {}
    for variant in compiled:
        for pattern in (*variant.patterns, *variant.absent):
            read.setdefault(pattern.kind, set()).update(t.attribute for t in pattern.tests)
    return read


def network(rulebase: RuleBase, matcher: type[Any] | None) -> Network:
    """This thread's network for the rule base; building is done by one thread at a time."""
    cache: dict[tuple[int, Any], tuple[RuleBase, Network]] = _engines.__dict__.setdefault("cache", {})
    key = (id(rulebase), matcher)
    if key not in cache or cache[key][0] is not rulebase:
        if len(cache) >= 4:
            cache.clear()
        with _lock:
            cache[key] = (rulebase, Network(rulebase, matcher))
    return cache[key][1]


def forget(rulebase: RuleBase, matcher: type[Any] | None) -> None:
    """Throw the network away: after an error experta's state cannot be trusted."""
    _engines.__dict__.get("cache", {}).pop((id(rulebase), matcher), None)
