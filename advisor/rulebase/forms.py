"""The rule base as the evaluator of possibilities uses it: patterns taken apart, rules in an order to run once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from advisor.plain import Plain
from advisor.rulebase.alike import alike_of, starts_of
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import (
    FINDING_KINDS,
    AnyOf,
    Compute,
    Condition,
    Given,
    Not,
    Operand,
    Pattern,
    Rule,
    Test,
    Var,
)
from advisor.rulebase.rings import rings
from advisor.rulebase.split import Guard, Variant, patterns_of, variables

_PLAN_KINDS = frozenset(("house", "code", "room", "part", "product", "crew", "step", "budget", "item"))


# attribute, op, variable bound, values, words to be one of, whether of a list, whether a value is a variable
Apart = tuple[str, str, str, tuple[Plain | Var, ...], frozenset[Plain] | None, bool, bool]


class Form(Struct, eq=False):
    """A pattern taken apart. Patterns that ask the same have one `number`, and so one list of facts."""

    kind: str
    tests: tuple[Apart, ...]
    number: int
    keys: tuple[tuple[str, frozenset[Plain]], ...]  # attributes that must be one of these words
    binds: tuple[tuple[str, str], ...]  # attribute, variable
    names: frozenset[str]
    earlier: str
    later: str
    plain: bool  # whether only what it binds is compared with variables


Told = tuple[tuple[frozenset[Plain], bool], ...]  # words, and whether it is to be one of them or none


class RunVariant(Struct, eq=False):
    """A variant of a rule as it is run."""

    rule: Rule
    variant: Variant
    unused: frozenset[str]  # variables that nothing reads
    conditions: tuple[Not | Guard, ...]  # absences, then guards
    computes: bool
    forms: tuple[Form, ...] = ()  # of its patterns, once they are asked for
    told: Mapping[str, Told] = {}  # by variable, the words that guards ask for; with the forms


_HEARD = frozenset({"deduce", *FINDING_KINDS})


class Rules:
    """Everything that depends on the rule base alone."""

    def __init__(self, rulebase: RuleBase) -> None:
        kept = rulebase.apart if rulebase.apart.get("rules") is rulebase.rules else {}
        # What a step brings about and what goes first speak of time alone: they say nothing of what may be so.
        heard = kept.get("heard") or tuple(r for r in rulebase.rules if any(c.kind in _HEARD for c in r.conclusions))
        self.kept = kept
        self.whole = rulebase
        self.groups = alike_of(rulebase).groups  # of the patterns and absences of all variants, those that ask the same
        # By rule, where its own begin among them.
        self.starts: Mapping[str, int] = kept.get("starts") or starts_of(rulebase)
        self.rulebase = rulebase = replace(rulebase, rules=heard)
        self._forms: dict[int, Form] = {}
        self._shared: dict[tuple[object, ...], Form] = {}
        self._kept: list[Pattern] = []  # so that ids stay their own
        self._same: dict[tuple[object, ...], int] = {}
        self._tests: dict[int, tuple[Apart, tuple[str, frozenset[Plain]] | None, list[str], object]] = {}
        self._ways: dict[str, list[RunVariant]] = {}
        self.makers: dict[str, list[tuple[Rule, tuple[tuple[str, Operand], ...]]]] = {}
        for rule in rulebase.rules:
            for conclusion in rule.conclusions:
                if conclusion.kind == "deduce":
                    self.makers.setdefault(conclusion.deduced, []).append((rule, conclusion.values))
        self.names: dict[int, tuple[str, ...]] = {}
        self.plan_only: dict[int, bool] = {}
        self.words: dict[int, frozenset[Plain] | None] = {}
        self.order: Sequence[Sequence[Rule]] = kept.get("order") or tuple(map(tuple, _order(rulebase, self.makers)))
        self.reads: frozenset[tuple[str, str]] = kept.get("reads") or frozenset(_read(rulebase))
        self.actions: frozenset[str] = kept.get("actions") or actions_named(rulebase)

    def ways(self, rule: Rule) -> list[RunVariant]:
        """The rule's variants taken apart, when they are first asked for."""
        found = self._ways.get(rule.id)
        if found is None:
            unused = frozenset(n for n in rule.unused if not rule.types.get(n, "").startswith("ref:"))
            found = self._ways[rule.id] = [
                RunVariant(rule, v, unused, (*[Not((p,)) for p in v.absent], *v.guards), Compute in map(type, v.guards))
                for v in self.rulebase.variants_of(rule)
            ]
        return found

    def form(self, pattern: Pattern, unused: frozenset[str] = frozenset()) -> Form:
        """The pattern taken apart; made once, and once for all that have the same tests with the same variables."""
        found = self._forms.get(id(pattern))
        if found is None:
            self._kept.append(pattern)
            same = (pattern.kind, id(pattern.tests), unused, pattern.earlier_than, pattern.later_than)
            found = self._shared.get(same)
            if found is None:
                found = self._shared[same] = self._form(pattern, unused)
            self._forms[id(pattern)] = found
        return found

    def _form(self, pattern: Pattern, unused: frozenset[str]) -> Form:
        tests: list[Apart] = []
        keys, binds, names, plain = [], [], [], True
        same: list[object] = [pattern.kind]
        known = self._tests
        for test in pattern.tests:
            taken = known.get(id(test))
            if taken is None:
                taken = known[id(test)] = _taken(test, len(known))
            apart, key, inside, asked = taken
            same.append(asked)
            if apart[1] == "bind":
                var = apart[2]
                names.append(var)
                if var in unused:
                    apart = (apart[0], "known", "", *apart[3:])
                else:
                    binds.append((apart[0], var))
            elif inside:
                names += inside
                plain = False
            tests.append(apart)
            if key is not None:
                keys.append(key)
        number = self._same.setdefault(tuple(same), len(self._same))
        earlier = pattern.earlier_than.name if pattern.earlier_than else ""
        later = pattern.later_than.name if pattern.later_than else ""
        return Form(
            pattern.kind, tuple(tests), number, tuple(keys), tuple(binds), frozenset(names), earlier, later, plain
        )

    def names_in(self, guard: Not) -> tuple[str, ...]:
        """The variables that an absence reads."""
        found = self.names.get(id(guard))
        if found is None:
            found = self.names[id(guard)] = tuple(sorted(_names(guard.inside)))
        return found

    def words_of(self, guard: Given) -> frozenset[Plain] | None:
        """The words that a value is to be one of, or none of; None where anything else is compared."""
        if id(guard) not in self.words:
            plain = guard.op in ("is", "in", "not_in") and all(type(v) is str for v in guard.right)
            self.words[id(guard)] = frozenset(v for v in guard.right if not isinstance(v, Var)) if plain else None
        return self.words[id(guard)]

    def of_plan_only(self, guard: Not) -> bool:
        """Whether an absence is about stated facts alone, compared with plain values."""
        found = self.plan_only.get(id(guard))
        if found is None:
            found = all(isinstance(c, Pattern) and c.kind in _PLAN_KINDS for c in guard.inside)
            self.plan_only[id(guard)] = found
        return found


