"""What an answer would change: the plan run again with each possible answer to each open question.

The answers tried are those that rules can tell apart: yes and no; each word that a rule names; a number on
either side of each limit that a rule sets. A question is kept where some answer changes a finding.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from advisor.engine.run import DEFAULT_MATCHER, run
from advisor.plan import make_facts
from advisor.plan.model import Basis, FactBase, Plain, Plan, PlanFact
from advisor.review.findings import said
from advisor.review.trials import Trials
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import SIGNALS, AnyOf, Collect, Condition, Given, Not, Pattern, Test, Var
from advisor.rulebase.values import type_of
from advisor.units import DIMENSIONS, from_base

MAX_ANSWERS = 6


@dataclass(frozen=True, slots=True)
class Effect:
    """One answer and what it does: ids and signals of the findings that go and that come."""

    answer: str
    gone: tuple[tuple[str, str], ...]
    new: tuple[tuple[str, str], ...]

    @property
    def weight(self) -> tuple[int, int]:
        """The gravest changed signal, one that goes before one that comes; then how many findings change."""
        gone, new = ([SIGNALS.index(s) for _, s in items] for items in (self.gone, self.new))
        return max([2 * r + 1 for r in gone] + [2 * r for r in new], default=-1), len(gone) + len(new)


@dataclass(frozen=True, slots=True)
class Ranked:
    """An open question with the effect of each answer, heaviest first."""

    basis: Basis
    effects: tuple[Effect, ...]

    @property
    def weight(self) -> tuple[int, int]:
        """The weight of its heaviest answer."""
        return max((e.weight for e in self.effects), default=(-1, 0))


def findings_of(plan: Plan, rulebase: RuleBase, matcher: str = DEFAULT_MATCHER) -> dict[str, str]:
    """Id and signal of each finding of a plan, without the rounds that check the advice."""
    return said(run(rulebase, make_facts(plan, rulebase.vocabulary).facts, matcher))


@dataclass(frozen=True, slots=True)
class Ranking:
    """The ranked questions, how many trials were made, and how many open questions were not tried."""

    questions: list[Ranked]
    trials: int
    untried: int


def rank_questions(
    plan: Plan, rulebase: RuleBase, matcher: str = DEFAULT_MATCHER, most_trials: int | None = None
) -> Ranking:
    """The open questions whose answer would change a finding, the weightiest first.

    What findings rest on is tried first; with `most_trials` the rest may be left untried, and is counted.
    """
    trials = Trials(plan, rulebase, matcher)
    limits = _limits(rulebase)
    open_ones = [b for b in open_questions(trials.base, rulebase) if trials.may_matter(b)]
    rested = trials.rested_on()
    open_ones.sort(key=lambda b: (b.sort, b.id, b.attribute) not in rested)
    found, made, untried = [], 0, 0
    for basis in open_ones:
        if most_trials is not None and made >= most_trials:
            untried += 1
            continue
        effects = []
        for plain, text in answers(basis, rulebase, limits):
            made += 1
            before, after = trials.without_and_with(basis, plain, text)
            effect = _effect(text, before, after)
            if effect.gone or effect.new:
                effects.append(effect)
        if effects:
            effects.sort(key=lambda e: (*(-w for w in e.weight), e.answer))
            found.append(Ranked(basis, tuple(effects)))
    found.sort(key=lambda r: (*(-w for w in r.weight), r.basis.sort, r.basis.id, r.basis.attribute))
    return Ranking(found, made, untried)


def _effect(text: str, before: dict[str, str], after: dict[str, str]) -> Effect:
    gone = tuple(sorted((i, s) for i, s in before.items() if after.get(i) != s))
    new = tuple(sorted((i, s) for i, s in after.items() if before.get(i) != s))
    return Effect(text, gone, new)


def open_questions(base: FactBase, rulebase: RuleBase) -> list[Basis]:
    """Presumed and unknown values that some rule's pattern asks of a fact that it otherwise fits."""
    patterns: dict[str, list[Pattern]] = {}
    for rule in rulebase.rules:
        for pattern in _patterns(rule.conditions):
            patterns.setdefault(pattern.kind, []).append(pattern)
    found: dict[tuple[str, str, str], Basis] = {}
    for fact in base.facts:
        if fact.kind == "item":
            continue
        own = str(fact.get("id"))
        for pattern in patterns.get(fact.kind, ()):
            for name in _open_attributes(pattern, fact):
                key = (fact.kind, own, name)
                basis = base.presumptions.get(key) or base.unknowns.get(key)
                if basis is not None:
                    found[key] = basis
    listed = {home for pattern in patterns.get("item", ()) for home in _lists(pattern, rulebase)}
    for basis in base.unknowns.values():  # lists are read member by member, through `item`
        if (basis.sort, basis.attribute) in listed:
            found.setdefault((basis.sort, basis.id, basis.attribute), basis)
    kinds = {str(f.get("id")): str(f.get("kind") or "") for f in base.facts if f.kind == "part"}
    return [found[key] for key in sorted(found) if not _silly(found[key], kinds, rulebase)]


