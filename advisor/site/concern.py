"""Whether a practice concerns a step: every condition on its work, and on the kind of its thing, holds.

A condition on something deduced is followed to the rules that deduce it. A practice that asks for neither work nor
kind concerns every step; it says nothing about whether the work is known, so it is told apart.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache

from advisor.plan.model import FactBase
from advisor.rulebase.model import Pattern, Rule, Test, Var
from advisor.rulebase.split import Variant
from advisor.site.rules import Rules
from advisor.site.usual import usual_of

_DEPTH = 6
_NAMES = {"step": "do", "part": "kind", "product": "kind", "room": "kind"}
Bound = dict[str, tuple[str, str]]  # variable to sort and id


class Concern:
    """Answers for one plan; what was found is kept."""

    def __init__(self, rules: Rules, base: FactBase) -> None:
        self.rules = rules
        self._makers = rules.makers
        self.gates = gates_of(rules)
        self.usual = usual_of(rules.rulebase)
        self._stated: dict[str, frozenset[str]] = {}
        self._things: dict[tuple[str, str], dict[str, frozenset[str]]] = {}
        for fact in base.facts:
            if fact.kind == "step":
                own_names = frozenset(name for name, _ in fact.values)
                self._stated[str(fact.get("id"))] = self._stated.get(str(fact.get("id")), frozenset()) | own_names
            if fact.kind == "item" and fact.get("sort") == "step":
                of = str(fact.get("of"))
                self._stated[of] = self._stated.get(of, frozenset()) | {str(fact.get("attribute"))}
            if fact.kind in _NAMES:
                own = self._things.setdefault((fact.kind, str(fact.get("id"))), {})
                for name in (_NAMES[fact.kind], "to", "using"):
                    value = fact.get(name)
                    if isinstance(value, str):
                        own[name] = own.get(name, frozenset()) | {value}
        self._known: dict[tuple[str, tuple[tuple[str, str], ...]], int] = {}

    def of(self, step: str) -> list[tuple[str, int]]:
        """The rules that concern the step: 1 where they would concern any, 2 where they ask for its work or kind."""
        actions = self._things.get(("step", step), {}).get("do", frozenset())
        found = []
        for rule, name, gate in self.gates.speakers:
            if gate is None or not gate.isdisjoint(actions):
                how = self._rule(rule, {name: ("step", step)}, 0)
                if how:
                    found.append((rule.id, how))
        return found

    def _rule(self, rule: Rule, bound: Bound, depth: int) -> int:
        return max((self._variant(v, bound, depth) for v in self.rules.rulebase.variants_of(rule)), default=0)

    def _variant(self, variant: Variant, bound: Bound, depth: int) -> int:
        best = 1
        patterns = [*variant.patterns, *(g for g in variant.guards if isinstance(g, Pattern))]
        # What the step itself says comes first: it names the thing whose kind is asked.
        reach = self._reached(patterns, bound)
        for pattern in patterns:
            found = self._pattern(pattern, reach, depth)
            if not found:
                return 0
            best = max(best, found)
        return best

    def _reached(self, patterns: Iterable[Pattern], bound: Bound) -> dict[str, list[tuple[str, str]]]:
        reach: dict[str, list[tuple[str, str]]] = {name: [one] for name, one in bound.items()}
        for pattern in patterns:
            own = _variable(pattern, "id")
            if pattern.kind != "step" or own not in bound:
                continue
            cells = self._things.get(bound[own], {})
            for attribute, sort in (("to", "part"), ("using", "product")):
                name = _variable(pattern, attribute)
                if name and name not in reach and cells.get(attribute):
                    reach[name] = [(sort, one) for one in sorted(cells[attribute])]
        return reach

    def _pattern(self, pattern: Pattern, reach: dict[str, list[tuple[str, str]]], depth: int) -> int:
        own = _variable(pattern, "id")
        if not self._said(pattern, own, reach):
            return 0
        if pattern.kind in _NAMES:
            if own not in reach:
                return 1
            wanted = [
                t for t in pattern.tests if t.attribute == _NAMES[pattern.kind] and t.op in ("is", "in", "not_in")
            ]
            if not wanted:
                return 1
            return 2 if any(self._fits(wanted, one) for one in reach[own]) else 0
        if pattern.kind not in self._makers or depth >= _DEPTH:
            return 1
        cells = {t.attribute: t.values[0].name for t in pattern.tests if t.op == "bind"}  # type: ignore[union-attr]
        fixed = {t.attribute: t.values for t in pattern.tests if t.op in ("is", "in")}
        given = {name: reach[var] for name, var in cells.items() if var in reach}
        if not given:
            return 1
        return self._deduced(pattern.kind, given, fixed, depth)

    def _said(self, pattern: Pattern, own: str, reach: dict[str, list[tuple[str, str]]]) -> bool:
        """Whether the step says what the pattern asks of it, or could: nobody photographs with a hole saw."""
        if pattern.kind == "step" and own in reach:
            asked = {t.attribute for t in pattern.tests if t.op not in ("unknown", "not_in")}
        elif pattern.kind == "item" and (own := _variable(pattern, "of")) in reach:
            asked = {str(v) for t in pattern.tests if t.attribute == "attribute" for v in t.values}
        else:
            return True
        for sort, one in reach[own]:
            if sort == "step":
                stated = self._stated.get(one, frozenset())
                action = next(iter(self._things.get((sort, one), {}).get("do", ("",))))
                silly = self.usual.senseless("step", action)
                return not any(name in silly and name not in stated for name in asked)
        return True

    def _deduced(
        self, kind: str, given: dict[str, list[tuple[str, str]]], fixed: Mapping[str, tuple[object, ...]], depth: int
    ) -> int:
        best = 0
        chosen = [(name, one) for name, ones in sorted(given.items()) for one in ones]
        key = (
            kind,
            tuple((n, f"{s}:{i}") for n, (s, i) in chosen) + tuple((n, repr(v)) for n, v in sorted(fixed.items())),
        )
        if key in self._known:
            return self._known[key]
        self._known[key] = 1  # a ring says nothing
        for rule, values in self._makers[kind]:
            cells = dict(values)
            if any(n in cells and not isinstance(cells[n], Var) and cells[n] not in v for n, v in fixed.items()):
                continue
            for name, one in chosen:
                target = cells.get(name)
                found = self._rule(rule, {target.name: one}, depth + 1) if isinstance(target, Var) else 1
                if not found:
                    break
                best = max(best, found)
            else:
                best = max(best, 1)
            if best == 2:
                break
        self._known[key] = best
        return best

    def _fits(self, tests: list[Test], one: tuple[str, str]) -> bool:
        words = self._things.get(one, {}).get(_NAMES[one[0]], frozenset())
        return any(all((word in t.values) == (t.op != "not_in") for t in tests) for word in words)


class Gates:
    """The actions of which a step can be for a rule to concern it at all; None for any. Made once for a rule base."""

    def __init__(self, rules: Rules) -> None:
        self._rules = rules
        self._known: dict[tuple[str, str], frozenset[str] | None] = {}
        self._made: dict[tuple[str, str], frozenset[str] | None] = {}
        self.speakers = [
            (rule, name, self.of(rule, name))
            for rule in rules.rulebase.rules
            for name in sorted({c.step.name for c in rule.conclusions if c.step is not None and c.kind != "deduce"})
        ]

    def of(self, rule: Rule, name: str) -> frozenset[str] | None:
        """The actions of the step that the rule calls so."""
        key = (rule.id, name)
        if key not in self._known:
            self._known[key] = None  # a ring says nothing
            found: frozenset[str] | None = frozenset()
            for variant in self._rules.rulebase.variants_of(rule):
                own = self._variant(variant, name)
                found = None if own is None or found is None else found | own
            self._known[key] = found
        return self._known[key]

    def _variant(self, variant: Variant, name: str) -> frozenset[str] | None:
        found: frozenset[str] | None = None
        for pattern in variant.patterns:
            own: frozenset[str] | None = None
            if pattern.kind == "step":
                if _variable(pattern, "id") == name:
                    for test in pattern.tests:
                        if test.attribute == "do" and test.op in ("is", "in"):
                            own = frozenset(str(v) for v in test.values)
            elif pattern.kind in self._rules.makers:
                for test in pattern.tests:
                    if test.op == "bind" and test.values[0].name == name:  # type: ignore[union-attr]
                        own = self._deduced(pattern.kind, test.attribute)
            if own is not None:
                found = own if found is None else found & own
        return found

    def _deduced(self, kind: str, attribute: str) -> frozenset[str] | None:
        key = (kind, attribute)
        if key not in self._made:
            self._made[key] = None
            found: frozenset[str] | None = frozenset()
            for rule, values in self._rules.makers[kind]:
                target = dict(values).get(attribute)
                own = self.of(rule, target.name) if isinstance(target, Var) else None
                found = None if own is None or found is None else found | own
            self._made[key] = found
        return self._made[key]


@lru_cache(maxsize=4)
def gates_of(rules: Rules) -> Gates:
    """The gates of one rule base."""
    return Gates(rules)


def _variable(pattern: Pattern, attribute: str) -> str:
    for test in pattern.tests:
        if test.attribute == attribute and test.op == "bind":
            return test.values[0].name  # type: ignore[union-attr]
    return ""
