"""What a conclusion rests on: presumed and unknown values, and whether advice is among its reasons."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress

from msgspec import Struct

from advisor.engine.bounds import MOST_OF_A_RULE, MOST_OF_ALL
from advisor.engine.guards import PartialMatch, solve
from advisor.engine.memory import UNBOUNDED, Derivation, Env, Exceeded, Memory, Record, match_one
from advisor.plan.model import FactBase
from advisor.rulebase.model import Collect, Not, Pattern, Test, Var
from advisor.rulebase.split import Variant

Key = tuple[str, str, str]  # sort, id, attribute
MOST_DEEP = 100  # facts deduced one from the other that are followed back; rules that make sense need a dozen


class _Group(Struct, frozen=True):
    """Facts with the same soft tests of a pattern, and the pattern without them."""

    soft: tuple[Test, ...]
    firm: Pattern
    numbers: set[int]


class Grounds:
    """Answers for one run, remembered per fact."""

    def __init__(self, memory: Memory, base: FactBase) -> None:
        self.memory = memory
        self.base = base
        self._basis: dict[int, frozenset[Key]] = {}
        self._advised: dict[int, bool] = {}
        self._unsure: dict[Key, bool] = {}  # asked again and again, and dear to ask of a plan
        self._groups: dict[int, list[_Group]] = {}
        self._patterns: list[Pattern] = []
        self._seen: dict[tuple[object, ...], set[Key]] = {}
        self.cut: set[str] = set()  # rules of which not everything was looked at
        self._left = MOST_OF_ALL
        self._depth, self._too_deep = 0, False

    def of_matches(self, rule: str, matches: Iterable[Derivation]) -> list[frozenset[Key]]:
        """`of_match` for each of a rule's matches, within bounds: where there is too much, what was found stands."""
        memory = self.memory
        memory.looked, memory.most = 0, min(self._left, MOST_OF_A_RULE)
        self._too_deep = False
        try:
            found = [self.of_match(why) for why in matches]
        finally:
            if memory.looked > memory.most or self._too_deep:
                self.cut.add(rule)
            self._left = max(0, self._left - memory.looked)
            memory.most = UNBOUNDED
        return found

    def of_match(self, why: Derivation) -> frozenset[Key]:
        """The presumed and unknown values that a match used."""
        variant: Variant = why.variant  # type: ignore[assignment]
        keys: set[Key] = set()
        with suppress(Exceeded):  # `of_matches` says so
            self._gather(variant, why, keys)
        return frozenset(keys)

    def _gather(self, variant: Variant, why: Derivation, keys: set[Key]) -> None:
        for pattern, record in why.support:
            keys |= self._tested(pattern.tests, record) | self._of_record(record)
        for guard in variant.guards:
            if isinstance(guard, Collect):
                for record in why.collected:
                    if record.kind == guard.pattern.kind:
                        extra = Test(guard.attribute, "known")
                        keys |= self._tested((*guard.pattern.tests, extra), record) | self._of_record(record)
        for pattern in variant.absent:
            keys |= self._hidden(pattern, why.env)
        for guard in variant.guards:
            if isinstance(guard, Not):
                keys |= self._hidden_in(guard, why.env)

    def _of_record(self, record: Record) -> frozenset[Key]:
        """For a deduced fact, the basis of the derivation that presumes least."""
        if not record.derivations:
            return frozenset()
        if record.number not in self._basis:
            if self._depth > MOST_DEEP:
                self._too_deep = True
                return frozenset()
            self._basis[record.number] = frozenset()  # a fact that supports itself adds nothing
            self._depth += 1
            options = [self.of_match(why) for why in record.derivations]
            self._depth -= 1
            self._basis[record.number] = min(options, key=lambda o: (len(o), sorted(o)))
        return self._basis[record.number]

    def _key(self, record: Record, attribute: str) -> Key | None:
        key = (record.kind, str(record.values.get("id", record.kind)), attribute)
        unsure = self._unsure.get(key)
        if unsure is None:
            unsure = self._unsure[key] = key in self.base.presumptions or key in self.base.unknowns
        return key if unsure else None

    def _tested(self, tests: tuple[Test, ...], record: Record) -> set[Key]:
        names = {t.attribute for t in tests if t.op == "unknown" or t.attribute in record.presumed}
        return {key for name in names if (key := self._key(record, name))}

    def _hidden_in(self, guard: Not, env: Env) -> set[Key]:
        """What an absence hides on: any of its patterns, with the others satisfied."""
        keys: set[Key] = set()
        for index, inside in enumerate(guard.inside):
            if isinstance(inside, Pattern):
                others = guard.inside[:index]
                for state in solve(others, PartialMatch(env), self.memory, [], ""):
                    keys |= self._hidden(inside, state.env)
        return keys

    def _hidden(self, pattern: Pattern, env: Env) -> set[Key]:
        """Values that are presumed or unknown and that alone keep a fact from matching an absence."""
        groups = self._of_pattern(pattern)
        names = {v.name for t in pattern.tests for v in t.values if isinstance(v, Var)} if groups else set()
        seen = (id(pattern), *sorted((n, env[n]) for n in names if n in env))
        if seen in self._seen:
            return self._seen[seen]
        keys: set[Key] = self._seen.setdefault(seen, set())
        for group in groups:
            for record in self.memory.candidates(group.firm, env):
                self.memory.count(1)
                if record.number not in group.numbers or match_one(group.firm.tests, record, env) is None:
                    continue
                if match_one(pattern.tests, record, env) is None:
                    keys |= {key for t in group.soft if (key := self._key(record, t.attribute))}
        return keys

    def _of_pattern(self, pattern: Pattern) -> list[_Group]:
        """The facts that a soft value may keep from the pattern; they are the same for every match of a run."""
        if id(pattern) not in self._groups:
            groups: dict[tuple[Test, ...], _Group] = {}
            for record in self.memory.by_kind.get(pattern.kind, []):
                presumed = record.presumed
                soft = tuple([t for t in pattern.tests if t.attribute in presumed or self._open(t, record)])
                if soft and soft not in groups:
                    firm = tuple(t for t in pattern.tests if t not in soft)
                    groups[soft] = _Group(soft, Pattern(pattern.kind, firm, pattern.line), set())
                if soft:
                    groups[soft].numbers.add(record.number)
            self._patterns.append(pattern)  # so that its id stays its own
            self._groups[id(pattern)] = list(groups.values())
        return self._groups[id(pattern)]

    def _open(self, test: Test, record: Record) -> bool:
        return test.op != "unknown" and test.attribute not in record.values and bool(self._key(record, test.attribute))

    def advised(self, why: Derivation) -> bool:
        """Whether advice of the report itself is among the reasons."""
        return any(self._is_advised(r) for _, r in why.support) or any(map(self._is_advised, why.collected))

    def _is_advised(self, record: Record) -> bool:
        if record.advised:
            return True
        if record.number not in self._advised:
            if self._depth > MOST_DEEP:
                return False
            self._advised[record.number] = False
            self._depth += 1
            ways = [self.advised(why) for why in record.derivations]
            self._depth -= 1
            self._advised[record.number] = bool(ways) and all(ways)
        return self._advised[record.number]
