"""Both matchers side by side through random declarations, retractions and firings: one agenda, always."""

from __future__ import annotations

import random
from typing import Any

import pytest

from advisor.engine.matcher import IndexedMatcher
from advisor.engine.memory import Memory, Record
from advisor.engine.network import Network
from advisor.engine.run import Outcome
from advisor.plain import Plain
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import Conclusion, Kind, Not, Pattern, Rule, Var
from advisor.rulebase.model import Test as Asked  # pytest would take a name beginning with Test for its own
from advisor.rulebase.split import Variant
from advisor.rulebase.vocabulary import Vocabulary

KINDS = ("a", "b", "c")
WORDS = ("p", "q", "r")
NUMBERS = (1.0, 2.0, 3.0)


def _test(pick: random.Random, attribute: str, own: str) -> Asked | None:
    """Any test that a matcher handles; `n` holds numbers, `m` lists, the others words."""
    choice = pick.random()
    if choice < 0.1:
        return Asked(attribute, "unknown")
    if choice < 0.15:
        return Asked(attribute, "known")
    if attribute == "n":
        op = pick.choice(("above", "at_least", "below", "at_most", "is"))
        return Asked(attribute, op, (pick.choice(NUMBERS),)) if choice < 0.6 else None
    if attribute == "m":
        op = pick.choice(("is", "in", "not_in"))
        return Asked(attribute, op, tuple(pick.sample(WORDS, pick.randint(1, 2))), many=True) if choice < 0.5 else None
    if choice < 0.35:
        return Asked(attribute, "in", tuple(pick.sample(WORDS, pick.randint(1, 2))))
    if choice < 0.42:
        return Asked(attribute, "not_in", (pick.choice(WORDS),))
    return Asked(attribute, "bind", (Var(pick.choice(("u", "v", own))),)) if choice < 0.9 else None


def _pattern(pick: random.Random, own: str) -> Pattern:
    tests = [t for a in ("x", "y", "n", "m") if (a in "xy" or pick.random() < 0.3) and (t := _test(pick, a, own))]
    return Pattern(pick.choice(KINDS), tuple(tests), 0)


def _rules(pick: random.Random) -> RuleBase:
    rules = []
    for number in range(6):
        conditions: list[Any] = [_pattern(pick, f"w{n}") for n in range(pick.choice((0, 1, 2, 2, 3)))]
        for n in range(pick.choice((0, 1, 1, 2)) or not conditions):
            conditions.append(Not((_pattern(pick, f"z{n}"),)))
        said = Conclusion("warn", 0)
        rules.append(Rule(f"r{number}", "", "p", tuple(conditions), (said,), (), "", (), "", 0))
    kinds = {k: Kind(k, {}, frozenset(), True) for k in KINDS}
    levels = {rule.id: pick.randint(0, 2) for rule in rules}
    return RuleBase(Vocabulary(), {}, kinds, tuple(rules), levels, (), {})


def _values(pick: random.Random) -> dict[str, Plain]:
    values: dict[str, Plain] = {}
    for attribute in ("x", "y"):
        if pick.random() < 0.85:
            values[attribute] = pick.choice(WORDS)
    if pick.random() < 0.5:
        values["n"] = pick.choice(NUMBERS)
    if pick.random() < 0.5:
        values["m"] = tuple(sorted(pick.sample(WORDS, pick.randint(0, 2))))
    return values


class _Side:
    """One engine, and what fired in it."""

    def __init__(self, rulebase: RuleBase, matcher: type[Any] | None) -> None:
        self.net = Network(rulebase, matcher)
        self.engine = self.net.engine
        self.engine.session = self
        self.outcome = Outcome(Memory())
        self.fired: list[tuple[str, list[int], list[tuple[str, Plain]]]] = []
        self.facts: dict[int, Any] = {}
        self.doing: list[Any] = []  # what the next firing does: records to declare, numbers to retract

    def fire(self, variant: Variant, env: dict[str, Plain], records: tuple[Record, ...]) -> None:
        self.fired.append((f"{variant.rule.id} {variant.number}", [r.number for r in records], sorted(env.items())))
        for what in self.doing:
            self.change(what)
        self.doing = []

    def change(self, what: Record | int) -> None:
        if isinstance(what, int):
            self.engine.retract(self.facts.pop(what))
            return
        self.outcome.memory.records.append(what)
        self.facts[what.number] = self.net.facts_of([what])[0]
        self.engine.declare(self.facts[what.number])

    def settle(self) -> None:
        """Match what the firing changed: experta would at the next one, and its matcher cannot take both at once."""
        engine = self.engine
        engine.strategy.update_agenda(engine.agenda, *engine.get_activations())

    def agenda(self) -> list[tuple[int, ...]]:
        keys = [tuple(a.key) for a in self.engine.agenda.activations]
        # The stock matcher's facts count from InitialFact on, which has number 0; ours are the records' own.
        return (
            keys if isinstance(self.engine.matcher, IndexedMatcher) else [(k[0], *(n - 1 for n in k[1:])) for k in keys]
        )


