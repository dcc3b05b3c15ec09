"""One run: facts in, conclusions out, each with what it rests on."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from advisor.calculators import Result
from advisor.engine.guards import Failure, State, solve, value_of
from advisor.engine.matcher import IndexedMatcher
from advisor.engine.memory import Derivation, Env, Memory, Record
from advisor.engine.network import Network, forget, network
from advisor.plan.model import PlanFact
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import Conclusion
from advisor.rulebase.split import Variant
from advisor.rulebase.vocabulary import Taxonomy
from advisor.site.answers import answer
from advisor.site.model import Site

# What `--matcher` may choose; None is experta's own, the reference that the others are tested against.
MATCHERS: dict[str, Any] = {"indexed": IndexedMatcher, "stock": None}
DEFAULT_MATCHER = "indexed"
MAX_FACTS = 200_000


@dataclass(slots=True, eq=False)
class Drawn:
    """A conclusion that is no fact: the rule's words with the match that led to them."""

    conclusion: Conclusion
    why: Derivation
    results: tuple[tuple[str, Result], ...]
    index: int = -1  # of the conclusion among its rule's, where its words were changed
    answer: tuple[str, ...] = ()  # of a need: move, again or add, and the steps that are meant

    @property
    def env(self) -> Env:
        """The variables bound in the match."""
        return self.why.env


@dataclass(slots=True)
class Outcome:
    """All that a run came to."""

    memory: Memory
    drawn: list[Drawn] = field(default_factory=list)
    failures: list[Failure] = field(default_factory=list)
    site: Site | None = None  # what is true at each step; None where no rule speaks of states


class Session:
    """What the firing rules of one run write to."""

    def __init__(self, net: Network, taxonomies: Mapping[str, Taxonomy]) -> None:
        self.net = net
        self.outcome = Outcome(Memory(taxonomies))

    def fire(self, variant: Variant, env: Env, records: tuple[Record, ...]) -> None:
        """Work out the guards of a joined match and take its conclusions."""
        memory = self.outcome.memory
        support = tuple(zip(variant.patterns, records, strict=True))
        start = State(env, support)
        rule = variant.rule
        # Listed before anything is concluded: a conclusion must not change what the guards look through.
        states = (
            list(solve(variant.guards, start, memory, self.outcome.failures, rule.id)) if variant.guards else [start]
        )
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
            if new[-1].number > MAX_FACTS:
                raise RuntimeError(f"more than {MAX_FACTS} facts were deduced")
            self.net.engine.declare(*self.net.facts_of(new))


def run(rulebase: RuleBase, facts: Iterable[PlanFact], matcher: str = DEFAULT_MATCHER) -> Outcome:
    """Run the rules over the facts. Same facts and rules, same outcome, in the same order.

    Raises KeyError for an unknown matcher. After any error the engine is thrown away, never reused.
    """
    chosen = MATCHERS[matcher]
    net = network(rulebase, chosen)
    engine = net.engine
    session = Session(net, rulebase.vocabulary.taxonomies)
    engine.session = session
    try:
        engine.reset()
        stated = [session.outcome.memory.add_stated(fact) for fact in facts]
        engine.declare(*net.facts_of(stated))
        engine.run()
    except BaseException:
        forget(rulebase, chosen)
        raise
    finally:
        engine.session = None
    outcome = session.outcome
    outcome.drawn, outcome.site = answer(outcome.memory, outcome.drawn, rulebase.states)
    return outcome
