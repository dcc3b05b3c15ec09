"""A plan tried with other values: only the rules that a change can reach run again.

What the first run deduced by other rules is handed over as it stands; a rule is reached if it reads a
changed attribute, or a kind of fact that a reached rule deduces.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from advisor.engine.basis import Grounds
from advisor.engine.bounds import MOST_OF_A_RULE, TOO_MUCH
from advisor.engine.guards import State, solve
from advisor.engine.memory import UNBOUNDED, Env, Exceeded, match_one
from advisor.engine.run import DEFAULT_MATCHER, Outcome, run
from advisor.plan import make_facts
from advisor.plan.model import Basis, Entity, FactBase, Plain, Plan, PlanFact, Value
from advisor.review.findings import said
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import AnyOf, Collect, Condition, Not, Pattern, Rule, Var
from advisor.rulebase.split import Variant, variants
from advisor.rulebase.strata import reads

Change = tuple[str, str]  # kind of fact, attribute; for a list ("item", its name)


def with_answer(plan: Plan, basis: Basis, plain: Plain, text: str) -> Plan:
    """The plan as if its author had stated the value."""
    entities = {sort: dict(known) for sort, known in plan.entities.items()}
    old = entities[basis.sort][basis.id]
    values = {**old.values, basis.attribute: Value(plain, text, old.line, 0)}
    new = Entity(old.sort, old.id, values, old.line, old.note)
    entities[basis.sort][basis.id] = new
    steps = [new if step is old else step for step in plan.steps]
    return replace(plan, entities=entities, steps=steps)


class Trials:
    """Runs of one plan with single values changed."""

    def __init__(self, plan: Plan, rulebase: RuleBase, matcher: str = DEFAULT_MATCHER) -> None:
        self.plan, self.rulebase, self.matcher = plan, rulebase, matcher
        self.base: FactBase = make_facts(plan, rulebase.vocabulary)
        self.first: Outcome = run(rulebase, self.base.facts, matcher)
        self.before = said(self.first)
        self._given_up = sorted(name for name, reason in self.first.unchecked.items() if reason == TOO_MUCH)
        self._readers: dict[Change, set[str]] = {}
        self._kind_readers: dict[str, set[str]] = {}
        for rule in rulebase.rules:
            for change in _changes_read(rule.conditions):
                self._readers.setdefault(change, set()).add(rule.id)
            for kind, _ in reads(rule):
                self._kind_readers.setdefault(kind, set()).add(rule.id)
        self._rules = {rule.id: rule for rule in rulebase.rules}
        self._stateful = {
            rule.id
            for rule in rulebase.rules
            if any(c.kind in ("effect", "order") or c.goals or c.never for c in rule.conclusions)
        }
        self._split: dict[str, tuple[Variant, ...]] = {}
        self._records = {(r.kind, str(r.values.get("id"))): r for r in self.first.memory.records if not r.derivations}
        self._parts: dict[frozenset[Change], tuple[RuleBase, list[PlanFact], frozenset[str]]] = {}

    def without_and_with(self, basis: Basis, plain: Plain, text: str) -> tuple[dict[str, str], dict[str, str]]:
        """What the reached rules say of the plan as it is, and with the value."""
        facts = make_facts(with_answer(self.plan, basis, plain, text), self.rulebase.vocabulary).facts
        changes = _differences(self.base.facts, facts)
        part, handed, kinds = self._part(changes)
        if not part.rules:
            return {}, {}
        names = {rule.id for rule in part.rules}
        wanted = [f for f in facts if f.kind in kinds]
        outcome = run(part, [*wanted, *handed], self.matcher, self._given_up)
        names -= set(outcome.unchecked)  # of these nobody can say what would change
        before = {i: s for i, s in self.before.items() if rule_of(i) in names}
        return before, {i: s for i, s in said(outcome).items() if rule_of(i) in names}

    def rested_on(self) -> set[tuple[str, str, str]]:
        """What the findings of the plan rest on, as keys of presumptions and unknowns."""
        grounds = Grounds(self.first.memory, self.base)
        return {key for drawn in self.first.drawn for key in grounds.of_match(drawn.why)}

    def may_matter(self, basis: Basis) -> bool:
        """Whether some rule that reads the attribute has the rest of its patterns met already.

        Patterns over kinds that the change can reach are taken as met, so no question that matters is lost.
        """
        attribute = self.rulebase.vocabulary.attributes[basis.sort][basis.attribute]
        changes = [(basis.sort, basis.attribute)]
        if attribute.many:
            changes += [("item", basis.attribute), ("item", "*")]
        readers = {name for change in changes for name in self._readers.get(change, ())}
        reached = self._reach(frozenset(changes))
        made = {c.deduced for name in reached for c in self._rules[name].conclusions if c.kind == "deduce"}
        skip = made | ({"item"} if attribute.many else set())
        return any(self._met(variant, basis, skip) for name in sorted(readers) for variant in self._variants(name))

    def _met(self, variant: Variant, basis: Basis, skip: set[str]) -> bool:
        positive = [*variant.patterns, *(g for g in variant.guards if isinstance(g, Pattern))]
        about = [p for p in positive if p.kind == basis.sort and any(t.attribute == basis.attribute for t in p.tests)]
        others = [p for p in positive if p.kind not in skip and p not in about]
        choices: list[Pattern | None] = [*about] or [None]
        for pattern in choices:
            env: Env = {}
            if pattern is not None:
                record = self._records.get((basis.sort, basis.id))
                told = _told(pattern, set())
                firm = tuple(t for t in told.tests if t.attribute != basis.attribute and t.op != "unknown")
                found = match_one(firm, record, {}) if record is not None else None
                if found is None and basis.sort != "step":
                    continue
                env = found or {}
            bound = set(env)
            if self._together([_told(p, bound) for p in others], env):
                return True
        return False

    def _together(self, patterns: list[Pattern], env: Env) -> bool:
        """Whether the plan has facts for all of them; where that is too much to look through, it may have."""
        memory = self.first.memory
        memory.looked, memory.most = 0, MOST_OF_A_RULE
        try:
            return next(solve(patterns, State(env), memory, [], ""), None) is not None
        except Exceeded:
            return True
        finally:
            memory.most = UNBOUNDED

    def _variants(self, name: str) -> tuple[Variant, ...]:
        if name not in self._split:
            self._split[name] = variants(self._rules[name])
        return self._split[name]

    def _part(self, changes: frozenset[Change]) -> tuple[RuleBase, list[PlanFact], frozenset[str]]:
        if changes not in self._parts:
            reached = self._reach(changes)
            rules = tuple(rule for rule in self.rulebase.rules if rule.id in reached)
            kinds = frozenset(kind for rule in rules for kind, _ in reads(rule))
            handed = [
                PlanFact(r.kind, tuple(sorted(r.values.items())))
                for r in self.first.memory.records
                if r.kind in kinds and r.derivations and any(_by(w) not in reached for w in r.derivations)
            ]
            self._parts[changes] = (replace(self.rulebase, rules=rules), handed, kinds)
        return self._parts[changes]

    def _reach(self, changes: frozenset[Change]) -> set[str]:
        queue = [name for change in changes for name in self._readers.get(change, ())]
        # Needs hold or fail by all that is done to states: they are looked at together or not at all.
        if any(name in self._stateful for name in self._reach_plain(queue)):
            queue += sorted(self._stateful)
        return self._reach_plain(queue)

    def _reach_plain(self, names: Iterable[str]) -> set[str]:
        reached: set[str] = set()
        queue = list(names)
        while queue:
            name = queue.pop()
            if name in reached:
                continue
            reached.add(name)
            for conclusion in self._rules[name].conclusions:
                if conclusion.kind == "deduce":
                    queue.extend(self._kind_readers.get(conclusion.deduced, ()))
        return reached


def _told(pattern: Pattern, bound: set[str]) -> Pattern:
    """The pattern without what it compares with variables of patterns left out; `bound` grows by its own."""
    tests = []
    for test in pattern.tests:
        names = {v.name for v in test.values if isinstance(v, Var)}
        if test.op == "bind":
            bound |= names
        if names <= bound:
            tests.append(test)
    times = (pattern.earlier_than, pattern.later_than)
    earlier, later = (var if var and var.name in bound else None for var in times)
    return replace(pattern, tests=tuple(tests), earlier_than=earlier, later_than=later)


def _by(why: object) -> str:
    rule: Rule = why.variant.rule  # type: ignore[attr-defined]
    return rule.id


def rule_of(name: str) -> str:
    """The rule in an id of `findings.said`: what stands before its step, conclusion and parts."""
    return name.partition("@")[0].partition("/")[0].partition(" ")[0]


def _changes_read(conditions: Iterable[Condition]) -> Iterable[Change]:
    """The attributes that conditions read, tested or bound."""
    for condition in conditions:
        if isinstance(condition, Pattern):
            yield from _of_pattern(condition)
        elif isinstance(condition, Collect):
            yield from _of_pattern(condition.pattern)
            yield condition.pattern.kind, condition.attribute
        elif isinstance(condition, Not):
            yield from _changes_read(condition.inside)
        elif isinstance(condition, AnyOf):
            for branch in condition.branches:
                yield from _changes_read(branch)


def _of_pattern(pattern: Pattern) -> Iterable[Change]:
    if pattern.kind != "item":
        for test in pattern.tests:
            yield pattern.kind, test.attribute
        return
    named = [t for t in pattern.tests if t.attribute == "attribute" and t.op in ("is", "in")]
    for test in named:
        for value in test.values:
            yield "item", str(value)
    if not named:
        yield "item", "*"


def _differences(old: list[PlanFact], new: list[PlanFact]) -> frozenset[Change]:
    """The attributes in which two sets of facts differ."""
    changes: set[Change] = set()
    gone, come = set(old) - set(new), set(new) - set(old)
    cells_gone = {(f.kind, f.get("id"), f.get("to"), f.get("using")): dict(f.values) for f in gone}
    for fact in gone | come:
        if fact.kind == "item":
            changes |= {("item", str(fact.get("attribute"))), ("item", "*")}
    for fact in come:
        if fact.kind == "item":
            continue
        before = cells_gone.pop((fact.kind, fact.get("id"), fact.get("to"), fact.get("using")), None)
        after = dict(fact.values)
        names = set(after) if before is None else {n for n in {*before, *after} if before.get(n) != after.get(n)}
        changes |= {(fact.kind, name) for name in names}
    for key, cells in cells_gone.items():
        if key[0] != "item":
            changes |= {(key[0], name) for name in cells}
    return frozenset(changes)
