"""One changed rule in what a run of all the others came to, so that a mutant seldom costs a run of its own.

What a rule draws depends on the facts of the run alone. A mutant that draws from them just what its rule draws is
noticed by nobody; where the rule makes no facts, a mutant changes nothing but what is drawn from it. Only one that
makes other facts, or whose facts come back to itself, is run with all the others.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rules.harness import Case, judge, light_report

from advisor.calculators import Result
from advisor.engine.guards import PartialMatch, solve
from advisor.engine.memory import UNBOUNDED, Derivation, Env, Exceeded, Memory, Record
from advisor.engine.run import Drawn, run_rules
from advisor.plain import Plain
from advisor.plan import make_facts, read_plan
from advisor.review.buying.gear import gear_table
from advisor.review.findings import make_findings
from advisor.review.model import Report
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import Pattern, Rule
from advisor.rulebase.split import variants
from advisor.rulebase.strata import reads
from advisor.site.run import Judged
from advisor.site.verdicts import answer

MOST = 300_000  # facts looked at for one mutant in one case; beyond that the bounds of a whole run decide

Said = set[tuple[tuple[str, Plain], ...]]
Support = tuple[tuple[Pattern, Record], ...]


class Ran:
    """A case, and what the unchanged rules came to in it."""

    def __init__(self, case: Case, rulebase: RuleBase) -> None:
        self.case, self.rulebase = case, rulebase
        self.plan = read_plan(case.plan, rulebase.vocabulary)
        self.base = make_facts(self.plan, rulebase.vocabulary)
        came = run_rules(rulebase, self.base.facts)
        self.memory, self.drawn = came.memory, came.drawn
        self.gear = gear_table(came.memory, self.plan, rulebase.vocabulary)
        self._own: dict[str, Said] = {}

    def notices(self, rule: Rule, mutant: Rule, changed: RuleBase) -> bool:
        """Whether the case comes out otherwise than written with the mutant in the rule's place."""
        try:
            whys = list(_matches(mutant, self.memory))
        except Exceeded:
            return not self.holds_in(changed)
        except (KeyError, ValueError, TypeError):
            return True  # a mutant that cannot run is noticed
        same = {_said(why) for why, _ in whys} == self._drawn_by(rule)
        asks = "asks" in self.case.spec  # what a finding rests on is more than what its rule draws
        if same and (not whys or (mutant.conclusions == rule.conclusions and not asks)):
            return False
        if any(c.kind == "deduce" for c in (*rule.conclusions, *mutant.conclusions)):
            return not self.holds_in(changed)
        own = [Drawn(c, why, results) for why, results in whys for c in mutant.conclusions]
        others = [one for one in self.drawn if one.why.variant.rule.id != rule.id]  # type: ignore[attr-defined]
        try:
            return judge(self.case, self._report(others + own, changed), changed) != []
        except (KeyError, ValueError, TypeError):
            return True

    def wrong(self) -> list[str]:
        """What is wrong with the case without any change."""
        return judge(self.case, self._report(self.drawn, self.rulebase), self.rulebase)

    def _drawn_by(self, rule: Rule) -> Said:
        if rule.id not in self._own:
            self._own[rule.id] = {_said(why) for why, _ in _matches(rule, self.memory)}
        return self._own[rule.id]

    def _report(self, drawn: list[Drawn], rulebase: RuleBase) -> Report:
        spoken, site = answer(self.memory, drawn, rulebase.states)
        findings = make_findings(Judged(self.memory, spoken, site=site), self.plan, self.base, rulebase)
        return Report(self.plan, findings, [], None, [], [], self.gear, {}, ())

    def holds_in(self, changed: RuleBase) -> bool:
        """Whether the case comes out as written in a run of all these rules; one that cannot run is noticed."""
        try:
            report = light_report(self.plan, self.base, changed)
        except (KeyError, ValueError, TypeError):
            return False
        return judge(self.case, report, changed) == []


def _matches(rule: Rule, memory: Memory) -> Iterator[tuple[Derivation, tuple[tuple[str, Result], ...]]]:
    """Each way in which the facts meet the rule's conditions, with what its calculators came to."""
    memory.looked, memory.most = 0, MOST
    try:
        for variant in variants(rule):
            for env, support in _joined(variant.patterns, memory, {}, ()):
                if any(next(memory.match(pattern, env), None) for pattern in variant.absent):
                    continue
                for state in solve(variant.guards, PartialMatch(env, support), memory, [], rule.id):
                    yield Derivation(variant, state.env, state.support, state.collected), state.results
    finally:
        memory.most = UNBOUNDED


def _joined(patterns: Sequence[Pattern], memory: Memory, env: Env, support: Support) -> Iterator[tuple[Env, Support]]:
    if not patterns:
        yield env, support
        return
    for grown, record in memory.match(patterns[0], env):
        yield from _joined(patterns[1:], memory, grown, (*support, (patterns[0], record)))


def _said(why: Derivation) -> tuple[tuple[str, Plain], ...]:
    return tuple(sorted(why.env.items()))


def comes_back(rule: Rule, rules: tuple[Rule, ...]) -> bool:
    """Whether what the rule makes is read, by way of others, by itself."""
    makes = {c.deduced for c in rule.conclusions if c.kind == "deduce"}
    reached, queue = set(makes), list(makes)
    while queue:
        kind = queue.pop()
        for other in rules:
            if any(kind == read for read, _ in reads(other)):
                fresh = {c.deduced for c in other.conclusions if c.kind == "deduce"} - reached
                reached |= fresh
                queue += fresh
    return any(kind in reached for kind, _ in reads(rule))
