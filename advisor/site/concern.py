"""Whether a practice concerns a step: every condition on its work, and on the kind of its thing, holds.

A condition on something deduced is followed to the rules that deduce it. A practice that asks for neither work nor
kind concerns every step; it says nothing about whether the work is known, so it is told apart.
"""

from __future__ import annotations

from advisor.plan.model import FactBase
from advisor.rulebase.forms import Rules
from advisor.rulebase.gates import NamedSteps, gates_of
from advisor.rulebase.model import KIND_OF, Rule, Var
from advisor.rulebase.split import AskedPattern
from advisor.site.usual import usual_of

_DEPTH = 6
_NO_CELLS: dict[str, frozenset[str]] = {}
Bound = dict[str, tuple[str, str]]  # variable to sort and id
Reach = dict[str, list[tuple[str, str]]]


class Concern:
    """Answers for one plan; what was found is kept."""

    def __init__(self, rules: Rules, base: FactBase) -> None:
        self.rules = rules
        self.gates = gates_of(rules)
        self.usual = usual_of(rules.whole)
        self._stated: dict[str, frozenset[str]] = {}
        self._things: dict[tuple[str, str], dict[str, frozenset[str]]] = {}
        for fact in base.facts:
            if fact.kind == "step":
                own_names = frozenset(name for name, _ in fact.values)
                self._stated[str(fact.get("id"))] = self._stated.get(str(fact.get("id")), frozenset()) | own_names
            if fact.kind == "item" and fact.get("sort") == "step":
                of = str(fact.get("of"))
                self._stated[of] = self._stated.get(of, frozenset()) | {str(fact.get("attribute"))}
            if fact.kind in KIND_OF:
                own = self._things.setdefault((fact.kind, str(fact.get("id"))), {})
                for name in (KIND_OF[fact.kind], "to", "using"):
                    value = fact.get(name)
                    if isinstance(value, str):
                        own[name] = own.get(name, frozenset()) | {value}
        self._known: dict[tuple[object, ...], int] = {}
        self._senseless: dict[str, frozenset[str]] = {}

    def of(self, step: str) -> list[tuple[str, int]]:
        """The rules that concern the step: 1 where they would concern any, 2 where they ask for its work or kind."""
        own = self._things.get(("step", step), _NO_CELLS)
        actions = own.get("do", frozenset())
        kinds = frozenset[str]().union(
            *(self._things.get(("part", p), _NO_CELLS).get("kind", ()) for p in own.get("to", ()))
        )
        anything = not own.get("to")
        found = []
        for rule, name, gate, of in self.gates.speakers:
            if (gate is None or not gate.isdisjoint(actions)) and (of is None or anything or not of.isdisjoint(kinds)):
                how = self._rule(rule, {name: ("step", step)}, 0)
                if how:
                    found.append((rule.id, how))
        return found

    def _rule(self, rule: Rule, bound: Bound, depth: int) -> int:
        """The most that a variant of the rule comes to; of those that name the same steps these are looked at once."""
        best, named = 0, None
        reach: Reach = {}
        for steps, patterns in self.gates.asking(rule):
            if steps is not named:
                named, reach = steps, self._reach(steps, bound)
            here = 1
            for pattern in patterns:
                found = self._pattern(pattern, reach, depth)
                if not found:
                    break
                if found > here:
                    here = found
            else:
                if here == 2:
                    return 2
                best = 1
        return best

    def _reach(self, steps: NamedSteps, bound: Bound) -> Reach:
        """What variables stand for. What the step itself says comes first: it names the thing whose kind is asked."""
        reach: Reach = {name: [one] for name, one in bound.items()}
        for own, names in steps:
            if own in bound:
                cells = self._things.get(bound[own], _NO_CELLS)
                for name, attribute, sort in names:
                    if name not in reach and attribute in cells:
                        reach[name] = [(sort, one) for one in sorted(cells[attribute])]
        return reach

    def _pattern(self, pattern: AskedPattern, reach: Reach, depth: int) -> int:
        if pattern.speaker in reach and not self._said(pattern, reach):
            return 0
        if pattern.kind in KIND_OF:
            if pattern.own not in reach or not pattern.wanted:
                return 1
            for one in reach[pattern.own]:
                if self._fits(pattern.wanted, one):
                    return 2
            return 0
        if not pattern.deduced or depth >= _DEPTH:
            return 1
        chosen = tuple([(name, one) for name, var in pattern.cells if var in reach for one in reach[var]])
        if not chosen:
            return 1
        return self._deduced(pattern, chosen, depth)

    def _said(self, pattern: AskedPattern, reach: Reach) -> bool:
        """Whether the step says what the pattern asks of it, or could: nobody photographs with a hole saw."""
        for sort, one in reach[pattern.speaker]:
            if sort == "step":
                silly = pattern.asked & self._silly(one)
                return not silly or silly <= self._stated.get(one, frozenset())
        return True

    def _silly(self, step: str) -> frozenset[str]:
        """What nobody would ask of the step."""
        found = self._senseless.get(step)
        if found is None:
            action = next(iter(self._things.get(("step", step), _NO_CELLS).get("do", ("",))))
            found = self._senseless[step] = self.usual.senseless("step", action)
        return found

    def _deduced(self, pattern: AskedPattern, chosen: tuple[tuple[str, tuple[str, str]], ...], depth: int) -> int:
        best = 0
        key = (pattern.kind, chosen, pattern.fixed)
        known = self._known.get(key)
        if known is not None:
            return known
        self._known[key] = 1  # a ring says nothing
        for rule, cells in self.gates.makers(pattern.kind, pattern.fixed):
            here = 1
            for name, one in chosen:
                target = cells.get(name)
                found = self._may(rule, target.name, one, depth) if type(target) is Var else 1
                if not found:
                    break  # what fits the part counts only where the step fits too
                here = max(here, found)
            else:
                best = max(best, here)
            if best == 2:
                break
        self._known[key] = best
        return best

    def _may(self, rule: Rule, name: str, one: tuple[str, str], depth: int) -> int:
        if one[0] == "step":
            gate = self.gates.of(rule, name)
            if gate is not None and gate.isdisjoint(self._things.get(one, _NO_CELLS).get("do", ())):
                return 0
        return self._rule(rule, {name: one}, depth + 1)

    def _fits(self, wanted: tuple[tuple[frozenset[str], bool], ...], one: tuple[str, str]) -> bool:
        for word in self._things.get(one, _NO_CELLS).get(KIND_OF[one[0]], ()):
            for words, fits in wanted:
                if (word in words) != fits:
                    break
            else:
                return True
        return False