def _silly(basis: Basis, kinds: Mapping[str, str], rulebase: RuleBase) -> bool:
    """Whether nobody would ask it of such a part: a laboratory test of a cabinet door."""
    if basis.sort != "part":
        return False
    taxonomy = rulebase.vocabulary.taxonomies["part_kind"]
    attribute = rulebase.vocabulary.attributes[basis.sort][basis.attribute]
    return any(kinds.get(basis.id, "") in taxonomy.below(kind) for kind in attribute.not_asked_of)


def _open_attributes(pattern: Pattern, fact: PlanFact) -> Iterator[str]:
    """The presumed or unknown attributes that the pattern tests, where its firm tests on the fact pass."""
    from advisor.engine.memory import passes

    values = dict(fact.values)
    soft = {t.attribute for t in pattern.tests if t.attribute in fact.presumed or t.attribute not in values}
    for test in pattern.tests:
        if test.attribute in soft or test.op in ("bind", "unknown", "known"):
            continue
        if any(isinstance(v, Var) for v in test.values):
            continue
        if not passes(test, values[test.attribute], {}):
            return
    yield from sorted(soft)


def _lists(pattern: Pattern, rulebase: RuleBase) -> Iterator[tuple[str, str]]:
    """The lists that an `item` pattern reads, as sort and attribute."""
    constants = {t.attribute: t.values for t in pattern.tests if t.op in ("is", "in")}
    for attribute in constants.get("attribute", ()):
        for sort in constants.get("sort", tuple(rulebase.vocabulary.attributes)):
            yield str(sort), str(attribute)


def _patterns(conditions: Iterable[Condition]) -> Iterator[Pattern]:
    for condition in conditions:
        if isinstance(condition, Pattern):
            yield condition
        elif isinstance(condition, Not):
            yield from _patterns(condition.inside)
        elif isinstance(condition, Collect):
            yield condition.pattern
        elif isinstance(condition, AnyOf):
            for branch in condition.branches:
                yield from _patterns(branch)


Limits = dict[tuple[str, str], set[Plain]]


def _limits(rulebase: RuleBase) -> Limits:
    """The values of each attribute that rules tell apart, also those compared through a variable."""
    limits: Limits = {}
    for rule in rulebase.rules:
        homes: dict[str, set[tuple[str, str]]] = {}
        tests: list[tuple[tuple[str, str], Test]] = []
        for pattern in _patterns(rule.conditions):
            for test in pattern.tests:
                home = (pattern.kind, test.attribute)
                if pattern.kind == "item" and test.attribute == "value":
                    tests.extend((listed, test) for listed in _lists(pattern, rulebase))
                else:
                    tests.append((home, test))
        for home, test in tests:
            for value in test.values:
                if isinstance(value, Var):
                    homes.setdefault(value.name, set()).add(home)
                else:
                    limits.setdefault(home, set()).add(value)
        for condition in rule.conditions:
            if isinstance(condition, Given) and isinstance(condition.left, Var):
                for home in homes.get(condition.left.name, ()):
                    limits.setdefault(home, set()).update(v for v in condition.right if not isinstance(v, Var))
    return limits


def answers(basis: Basis, rulebase: RuleBase, limits: Limits) -> list[tuple[Plain, str]]:
    """The answers worth trying: value for the engine and text for a reader."""
    attribute = rulebase.vocabulary.attributes[basis.sort][basis.attribute]
    kind = type_of(attribute)
    known = limits.get((basis.sort, basis.attribute), set())
    if kind == "yes_no":
        return [(word, word) for word in ("yes", "no") if word != basis.value]
    if kind.startswith("term:"):
        return _words(kind[5:], attribute.many, known, basis, rulebase)
    if kind in ("text", "date", "profile") or kind.startswith("ref:"):
        return []
    numbers = sorted(float(v) for v in known if isinstance(v, int | float))
    if not numbers:
        return []
    tried: list[tuple[Plain, str]] = []
    for number in numbers[:MAX_ANSWERS]:
        step = 1.0 if kind in ("year", "count") else abs(number) * 0.1 or 0.1
        for value in (number - step, number + step):
            if value < 0 and kind != "temperature":
                continue
            plain: Plain = int(value) if kind in ("year", "count") else value
            tried.append((plain, _number_text(plain, kind)))
    return list({text: (plain, text) for plain, text in tried}.values())[: MAX_ANSWERS * 2]


def _number_text(plain: Plain, kind: str) -> str:
    if kind in DIMENSIONS and isinstance(plain, int | float):
        unit = DIMENSIONS[kind][1]
        return f"{from_base(float(plain), unit, kind):.6g} {unit}".strip()
    return str(plain)


def _words(taxonomy: str, many: bool, known: set[Plain], basis: Basis, rulebase: RuleBase) -> list[tuple[Plain, str]]:
    """One word for each set of words that rules treat alike, and one that none names."""
    terms = rulebase.vocabulary.taxonomies[taxonomy]
    named = sorted(str(w) for w in known if str(w) in terms.terms)
    tops = [w for w in named if not set(terms.above(w)) & set(named)]
    other = next((w for w in sorted(terms.terms) if w not in known), None)
    chosen = [w for w in [*tops[:MAX_ANSWERS], other] if w is not None and w != basis.value]
    return [((word,) if many else word, word) for word in chosen] + ([((), "none")] if many else [])
