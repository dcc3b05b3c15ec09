"""Random stratified rule programs, and a naive evaluation of them written for the tests alone."""

from __future__ import annotations

import random
from itertools import product

from advisor.plan.model import PlanFact
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import Collect, Conclusion, Given, Kind, Not, Pattern, Rule, Test, Var
from advisor.rulebase.strata import strata
from advisor.rulebase.vocabulary import Vocabulary

VALUES = ("p", "q", "r")
LEVELS = {0: ("a", "b"), 1: ("c", "d"), 2: ("e", "f")}
ATTRIBUTES = ("x", "y")
Fact = tuple[str, str, str]  # kind, x, y


def make_program(seed: int) -> tuple[RuleBase, list[PlanFact], list[Rule]]:
    """A rule base of 4 to 9 rules in up to three strata, and up to twelve facts."""
    random_ = random.Random(seed)
    rules = [_rule(random_, number) for number in range(random_.randint(4, 9))]
    kinds = {k: Kind(k, {"x": "text", "y": "text"}, frozenset(), True) for level in LEVELS.values() for k in level}
    levels, problems = strata(rules)
    assert problems == []
    base = RuleBase(Vocabulary(), {}, kinds, tuple(sorted(rules, key=lambda r: r.id)), levels, (), {})
    facts = {
        PlanFact(random_.choice(LEVELS[0]), (("x", random_.choice(VALUES)), ("y", random_.choice(VALUES))))
        for _ in range(random_.randint(5, 12))
    }
    return base, sorted(facts, key=lambda f: (f.kind, f.values)), rules


def _rule(random_: random.Random, number: int) -> Rule:
    level = random_.choice((0, 1, 1, 2, 2))
    head = random_.choice(LEVELS[level])
    lower = [k for n in range(level) for k in LEVELS[n]]
    readable = [*lower, *LEVELS[level]]
    conditions: list = []
    names: list[str] = []
    for _ in range(random_.choice((1, 1, 2, 2, 3))):
        tests = []
        for attribute in ATTRIBUTES:
            choice = random_.random()
            if choice < 0.15:
                tests.append(Test(attribute, "is", (random_.choice(VALUES),)))
            elif choice < 0.25:
                tests.append(Test(attribute, "in", tuple(random_.sample(VALUES, 2))))
            elif choice < 0.9:
                name = random_.choice(("u", "v", "w"))
                names.append(name)
                tests.append(Test(attribute, "bind", (Var(name),)))
        conditions.append(Pattern(random_.choice(readable), tuple(tests), 0))
    if lower and random_.random() < 0.6:
        inside = tuple(_inner(random_, lower, names) for _ in range(random_.choice((1, 1, 2))))
        conditions.append(Not(inside))
    if lower and names and random_.random() < 0.3:
        conditions.append(Collect("n", "count", "x", _inner(random_, lower, names)))
        conditions.append(Given(Var("n"), random_.choice(("at_least", "below")), (float(random_.randint(1, 2)),)))
    used = names or [None]
    values = tuple((a, Var(n) if (n := random_.choice(used)) else random_.choice(VALUES)) for a in ATTRIBUTES)
    conclusion = Conclusion("deduce", 0, deduced=head, values=values)
    return Rule(f"r{number}", "", "p", tuple(conditions), (conclusion,), (), "", (), "", 0)


def _inner(random_: random.Random, lower: list[str], names: list[str]) -> Pattern:
    tests = []
    for attribute in ATTRIBUTES:
        choice = random_.random()
        if choice < 0.3:
            tests.append(Test(attribute, "is", (random_.choice(VALUES),)))
        elif choice < 0.8 and names:
            tests.append(Test(attribute, "bind", (Var(random_.choice(names)),)))
    return Pattern(random_.choice(lower), tuple(tests), 0)


def naive(rules: list[Rule], facts: list[PlanFact]) -> set[Fact]:
    """All facts that follow: stratum by stratum, trying every combination until nothing new comes."""
    known: set[Fact] = {(f.kind, str(f.get("x")), str(f.get("y"))) for f in facts}
    for level in sorted(LEVELS):
        own = [r for r in rules if r.conclusions[0].deduced in LEVELS[level]]
        while True:
            new = {fact for rule in own for fact in _fire(rule, known)} - known
            if not new:
                break
            known |= new
    return known


def _fire(rule: Rule, known: set[Fact]) -> set[Fact]:
    patterns = [c for c in rule.conditions if isinstance(c, Pattern)]
    found = set()
    for combination in product(sorted(known), repeat=len(patterns)):
        env: dict[str, str] | None = {}
        for pattern, fact in zip(patterns, combination, strict=True):
            env = _match(pattern, fact, env) if env is not None else None
        if (
            env is not None
            and all(_holds(c, env, known) for c in rule.conditions if isinstance(c, Not))
            and _counted(rule, env, known)
        ):
            cells = {a: env[v.name] if isinstance(v, Var) else v for a, v in rule.conclusions[0].values}
            found.add((rule.conclusions[0].deduced, cells["x"], cells["y"]))
    return found


def _match(pattern: Pattern, fact: Fact, env: dict[str, str]) -> dict[str, str] | None:
    if fact[0] != pattern.kind:
        return None
    env = dict(env)
    for test in pattern.tests:
        value = fact[1] if test.attribute == "x" else fact[2]
        if test.op == "bind":
            if env.setdefault(test.values[0].name, value) != value:
                return None
        elif value not in test.values:
            return None
    return env


def _holds(condition: Not, env: dict[str, str], known: set[Fact]) -> bool:
    envs = [env]
    for inside in condition.inside:
        envs = [new for one in envs for fact in known if (new := _match(inside, fact, one)) is not None]
    return not envs


def _counted(rule: Rule, env: dict[str, str], known: set[Fact]) -> bool:
    collect = next((c for c in rule.conditions if isinstance(c, Collect)), None)
    if collect is None:
        return True
    given = next(c for c in rule.conditions if isinstance(c, Given))
    count = sum(_match(collect.pattern, fact, env) is not None for fact in known)
    return count >= given.right[0] if given.op == "at_least" else count < given.right[0]