def _play(seed: int, again: bool) -> tuple[list[Any], list[Any]]:
    """One random game on both sides; `again` plays it a second time after a reset."""
    pick = random.Random(seed)
    rulebase = _rules(pick)
    sides = [_Side(rulebase, matcher) for matcher in (IndexedMatcher, None)]
    seen: tuple[list[Any], list[Any]] = ([], [])
    for _ in range(2 if again else 1):
        for side in sides:
            side.engine.reset()
            side.outcome, side.facts = Outcome(Memory()), {}
        number = 0
        for _ in range(16):
            choice = pick.random()
            known = sorted(sides[0].facts)
            new = Record(number, pick.choice(KINDS), _values(pick))
            what: Any = pick.choice(known) if known and choice < 0.25 else new
            number += what is new
            run = choice > 0.7
            for side, log in zip(sides, seen, strict=True):
                if run:
                    side.doing = [what]
                    side.engine.run(1)
                    side.settle()
                    if side.doing:  # nothing was left to fire
                        side.doing = []
                        side.change(what)
                else:
                    side.change(what)
                log.append(side.agenda())
        for side, log in zip(sides, seen, strict=True):
            side.engine.run()
            log.append(list(side.fired))
    return seen


@pytest.mark.parametrize("block", range(4))
def test_both_matchers_keep_one_agenda_through_retractions(block: int) -> None:
    """Sixteen changes a game, some of them made by a rule that fires; every second game is played again after reset."""
    wrong = []
    for seed in range(block * 60, block * 60 + 60):
        own, stock = _play(seed, again=seed % 2 == 0)
        if own != stock:
            wrong.append(seed)

    assert wrong == []


def test_what_is_taken_back_is_what_was_handed_out() -> None:
    """The very object, as experta's own agenda compares by more than the key."""
    for seed in range(60):
        pick = random.Random(seed)
        side = _Side(_rules(pick), IndexedMatcher)
        side.engine.reset()
        given: set[int] = {id(a) for a in side.engine.agenda.activations}
        keep = list(side.engine.agenda.activations)  # an id is free again when its object goes
        for number in range(12):
            if number % 3 == 2:
                side.engine.facts.retract(side.facts.pop(pick.choice(sorted(side.facts))))
            else:
                record = Record(number, pick.choice(KINDS), _values(pick))
                side.facts[number] = side.net.facts_of([record])[0]
                side.engine.facts.declare(side.facts[number])
            added, removed = side.engine.get_activations()

            assert [a.key for a in removed if id(a) not in given] == []
            given |= {id(a) for a in added}
            keep += added


def test_a_reset_forgets_what_waited_for_a_fact_to_be_absent() -> None:
    """Fact 0 has another value after the reset; what was waiting before it must not touch it."""
    conditions = (
        Pattern("a", (Asked("x", "bind", (Var("u"),)),), 0),
        Not((Pattern("b", (Asked("x", "bind", (Var("u"),)),), 0),)),
    )
    rule = Rule("r", "", "p", conditions, (Conclusion("warn", 0),), (), "", (), "", 0)
    kinds = {k: Kind(k, {}, frozenset(), True) for k in KINDS}
    side = _Side(RuleBase(Vocabulary(), {}, kinds, (rule,), {"r": 0}, (), {}), IndexedMatcher)
    agendas = []
    for value in ("p", "q"):
        side.engine.reset()
        side.change(Record(0, "a", {"x": value}))
        agendas.append(side.agenda())
    side.change(Record(1, "b", {"x": "p"}))
    agendas.append(side.agenda())
    side.change(Record(2, "b", {"x": "q"}))

    assert [*agendas, side.agenda()] == [[(0, 0)], [(0, 0)], [(0, 0)], []]


def test_the_games_are_not_trivial() -> None:
    """Agendas fill and empty, and matches of two facts and more are taken back."""
    lengths: set[int] = set()
    fired = 0
    for seed in range(60):
        own, _ = _play(seed, again=False)
        lengths |= {len(agenda) for agenda in own[:-1]}
        fired += sum(len(numbers) > 1 for _, numbers, _ in own[-1])

    assert (max(lengths) > 10, fired > 50) == (True, True)
