"""The site of one run: its steps, what each does to states, and what each needs, with every thing filled in.

Reach through places was settled by the rules: an effect names each thing that it reaches. Steps are numbered in the
order of the plan, advised ones at their place between; whoever wants another order gives the numbers in that order.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from advisor.rulebase.model import SIGNALS, Goal, State
from advisor.site.model import (
    DONE,
    FIRM,
    INNER,
    ORDER,
    Effect,
    Key,
    Need,
    Rather,
    SimulatedSite,
    Want,
    mark_done,
    rule_of,
)
from advisor.site.waits import DUSTS, HARDENS, Settling, take_waits
from advisor.site.windows import Filled, take_windows

if TYPE_CHECKING:
    from advisor.engine.memory import Env, Memory
    from advisor.engine.run import Drawn


def ground(memory: Memory, drawn: Iterable[Drawn], states: Mapping[str, State]) -> SimulatedSite:
    """The site of a run, from the conclusions that its rules drew."""
    ids = sorted(map(str, memory.places), key=lambda own: (memory.places[own], own))
    number = {own: place for place, own in enumerate(ids)}
    site = SimulatedSite(ids, states, effects=[[] for _ in ids], needs=[[] for _ in ids])
    for record in memory.by_kind.get("step", []):
        own = number[str(record.values["id"])]
        if "do" in record.values:
            site.actions[own] = site.actions.get(own, frozenset()) | {str(record.values["do"])}
        if record.values.get("done") == "yes":
            site.done |= {own}
        if "if_test" in record.values and "if_result" in record.values:
            site.conditions[own] = (str(record.values["if_test"]), str(record.values["if_result"]))
        if record.advised and "advised" in ids[own]:
            site.advised |= {own}
    actions = memory.taxonomies.get("action")
    if actions is not None:
        for name in (DUSTS, HARDENS):
            words = actions.below(name)
            site.classes[name] = frozenset(own for own, does in site.actions.items() if does & words)
    orders: dict[tuple[str, int, str], list[Drawn]] = {}
    told: dict[Effect, None] = {}
    rather: dict[Rather, None] = {}
    windows: list[Drawn] = []
    settling = Settling()
    for one in drawn:
        conclusion = one.conclusion
        if conclusion.kind == "effect":
            _take_effect(site, one, number, told, settling)
        elif conclusion.kind == "order" and conclusion.windows:
            windows.append(one)
        elif conclusion.kind == "order" and conclusion.first is None:
            _take_need(site, one, number, ORDER)
        elif conclusion.kind == "order":
            assert conclusion.step is not None
            assert conclusion.first is not None
            then, first = (number[str(one.env[v.name])] for v in (conclusion.step, conclusion.first))
            apart = str(one.env[conclusion.first.name]) if conclusion.mode == "all" else str(one.env.get("part", ""))
            if conclusion.mode == "rather":
                rather[Rather(first, then, rule_of(one), conclusion.because)] = None
            elif first != then:
                orders.setdefault((rule_of(one), then, apart), []).append(one)
        elif conclusion.goals or conclusion.never:
            _take_need(site, one, number, FIRM + SIGNALS.index(conclusion.signal))
    for effect in told:
        site.effects[effect.step].append(effect)
    _take_orders(site, orders, number)
    site.rather = sorted(one for one in rather if one.first != one.then and one.then not in site.done)
    filled: Filled = {}
    for one in windows:
        take_windows(site, one, number, memory, filled)
    _take_inner(site)
    take_waits(site, settling)
    _take_tests(site, number)
    for effects in site.effects:
        effects.sort(key=lambda e: (e.mode == "brings", e.key, e.value, e.rule))  # what a step brings is so after it
    for needs in site.needs:
        needs.sort(key=lambda n: (-n.firmness, n.rule, sorted((k, sorted(v)) for k, v in (*n.wants, *n.never))))
    return site


def _want(goal: Goal, env: Env) -> Want:
    return (goal.state, "" if goal.of is None else str(env[goal.of.name])), frozenset(goal.values)


def _take_need(site: SimulatedSite, drawn: Drawn, number: dict[str, int], firmness: int) -> None:
    conclusion = drawn.conclusion
    assert conclusion.step
    step = number.get(str(drawn.env[conclusion.step.name]))
    if step is None or step in site.done:
        return
    wants, never, unless = (
        tuple(_want(g, drawn.env) for g in goals) for goals in (conclusion.goals, conclusion.never, conclusion.unless)
    )
    site.needs[step].append(Need(step, wants, never, rule_of(drawn), firmness, conclusion.because, drawn, unless))


def _take_effect(
    site: SimulatedSite, drawn: Drawn, number: dict[str, int], effects: dict[Effect, None], settling: Settling
) -> None:
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
        if site.states[goal.state].settles:
            settling.take(key, step, conclusion.mode, value)
            continue
        only_if = tuple(_want(g, drawn.env) for g in conclusion.only_if)
        effects.setdefault(Effect(step, key, value, conclusion.mode, only_if, rule_of(drawn), conclusion.after))


def _take_orders(site: SimulatedSite, orders: dict[tuple[str, int, str], list[Drawn]], number: dict[str, int]) -> None:
    for (rule, then, _), matches in sorted(orders.items(), key=lambda o: o[0]):
        firsts = sorted({number[str(m.env[m.conclusion.first.name])] for m in matches})  # type: ignore[union-attr]
        if then in site.done or not firsts:
            continue
        wants = tuple(((DONE, site.steps[first]), frozenset({"yes"})) for first in firsts)
        signal = matches[0].conclusion.signal
        firmness = FIRM + SIGNALS.index(signal) if signal else ORDER
        site.needs[then].append(Need(then, wants, (), rule, firmness, matches[0].conclusion.because, matches[0]))
        for first in firsts:
            mark_done(site, first)


def _take_tests(site: SimulatedSite, number: dict[str, int]) -> None:
    """What depends on a test comes after it."""
    for step, (test, _) in sorted(site.conditions.items()):
        if test in number and step not in site.done:
            key = mark_done(site, number[test])
            because = "Its result decides whether this is done"
            site.needs[step].append(Need(step, ((key, frozenset({"yes"})),), (), "if", ORDER, because))


def _take_inner(site: SimulatedSite) -> None:
    """An effect that asks for a state, or puts one back, comes after what brings that state, if the plan does."""
    bringers: dict[tuple[Key, str], list[int]] = {}
    putters: dict[tuple[Key, str], list[int]] = {}
    for effects in site.effects:
        for effect in effects:
            if effect.mode in ("brings", "puts_back"):
                rows = bringers if effect.mode == "brings" else putters
                rows.setdefault((effect.key, effect.value), []).append(effect.step)
    for step, effects in enumerate(site.effects):
        for effect in effects:
            wants = list(effect.only_if[len(effect.only_if) - effect.after :])
            if effect.mode == "puts_back":
                others = frozenset(v for (k, v) in bringers if k == effect.key and v != effect.value)
                if len(set(putters[effect.key, effect.value])) > 1:  # a plug is put in, then its breaker turned on
                    others |= {effect.value}
                wants.append((effect.key, others))
            for key, values in wants:
                if any(b != step for v in values for b in bringers.get((key, v), ())) and step not in site.done:
                    because = site.states[key[0]].meaning if key[0] in site.states else ""
                    site.needs[step].append(Need(step, ((key, values),), (), effect.rule, INNER, because))