def _taken(test: Test, number: int) -> tuple[Apart, tuple[str, frozenset[Plain]] | None, list[str], object]:
    """A test taken apart, its words to be one of, the variables it compares with, what says that another asks so."""
    if test.op == "bind":
        var = test.values[0].name  # type: ignore[union-attr]
        return (test.attribute, "bind", var, test.values, None, test.many, True), None, [], (test.attribute, "*")
    inside = [v.name for v in test.values if type(v) is Var]
    chosen = None
    if test.values and not inside and test.op in ("is", "in") and all(type(v) is str for v in test.values):
        chosen = frozenset(test.values)
    apart = (test.attribute, test.op, "", test.values, chosen, test.many, bool(inside))
    key = None if chosen is None or test.many else (test.attribute, chosen)
    return apart, key, inside, (test.attribute, "*") if inside else number


def _names(conditions: Iterable[Condition]) -> set[str]:
    found: set[str] = set()
    for condition in conditions:
        if isinstance(condition, Pattern):
            found |= variables(condition)
            found |= {v.name for v in (condition.earlier_than, condition.later_than) if v}
        elif isinstance(condition, Not):
            found |= _names(condition.inside)
        elif isinstance(condition, AnyOf):
            for branch in condition.branches:
                found |= _names(branch)
    return found


def _order(rulebase: RuleBase, makers: Mapping[str, list[tuple[Rule, Any]]]) -> Iterable[list[Rule]]:
    """Groups of rules: each reads only what earlier groups deduce, or is a ring that runs till nothing is new."""
    made = {kind: {rule.id for rule, _ in found} for kind, found in makers.items()}
    before = {
        rule.id: sorted(set().union(*(made[kind] for kind in _kinds(rule.conditions) if kind in made)))
        for rule in rulebase.rules
    }
    rules = {rule.id: rule for rule in rulebase.rules}
    for group in rings(before):
        yield [rules[name] for name in sorted(group)]


def actions_named(rulebase: RuleBase) -> frozenset[str]:
    """The actions that some rule looks for beside the step it speaks at, be it only to see that they are not missing.

    A rule about installing cabinets asks nobody to install; `not: {step: {id: $step, do: photograph}}` about the
    rule's own step takes a work out, and looks for none.
    """
    found: set[str] = set()
    for rule in rulebase.rules:
        spoken = {c.step.name for c in rule.conclusions if c.step}
        for variant in rulebase.variants_of(rule):
            own = set().union(*map(_ids, variant.patterns))
            others = [p for p, _ in patterns_of((*(Not((p,)) for p in variant.absent), *variant.guards))]
            beside = (p for p in variant.patterns if not spoken & _ids(p))
            for pattern in (*beside, *(p for p in others if not own & _ids(p))):
                if pattern.kind == "step":
                    found |= {
                        str(v) for t in pattern.tests if t.attribute == "do" and t.op in ("is", "in") for v in t.values
                    }
    return frozenset(found)


def _ids(pattern: Pattern) -> set[str]:
    return {v.name for t in pattern.tests if t.attribute == "id" for v in t.values if isinstance(v, Var)}


def _kinds(conditions: Iterable[Condition]) -> set[str]:
    """The kinds of fact that conditions read."""
    return {pattern.kind for pattern, _ in patterns_of(conditions)}


def _read(rulebase: RuleBase) -> Iterable[tuple[str, str]]:
    """The attributes that some rule reads, by sort; of lists also through their members."""
    sorts = tuple(rulebase.vocabulary.attributes)
    for rule in rulebase.rules:
        for pattern, extra in patterns_of(rule.conditions):
            if pattern.kind == "item":
                cells = {t.attribute: t.values for t in pattern.tests if t.op in ("is", "in")}
                for sort in cells.get("sort", sorts):
                    for name in cells.get("attribute", ()):
                        yield str(sort), str(name)
            else:
                for test in pattern.tests:
                    yield pattern.kind, test.attribute
                if extra:
                    yield pattern.kind, extra


@lru_cache(maxsize=4)
def rules_of(rulebase: RuleBase) -> Rules:
    """The rule base taken apart, once."""
    return Rules(rulebase)
