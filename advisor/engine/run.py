"""One run: facts in, conclusions out, each with what it rests on. `site/run.py` says which needs among them hold."""

from __future__ import annotations

import gc
from collections.abc import Iterable
from typing import Any

from msgspec import Struct, field

from advisor.calculators import Result
from advisor.engine.bounds import MATCH, MOST_OF_ALL, TOO_MUCH, Tally, made, silent, too_long, without
from advisor.engine.guards import Failure, PartialMatch, solve, value_of, workings
from advisor.engine.matcher import IndexedMatcher
from advisor.engine.memory import UNBOUNDED, Derivation, Env, Exceeded, Memory, Record
from advisor.engine.network import Network, forget, network
from advisor.plan.model import Basis, PlanFact
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import Conclusion
from advisor.rulebase.split import Variant

# What `--matcher` may choose; None is experta's own, the reference that the others are tested against.
MATCHERS: dict[str, Any] = {"indexed": IndexedMatcher, "stock": None}
DEFAULT_MATCHER = "indexed"
MUCH = 400_000  # done in one run, from which on it is worth while to clear the matcher at once
PASSES = 6  # each is without the rules that the one before gave up; one more than the first has been enough


class Drawn(Struct, eq=False):
    """A conclusion that is no fact: the rule's words with the match that led to them."""

    conclusion: Conclusion
    why: Derivation
    results: tuple[tuple[str, Result], ...]
    index: int = -1  # of the conclusion among its rule's, where its words were changed
    answer: tuple[str, ...] = ()  # of a need: move, again or unknown, and the steps that are meant; empty: do it
    rests: tuple[Basis, ...] = ()  # what is unknown and decides whether a need holds

    @property
    def env(self) -> Env:
        """The variables bound in the match."""
        return self.why.env


class Outcome(Struct):
    """All that a run came to."""

    memory: Memory
    drawn: list[Drawn] = field(default_factory=list)
    failures: list[Failure] = field(default_factory=list)
    unchecked: dict[str, str] = field(default_factory=dict)  # rules that were given up, or that hang on one; why
    spent: int = 0  # see `bounds.py`
    cut: frozenset[str] = frozenset()  # rules whose findings may rest on more than was looked at


class Session:
    """What the firing rules of one run write to."""

    def __init__(self, net: Network, rulebase: RuleBase) -> None:
        self.net = net
        self.outcome = Outcome(Memory(rulebase.vocabulary.taxonomies, workings(rulebase)))

    def fire(self, variant: Variant, env: Env, records: tuple[Record, ...]) -> None:
        """Work out the guards of a joined match and take its conclusions, unless the rule was given up."""
        ledger, rule = self.net.ledger, variant.rule
        tally = ledger.tallies[rule.id]
        ledger.look_at_the_clock()
        if tally.over:
            return
        try:
            self._fire(variant, env, records, tally)
        except Exceeded:
            tally.over = True

    def _fire(self, variant: Variant, env: Env, records: tuple[Record, ...], tally: Tally) -> None:
        memory, ledger, rule = self.outcome.memory, self.net.ledger, variant.rule
        support = tuple(zip(variant.patterns, records, strict=True))
        start = PartialMatch(env, support)
        # Listed before anything is concluded: a conclusion must not change what the guards look through.
        states = self._states(variant, start, tally) if variant.guards else [start]
        ledger.charge(tally, MATCH * max(0, len(states) * len(rule.conclusions) - self.net.joins_counted))
        new: list[Record] = []
        for state in states:
            why = Derivation(variant, state.env, state.support, state.collected)
            for conclusion in rule.conclusions:
                if conclusion.kind != "deduce":
                    self.outcome.drawn.append(Drawn(conclusion, why, state.results))
                    continue
                values = tuple([(name, value_of(operand, state.env)) for name, operand in conclusion.values])
                record = memory.add_deduced(conclusion.deduced, values, why)
                if record is not None:
                    new.append(record)
        if new:
            self.net.engine.declare(*self.net.facts_of(new))

    def _states(self, variant: Variant, start: PartialMatch, tally: Tally) -> list[PartialMatch]:
        memory, ledger = self.outcome.memory, self.net.ledger
        memory.looked, memory.most = 0, ledger.limit - tally.spent
        states = []
        try:
            for state in solve(variant.guards, start, memory, self.outcome.failures, variant.rule.id):
                states.append(state)
                memory.count(MATCH)
        finally:
            used, memory.most = memory.looked - MATCH * len(states), UNBOUNDED
            ledger.charge(tally, used)
        return states


def run_rules(
    rulebase: RuleBase,
    facts: Iterable[PlanFact],
    matcher: str = DEFAULT_MATCHER,
    given_up: Iterable[str] = (),
    most: int = MOST_OF_ALL,
    *,
    further: bool = False,
) -> Outcome:
    """Run the rules over the facts. Same facts and rules, same outcome, in the same order.

    A rule that would do too much is given up, as those are that an earlier run of the review named in `given_up`;
    what then is not checked stands in the outcome. `most` is what all rules together may do; a `further` run of one
    review takes its turns without experta's log, which comes to the same. Raises KeyError for an unknown matcher,
    InputError where no end comes. After any error the engine is thrown away, never reused.
    """
    net = network(rulebase, MATCHERS[matcher])
    stated = list(facts)
    unchecked = without(rulebase, given_up) if given_up else {}
    spent = 0
    for _ in range(PASSES):
        outcome = _once(rulebase, net, stated, matcher, silent(unchecked), most, further)
        spent += net.ledger.total
        over = {tally.rule for tally in net.ledger.tallies.values() if tally.over} - silent(unchecked)
        if not over:
            break
        first = {name for name, reason in unchecked.items() if reason == TOO_MUCH} | over
        unchecked = without(rulebase, first)
        if not any(made(rule) for rule in rulebase.rules if rule.id in over):  # the rest stands as it is
            _forget(outcome, over)
            break
    else:
        raise too_long()
    outcome.unchecked, outcome.spent = unchecked, spent
    return outcome


def _forget(outcome: Outcome, rules: set[str]) -> None:
    """What rules said before they were given up: a part of it would depend on where they were stopped."""
    outcome.drawn = [d for d in outcome.drawn if d.why.variant.rule.id not in rules]  # type: ignore[attr-defined]
    outcome.failures = [f for f in outcome.failures if f.rule not in rules]


def _once(
    rulebase: RuleBase,
    net: Network,
    facts: list[PlanFact],
    matcher: str,
    given_up: frozenset[str],
    most: int,
    further: bool,
) -> Outcome:
    engine = net.engine
    session = Session(net, rulebase)
    engine.session = session
    net.ledger.clear(given_up, most)
    try:
        engine.reset()
        stated = [session.outcome.memory.add_stated(fact) for fact in facts]
        engine.declare(*net.facts_of(stated))
        engine.run_on() if further and matcher == DEFAULT_MATCHER else engine.run()
    except BaseException:
        forget(rulebase, MATCHERS[matcher])
        raise
    finally:
        engine.session = None
    outcome = session.outcome
    if net.ledger.total > MUCH:
        engine.reset()  # it would keep every match till the next run
        gc.collect(0)  # and matches know each other: the command sweeps them up seldom
    return outcome
