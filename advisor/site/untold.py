"""Needs of which nobody can tell whether they hold, because something that the plan leaves out decides it.

A breaker is off, and the plan does not say what it feeds: the outlet may be dead or live. What steps may do beside
what they surely do hangs on sets of assumptions; under each of them the site is gone through once more. A need that
fails, and holds under one, is told with the question that decides it; one that holds, and fails under one, is open.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec import Struct, field
from msgspec.structs import replace

from advisor.plan.model import Plan
from advisor.rulebase.base import RuleBase
from advisor.rulebase.forms import rules_of
from advisor.rulebase.model import Rule
from advisor.site.assume import Key as Unknown
from advisor.site.assume import Set, Ways, meet, pruned
from advisor.site.cells import Open
from advisor.site.evaluate import Evaluation
from advisor.site.limits import Budget
from advisor.site.model import FIRM, Effect, Key, Need, SimulatedSite
from advisor.site.possible import May, Possible
from advisor.site.simulate import failures, look, states_before

_MOST = 24  # sets of assumptions that are gone through


class Untold(Struct):
    """A need that holds or fails by something unknown: what it hangs on, and the steps that may decide it."""

    need: Need
    holds: bool  # as the plan stands
    ways: Ways
    steps: tuple[str, ...]

    @property
    def unknowns(self) -> tuple[Unknown, ...]:
        """What it hangs on, first what is unknown of the thing itself."""
        found = {key for one in self.ways for key, c in one.items() if not c[1] and key[0] not in "!~"}
        own = {of for _, of in self.need.keys}
        return tuple(sorted(found, key=lambda key: (key[1] not in own, key)))


class _Guess(Struct):
    """A set of assumptions, and what the steps of the plan would do besides under it."""

    assumed: Set
    effects: list[Effect] = field(default_factory=list)


def untold(site: SimulatedSite, possible: Possible, plan: Plan, rulebase: RuleBase) -> list[Untold]:
    """The firm needs that something unknown decides; the states that it decides are noted in the site."""
    if possible.given_up or not any(need.firmness >= FIRM for needs in site.needs for need in needs):
        return []
    known = {effect for effects in site.effects for effect in effects}
    number = {step: place for place, step in enumerate(site.steps)}
    may = [
        (effect, one.ways)
        for one in _effects(possible, plan, rulebase)
        for effect in _grounded(one, site, number)
        if effect not in known
    ]
    fails = {id(failure.need): failure.need for failure in failures(site, site.order())}
    now = _course(site)
    found: dict[int, tuple[Need, list[Set], set[int]]] = {}
    for guess in _guesses(may):
        other = _under(site, guess)
        then = {id(f.need): f.need for f in failures(other, other.order())}
        for own in sorted(fails.keys() ^ then.keys(), key=lambda k: _place(fails.get(k) or then[k])):
            need = fails.get(own) or then[own]
            if need.firmness >= FIRM and need.drawn is not None and need.drawn.conclusion.kind != "order":
                entry = found.setdefault(own, (need, [], set()))
                entry[1].append(guess.assumed)
                entry[2].update(e.step for e in guess.effects if e.key in need.keys and e.step < need.step)
        course = _course(other)
        site.unknown |= {place for place in course if course[place] != now.get(place)}
    return [
        Untold(need, own not in fails, pruned(ways), tuple(site.steps[s] for s in sorted(steps)))
        for own, (need, ways, steps) in found.items()
    ]


def _place(need: Need) -> tuple[int, str, str]:
    return need.step, need.rule, repr(need.keys)


def _effects(possible: Possible, plan: Plan, rulebase: RuleBase) -> Iterator[May]:
    """What steps may do, and do not surely do."""
    budget = Budget(rulebase, ())
    run = Evaluation(rules_of(rulebase), possible.site, rulebase.vocabulary.taxonomies, budget, possible.store)
    run.heard = ("effect",)
    for rule in _bringing(rulebase.rules):
        run.see(rule)
    if budget.given_up:
        return
    for one in run.drawn:
        if not one.speaks:
            yield one


def _bringing(rules: Iterable[Rule]) -> Iterator[Rule]:
    return (rule for rule in rules if any(c.kind == "effect" and c.mode != "starts" for c in rule.conclusions))


def _grounded(one: May, site: SimulatedSite, number: dict[str, int]) -> Iterator[Effect]:
    """The effects with every thing filled in; of things that the plan does not list there are none."""
    conclusion, env = one.conclusion, one.env
    step = conclusion.step and env.get(conclusion.step.name)
    if conclusion.mode == "starts" or step not in number:
        return
    names = {goal.of.name for goal in (*conclusion.goals, *conclusion.only_if) if goal.of is not None}
    if any(isinstance(env.get(name), Open) or str(env.get(name, "?")).startswith("?") for name in names):
        return

    def key(state: str, of: object) -> Key:
        return state, "" if of is None else str(env[of.name])  # type: ignore[attr-defined]

    only_if = tuple((key(g.state, g.of), frozenset(g.values)) for g in conclusion.only_if)
    for goal in conclusion.goals:
        if not site.states[goal.state].settles:
            yield Effect(
                number[str(step)], key(goal.state, goal.of), goal.values[0], conclusion.mode, only_if, one.rule.id,
                conclusion.after,
            )  # fmt: skip


def _guesses(may: list[tuple[Effect, Ways]]) -> Iterator[_Guess]:
    """Each set of assumptions with all that follows from it, and as many at once as do not contradict each other."""
    sets: list[Set] = []
    for _, ways in may:
        sets += [one for one in ways if one not in sets]
    sets.sort(key=lambda one: (len(one), repr(sorted((k, repr(c)) for k, c in one.items()))))
    together: Set = {}
    for one in sets:
        together = meet(together, one) or together
    for assumed in [*sets[:_MOST], *([together] if len(sets) > 1 and together not in sets else [])]:
        yield _Guess(assumed, [e for e, ways in may if any(meet(assumed, way) == assumed for way in ways)])


def _under(site: SimulatedSite, guess: _Guess) -> SimulatedSite:
    effects = [list(own) for own in site.effects]
    for effect in guess.effects:
        if effect not in effects[effect.step]:
            effects[effect.step].append(effect)
    for own in effects:
        own.sort(key=lambda e: (e.mode == "brings", e.key, e.value, e.rule))
    return replace(site, effects=effects)


def _course(site: SimulatedSite) -> dict[tuple[int, Key], str]:
    """What is so before each step, of the states that its needs read."""
    return {
        (step, key): look(key, values, site)[0]
        for step, values in states_before(site, site.order())
        for need in site.needs[step]
        for key in need.keys
    }
