"""The rule base over what may be so: every conclusion, with the smallest sets of assumptions that bring it.

The same split rules as the engine runs, group by group, so that what an absence reads is complete. What needs no
assumption is what the engine finds; a test holds the two together.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import Any

from advisor.engine.bounds import silent
from advisor.plan.model import FactBase, Plan
from advisor.rulebase.base import RuleBase
from advisor.rulebase.forms import Form, Rules, RunVariant, rules_of
from advisor.rulebase.model import (
    FINDING_KINDS,
    AnyOf,
    Collect,
    Compute,
    Condition,
    Given,
    Lookup,
    Not,
    Pattern,
    Rule,
    Var,
)
from advisor.rulebase.split import Guard, Later, Variant
from advisor.rulebase.vocabulary import Taxonomy
from advisor.site.absences import ends_of, restricted
from advisor.site.assume import CERTAIN, MARK, MARKED, Set, Ways, holds_today, joined, pruned, with_set
from advisor.site.cells import Open, WorkedOut, keys_of, stated
from advisor.site.fewest import MANY, few_count, fewest, settled
from advisor.site.limits import Budget, TooMuchError
from advisor.site.matching import Env, compared
from advisor.site.possible import May, Possible, forms_of, in_turn, prepare, telling, total_of, value_of
from advisor.site.store import PossibleFacts
from advisor.site.things import Builder, Site
from advisor.site.working import Working
from advisor.tables import table

_ROUNDS = 8  # of a ring of rules that feed each other
Step = tuple[Env, Ways]


def evaluate(plan: Plan, base: FactBase, rulebase: RuleBase, unchecked: Mapping[str, str] | None = None) -> Possible:
    """Every conclusion that holds of the plan or may hold; without the rules that the engine gave up, with reasons."""
    rules = rules_of(rulebase)
    site = Builder(plan, base, rulebase, rules.reads).build()
    budget = Budget(rules.rulebase, silent(dict(unchecked or {})))
    return Evaluation(rules, site, rulebase.vocabulary.taxonomies, budget).run()


class Evaluation:
    """One evaluation."""

    def __init__(
        self,
        rules: Rules,
        site: Site,
        taxonomies: Mapping[str, Taxonomy],
        budget: Budget,
        store: PossibleFacts | None = None,
    ) -> None:
        self.rules, self.site, self.taxonomies = rules, site, taxonomies
        self.store = store or PossibleFacts(site.cells)
        self.heard: Collection[str] = FINDING_KINDS  # conclusions that are drawn
        self.drawn: list[May] = []
        for fact in site.facts if store is None else ():
            self.store.add(fact)
        self._may_fit = bytearray(len(rules.groups))  # by group of patterns: whether there may be a fact for it
        self._working = Working(site.cells, rules.whole)
        self._budget = budget

    def run(self) -> Possible:
        """Run the groups in order; a ring of rules till it says nothing new."""
        for group in self.rules.order:
            for _ in range(_ROUNDS if len(group) > 1 else 1):
                if not any([self.see(rule) for rule in group]):  # noqa: C419  # all of them have to run
                    break
        budget = self._budget
        drawn = [one for one in self.drawn if one.rule.id not in budget.silent] if budget.given_up else self.drawn
        return Possible(self.site, self.store, drawn, budget.given_up)

    def see(self, rule: Rule) -> bool:
        """Draw what a rule concludes; whether there was anything new for others."""
        new = False
        there = self._near(rule, self.rules.rulebase.variants_of(rule))
        if not there or rule.id in self._budget.silent:
            return False
        ways = self.rules.ways(rule)
        self.store.left = may = self._budget.of_a_rule()
        try:
            for number in there:
                new |= self._way(ways[number])
        except TooMuchError:
            self._budget.give_up(rule)
        self._budget.left -= may - self.store.left
        return new

    def _near(self, rule: Rule, split: Sequence[Variant]) -> list[int]:
        """The variants of which every pattern may have a fact. Patterns that ask the same are looked at once."""
        near, groups, start = self._may_fit, self.rules.groups, self.rules.starts[rule.id]
        there = []
        for number, variant in enumerate(split):
            place = start
            for pattern in variant.patterns:
                group = groups[place]
                if not near[group]:
                    if not self.store.may_hold(pattern):
                        break
                    near[group] = 1  # facts only come, so it stays so
                place += 1
            else:
                there.append(number)
            start += len(variant.patterns) + len(variant.absent)
        return there

    def _way(self, way: RunVariant) -> bool:
        lists = []
        for form in way.forms or forms_of(way, self.rules):
            found = self.store.facts(form)
            if not found:
                return False
            lists.append(len(found))
        if not way.forms:
            prepare(way, self.rules)
        states: list[Step] = [({}, CERTAIN)]
        conditions = way.conditions
        forms = in_turn(way.forms, lists)
        while forms and not (len(states) > MANY and settled(way.rule, forms, states[0][0]) and few_count(way)):
            form = forms.pop(0)
            states = [(env, ways) for e, w in states for env, ways, _ in self.store.match(form, e, w)]
            if way.told:
                states = telling(states, form, way.told)
            if not states:
                return False
        new = False
        if len(states) > MANY and few_count(way):
            made = fewest(states, way.rule, forms, self._matched, lambda env, ways: self._solve(conditions, env, ways))
        else:
            made = [one for env, ways in states for one in self._solve(conditions, env, ways)] if conditions else states
        for env, ways in made:
            for conclusion in way.rule.conclusions:
                if conclusion.kind == "deduce":
                    values = tuple([(n, env[v.name] if isinstance(v, Var) else v) for n, v in conclusion.values])
                    new |= self.store.deduce(conclusion.deduced, values, ways)
                elif conclusion.kind in self.heard:
                    self.store.left -= 10  # a conclusion weighs more than a look
                    self.drawn.append(May(way.rule, conclusion, env, ways, way.computes))
        return new

    def _matched(self, form: Form, env: Env, ways: Ways) -> Iterator[Step]:
        return ((grown, left) for grown, left, _ in self.store.match(form, env, ways))

    def _solve(self, guards: Sequence[Guard | Condition], env: Env, ways: Ways, at: int = 0) -> Iterator[Step]:
        """Every way to satisfy the guards from that one on, in order."""
        for place in range(at, len(guards)):
            guard = guards[place]
            kind = type(guard)
            if kind is Not:
                ways = self._absent(guard, env, ways)  # type: ignore[arg-type]
            elif kind is Given:
                ways = self._given(guard, env, ways)  # type: ignore[arg-type]
            elif kind is Later:
                own, other = (self.store.places.get(env[name], 0.0) for name in (guard.step, guard.than))  # type: ignore[union-attr]
                if not (own < other if guard.earlier else own > other):  # type: ignore[union-attr]
                    return
            else:  # it may bind something, in several ways
                for grown, left in self._bound(guard, env, ways):
                    yield from self._solve(guards, grown, left, place + 1)
                return
            if not ways:
                return
        yield env, ways

    def _given(self, guard: Given, env: Env, ways: Ways) -> Ways:
        """The ways in which a comparison holds."""
        left = value_of(guard.left, env)
        if type(left) is str and (words := self.rules.words_of(guard)) is not None:
            return ways if (left in words) == (guard.op != "not_in") else ()
        op, right = guard.op, tuple([value_of(v, env) for v in guard.right])
        if op == "is_a" and type(right[0]) is str:  # the word, or any kind of it
            words = self.taxonomies[guard.of].below(right[0])
            if type(left) is str:
                return ways if left in words else ()
            op, right = "in", tuple(sorted(words))
        need = compared(op, left, right, self.site.cells)
        return () if need is None else with_set(ways, need)

    def _bound(self, guard: Guard | Condition, env: Env, ways: Ways) -> Iterator[Step]:
        """Each way to satisfy a guard that may bind variables."""
        if isinstance(guard, Pattern):
            for grown, left, _ in self.store.match(self.rules.form(guard), env, ways):
                yield grown, left
        elif isinstance(guard, Compute | Lookup):
            yield from self._worked_out(guard, env, ways)
        elif isinstance(guard, Collect):
            yield from self._collect(guard, env, ways)
        elif isinstance(guard, AnyOf):
            for branch in guard.branches:
                yield from self._solve(branch, env, ways)

    # absences

    def _absent(self, guard: Not, env: Env, ways: Ways) -> Ways:
        """The ways in which nothing matches inside; empty where something surely does."""
        today: list[Set] = []
        others: list[Set] = []
        inside = guard.inside
        found: Iterator[Any]
        if len(inside) == 1 and type(inside[0]) is Pattern:
            form = self.rules.form(inside[0])
            near = self.store.looked(form, env)
            if not near:
                return ways
            found = self.store.among(near, form, env, CERTAIN)
        else:
            found = self._solve(inside, env, CERTAIN)
        for match in found:
            for one in match[1]:
                if not one:
                    return ()
                (today if holds_today(one) else others).append(one)
        left = ways
        if today:
            for one in pruned(today, 12):
                ends = ends_of(one, self.site.cells)
                left = joined(left, ends) if ends else ()
                if not left:
                    return ()
        elif others:
            key = ("!", str(id(guard)), repr([(n, env.get(n)) for n in self.rules.names_in(guard)]))
            mark: Set = {key: ("b", True, pruned(others))}
            left = tuple([{**one, **mark} for one in left])
        if others and self.rules.of_plan_only(guard):
            left = restricted(left, others, self.site.cells)
        return left

    # what is worked out

    def _worked_out(self, guard: Compute | Lookup, env: Env, ways: Ways) -> Iterator[Step]:
        if isinstance(guard, Compute):
            read = [value_of(operand, env) for _, operand in guard.arguments]
            names: tuple[str, ...] = (guard.var,)
        else:
            read = [value_of(guard.key, env)]
            names = tuple(var for var, _ in guard.binds)
        loose = keys_of(read)
        if not loose:
            yield from self._working.ways(guard, env, ways, read, names)
            return
        need: Set = {**stated(loose, self.site.cells), MARK: MARKED}  # it may come to nothing for some answers
        if isinstance(guard, Lookup) and type(read[0]) is Open and read[0].sort == "w" and not read[0].many:
            rows = [word for word in sorted(read[0].allowed) if table(guard.table).row(word) is not None]
            constraint = read[0].passing("in", tuple(rows))
            if constraint is None:
                return
            need = {read[0].key: constraint, MARK: MARKED}
        if left := with_set(ways, need):
            yield {**{name: WorkedOut(loose) for name in names}, **env}, left

    def _collect(self, guard: Collect, env: Env, ways: Ways) -> Iterator[Step]:
        """Today's value, and one that is not known where something that counts is not known."""
        form = self.rules.form(guard.pattern)
        loose: list[Set] = []
        seen: dict[Any, tuple[int, Any, Any]] = {}
        for _, inner, fact in self.store.match(form, env, CERTAIN):
            value = fact.values.get(guard.attribute)
            loose += [one for one in inner if one]
            hangs = keys_of((value,))
            if hangs:
                loose.append(stated(hangs, self.site.cells))
            if not any(map(holds_today, inner)):
                continue
            if type(value) is Open:
                value = value.presumed
            if type(value) is WorkedOut or (value is None and guard.how != "count"):
                continue
            own = fact.values.get("id")
            key = (own, value or "") if own is not None else tuple(sorted(fact.values.items(), key=str))
            seen.setdefault(key, (fact.number, own, value))
        total = total_of(guard, sorted(seen.values(), key=lambda s: s[0]))
        need = None if total is None else compared("is", env.get(guard.var, total), (total,), self.site.cells)
        if need is not None and (left := with_set(ways, need)):
            if loose:
                mark = ("!", str(id(guard)), repr(sorted((n, repr(v)) for n, v in env.items())))
                left = pruned([{**one, mark: ("b", True, pruned(loose))} if holds_today(one) else one for one in left])
            yield ({**env, guard.var: total} if guard.var not in env else env), left
        if loose:
            unknown = [one for one in loose if not holds_today(one)] or [
                e for one in loose for e in ends_of(one, self.site.cells)
            ]
            if not unknown:
                return
            keys = frozenset(k for one in unknown for k in one if k[0] not in "!~")
            left = joined(ways, pruned([{**one, MARK: MARKED} for one in unknown]))
            if left:
                yield ({**env, guard.var: WorkedOut(keys)} if guard.var not in env else env), left
