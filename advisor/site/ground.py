"""The site of one run: its steps, what each does to states, and what each needs, with every thing filled in.

Reach through places was settled by the rules: an effect names each thing that it reaches. Steps are numbered in the
order of the plan, advised ones at their place between; whoever wants another order gives the numbers in that order.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from advisor.engine.guards import State as Match
from advisor.engine.guards import solve
from advisor.rulebase.implied import MARK
from advisor.rulebase.model import SIGNALS, Goal, State

if TYPE_CHECKING:
    from advisor.engine.memory import Env, Memory
    from advisor.engine.run import Drawn

Key = tuple[str, str]  # a state and the thing that it is of ('' for the house)
Want = tuple[Key, frozenset[str]]
DONE = "done"  # the state of a step: whether it was done yet
PASSED = "passed"  # the same of a step that may not be moved for it
SINCE = "since"  # the state of a need that a step opens and another closes
INNER, ORDER, FIRM = 0, 1, 2  # firmness of needs: of an effect itself, of order.yaml, of a rule (and its signal word)


@dataclass(frozen=True, slots=True)
class Effect:
    """What a step makes of one state of one thing, provided that `only_if` was so before it."""

    step: int
    key: Key
    value: str
    mode: str  # brings, spoils, puts_back, by_the_way
    only_if: tuple[Want, ...]
    rule: str
    after: int = 0  # so many of `only_if`, the last ones, are what it comes after


@dataclass(slots=True, eq=False)
class Need:
    """What must be so before a step: one of `wants`, and none of `never`."""

    step: int
    wants: tuple[Want, ...]
    never: tuple[Want, ...]
    rule: str
    firmness: int
    because: str
    drawn: Drawn | None = None

    @property
    def keys(self) -> tuple[Key, ...]:
        """The states that it reads."""
        return tuple(dict.fromkeys(key for key, _ in (*self.wants, *self.never)))


@dataclass(slots=True)
class Site:
    """Everything that a simulation reads."""

    steps: list[str]  # ids, in the order of the plan
    states: Mapping[str, State]
    start: dict[Key, str] = field(default_factory=dict)  # where it is not the state's first value
    effects: list[list[Effect]] = field(default_factory=list)  # by step
    needs: list[list[Need]] = field(default_factory=list)  # by step
    done: frozenset[int] = frozenset()  # steps that are over already
    advised: frozenset[int] = frozenset()
    conditions: dict[int, tuple[str, str]] = field(default_factory=dict)  # step: test and result it depends on
    actions: dict[int, frozenset[str]] = field(default_factory=dict)  # what each step does, as the sentence means it

    def at_start(self, key: Key) -> str:
        """What is so before the first step."""
        if key in self.start:
            return self.start[key]
        state = self.states.get(key[0])
        return state.values[0] if state else ""

    def order(self) -> list[int]:
        """The order of the plan."""
        return list(range(len(self.steps)))


def ground(memory: Memory, drawn: Iterable[Drawn], states: Mapping[str, State]) -> Site:
    """The site of a run, from the conclusions that its rules drew."""
    ids = sorted(map(str, memory.places), key=lambda own: (memory.places[own], own))
    number = {own: place for place, own in enumerate(ids)}
    site = Site(ids, states, effects=[[] for _ in ids], needs=[[] for _ in ids])
    for record in memory.by_kind.get("step", []):
        own = number[str(record.values["id"])]
        if "do" in record.values:
            site.actions[own] = site.actions.get(own, frozenset()) | {str(record.values["do"])}
        if record.values.get("done") == "yes":
            site.done |= {own}
        if record.advised and "advised" in ids[own]:
            site.advised |= {own}
    orders: dict[tuple[str, int, str], list[Drawn]] = {}
    effects: dict[Effect, None] = {}
    windows: list[Drawn] = []
    for one in drawn:
        conclusion = one.conclusion
        if conclusion.kind == "effect":
            _take_effect(site, one, number, effects)
        elif conclusion.kind == "order" and conclusion.windows:
            windows.append(one)
        elif conclusion.kind == "order" and conclusion.first is None:
            _take_need(site, one, number, ORDER)
        elif conclusion.kind == "order":
            assert conclusion.step and conclusion.first
            then, first = (number[str(one.env[v.name])] for v in (conclusion.step, conclusion.first))
            apart = str(one.env[conclusion.first.name]) if conclusion.mode == "all" else str(one.env.get("part", ""))
            if first != then:
                orders.setdefault((_rule(one), then, apart), []).append(one)
        elif conclusion.goals or conclusion.never:
            _take_need(site, one, number, FIRM + SIGNALS.index(conclusion.signal))
    for effect in effects:
        site.effects[effect.step].append(effect)
    _take_orders(site, orders, number)
    for one in windows:
        take_windows(site, one, number, memory)
    _take_inner(site)
    for needs in site.needs:
        needs.sort(key=lambda n: (-n.firmness, n.rule, sorted((k, sorted(v)) for k, v in (*n.wants, *n.never))))
    return site


def _rule(drawn: Drawn) -> str:
    return str(drawn.why.variant.rule.id).partition(MARK)[0]  # type: ignore[attr-defined]


def _want(goal: Goal, env: Env) -> Want:
    return (goal.state, "" if goal.of is None else str(env[goal.of.name])), frozenset(goal.values)


def _take_need(site: Site, drawn: Drawn, number: dict[str, int], firmness: int) -> None:
    conclusion = drawn.conclusion
    assert conclusion.step
    step = number.get(str(drawn.env[conclusion.step.name]))
    if step is None or step in site.done:
        return
    wants, never = (tuple(_want(g, drawn.env) for g in goals) for goals in (conclusion.goals, conclusion.never))
    site.needs[step].append(Need(step, wants, never, _rule(drawn), firmness, conclusion.because, drawn))


def _take_effect(site: Site, drawn: Drawn, number: dict[str, int], effects: dict[Effect, None]) -> None:
    conclusion = drawn.conclusion
    for goal in conclusion.goals:
        key, (value,) = _want(goal, drawn.env)
        if conclusion.mode == "starts":
            known = site.start.get(key)
            order = site.states[goal.state].values
            # Of two values at the start the one that stands later in the list is the graver.
            site.start[key] = value if known is None else max(known, value, key=order.index)
            continue
        assert conclusion.step
        step = number[str(drawn.env[conclusion.step.name])]
        only_if = tuple(_want(g, drawn.env) for g in conclusion.only_if)
        effects.setdefault(Effect(step, key, value, conclusion.mode, only_if, _rule(drawn), conclusion.after))


def _take_orders(site: Site, orders: dict[tuple[str, int, str], list[Drawn]], number: dict[str, int]) -> None:
    for (rule, then, _), matches in sorted(orders.items(), key=lambda o: o[0]):
        firsts = sorted({number[str(m.env[m.conclusion.first.name])] for m in matches})  # type: ignore[union-attr]
        if then in site.done or not firsts:
            continue
        wants = tuple(((DONE, site.steps[first]), frozenset({"yes"})) for first in firsts)
        signal = matches[0].conclusion.signal
        firmness = FIRM + SIGNALS.index(signal) if signal else ORDER
        site.needs[then].append(Need(then, wants, (), rule, firmness, matches[0].conclusion.because, matches[0]))
        for first in firsts:
            _mark_done(site, first)


def _mark_done(site: Site, step: int, movable: bool = True) -> Key:
    key = (DONE if movable else PASSED, site.steps[step])
    _add(site, Effect(step, key, "yes", "brings" if movable else "by_the_way", (), ""))
    return key


def take_windows(site: Site, drawn: Drawn, number: dict[str, int], memory: Memory) -> None:
    """The need of a rule that looks for the absence of an earlier step: any of its windows filled in time."""
    conclusion = drawn.conclusion
    assert conclusion.step
    step = number.get(str(drawn.env[conclusion.step.name]))
    if step is None or step in site.done:
        return
    wants: list[Want] = []
    for place, window in enumerate(conclusion.windows):
        since = number.get(str(drawn.env.get(window.since, ""))) if window.since else None
        fillers: dict[int, bool] = {}  # step: whether it may be moved
        for state in solve(window.inside, Match(drawn.env), memory, [], ""):
            own = number.get(str(state.env[window.step]))
            if own is not None and own not in (step, since):
                fillers[own] = fillers.get(own, False) or bool(site.actions.get(own, frozenset()) & window.movable)
        if since is None:
            for own, movable in sorted(fillers.items()):
                wants.append((_mark_done(site, own, movable), frozenset({"yes"})))
            continue
        key = (SINCE, f"{drawn.why.variant.rule.id} {place} {site.steps[since]} {site.steps[step]}")  # type: ignore[attr-defined]
        wants.append((key, frozenset({""})))
        _add(site, Effect(since, key, "open", "spoils", (), _rule(drawn)))
        for own, movable in sorted(fillers.items()):
            _add(site, Effect(own, key, "", "brings" if movable else "by_the_way", (), _rule(drawn)))
    if wants:
        firmness = FIRM + SIGNALS.index(conclusion.signal)
        site.needs[step].append(Need(step, tuple(wants), (), _rule(drawn), firmness, conclusion.because, drawn))


def _add(site: Site, effect: Effect) -> None:
    if effect not in site.effects[effect.step]:
        site.effects[effect.step].append(effect)


def _take_inner(site: Site) -> None:
    """An effect that asks for a state, or puts one back, comes after what brings that state, if the plan does."""
    bringers: dict[tuple[Key, str], list[int]] = {}
    for effects in site.effects:
        for effect in effects:
            if effect.mode == "brings":
                bringers.setdefault((effect.key, effect.value), []).append(effect.step)
    for step, effects in enumerate(site.effects):
        for effect in effects:
            wants = list(effect.only_if[len(effect.only_if) - effect.after :])
            if effect.mode == "puts_back":
                others = frozenset(v for (k, v) in bringers if k == effect.key and v != effect.value)
                wants.append((effect.key, others))
            for key, values in wants:
                if any(b != step for v in values for b in bringers.get((key, v), ())) and step not in site.done:
                    because = site.states[key[0]].meaning if key[0] in site.states else ""
                    site.needs[step].append(Need(step, ((key, values),), (), effect.rule, INNER, because))
