"""Sites as planning problems: the same needs and effects for an independent library, and generated sites.

Every step is an action that may be done once: its precondition is that what it needs is so, its effects are what it
does to states; the goal is that all steps are done. Hours are left out: they stay with CP-SAT.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Sequence
from itertools import permutations
from typing import Any

from advisor.rulebase.model import State
from advisor.site.model import FIRM, Effect, Key, Need, SimulatedSite, Want
from advisor.site.simulate import failures

VALUES = ("start", "made")


def random_site(seed: int, most: int = 7) -> SimulatedSite:
    """A site of a few steps, states and needs.

    What ends a state puts it back, and nothing is needed as it was at the start: the mover never slips a step in
    before what ends its state, as a plain search would.
    """
    pick = random.Random(seed)
    count = pick.randint(2, most)
    states = {name: State(name, "part", VALUES, False, (), name) for name in ("a", "b", "c")}
    keys: list[Key] = [(name, thing) for name in states for thing in ("x", "y")][: pick.randint(1, 4)]
    site = SimulatedSite(
        [f"s{i}" for i in range(count)], states, effects=[[] for _ in range(count)], needs=[[] for _ in range(count)]
    )
    for step in range(count):
        for key in pick.sample(keys, min(len(keys), pick.choice((0, 1, 1, 2)))):
            brings = pick.random() < 0.65
            value, mode = ("made", "brings") if brings else ("start", "puts_back")
            site.effects[step].append(Effect(step, key, value, mode, (), f"e{step}"))
        for _ in range(pick.choice((0, 1, 1, 2))):
            some = tuple(
                dict.fromkeys((key, frozenset({"made"})) for key in pick.choices(keys, k=pick.choice((1, 1, 2))))
            )
            never = ((pick.choice(keys), frozenset({"start"})),)
            wants, never = ((some, ()), ((), never))[pick.random() < 0.3]
            site.needs[step].append(Need(step, wants, never, f"n{step}", FIRM, "because"))
    for effects in site.effects:
        effects.sort(key=lambda e: (e.mode == "brings", e.key, e.value))
    return site


def moves(order: Sequence[int]) -> int:
    """How many steps have to be picked up to get from 0, 1, 2 … to the order: all but a longest rising run."""
    best: list[int] = []
    for place, step in enumerate(order):
        best.append(1 + max((best[k] for k in range(place) if order[k] < step), default=0))
    return len(order) - max(best, default=0)


def kept(site: SimulatedSite, order: Sequence[int], edges: Iterable[tuple[int, int]] = ()) -> bool:
    """Whether the order keeps every need and edge."""
    place = {step: k for k, step in enumerate(order)}
    return all(place[a] < place[b] for a, b in edges) and not list(failures(site, order))


def fewest(site: SimulatedSite, edges: Iterable[tuple[int, int]] = ()) -> int | None:
    """The least number of moved steps of any order that keeps everything, by trying all; None where none does."""
    edges = list(edges)
    found = [moves(order) for order in permutations(range(len(site.steps))) if kept(site, order, edges)]
    return min(found, default=None)


def problem(site: SimulatedSite) -> tuple[Any, list[Any]]:
    """The site as a planning problem of `unified-planning`, and the action of each step."""
    from unified_planning.shortcuts import And, BoolType, Fluent, InstantaneousAction, Not, Or, Problem

    task = Problem("site")
    done = [Fluent(f"done_{step}", BoolType()) for step in range(len(site.steps))]
    for fluent in done:
        task.add_fluent(fluent, default_initial_value=False)
    values = _values(site)
    so = {
        (key, value): Fluent(f"so_{number}_{place}", BoolType())
        for number, key in enumerate(sorted(values))
        for place, value in enumerate(values[key])
    }
    for (key, value), fluent in so.items():
        task.add_fluent(fluent, default_initial_value=site.at_start(key) == value)

    def any_of(wants: Iterable[Want]) -> Any:
        return Or([so[k, v]() for k, wanted in wants for v in sorted(wanted) if (k, v) in so])

    actions = []
    for step in range(len(site.steps)):
        action = InstantaneousAction(f"do_{step}")
        action.add_precondition(Not(done[step]()))
        for need in site.needs[step]:
            assert not need.unless or need.drawn is not None
            if need.wants and need.unless:
                action.add_precondition(any_of((*need.wants, *need.unless)))
            elif need.wants:
                action.add_precondition(any_of(need.wants))
            if need.never:
                action.add_precondition(Not(any_of(need.never)))
        action.add_effect(done[step](), True)
        last: dict[tuple[Key, tuple[Want, ...]], Effect] = {}
        for effect in sorted(site.effects[step], key=lambda e: (e.mode == "brings", e.key, e.value)):
            last[effect.key, effect.only_if] = effect
        for (key, only_if), effect in last.items():
            when = And([any_of([want]) for want in only_if]) if only_if else None
            for value in values[key]:
                told = (so[key, value](), value == effect.value)
                action.add_effect(*told) if when is None else action.add_effect(*told, when)
        task.add_action(action)
        actions.append(action)
    for fluent in done:
        task.add_goal(fluent())
    return task, actions


def _values(site: SimulatedSite) -> dict[Key, list[str]]:
    found: dict[Key, set[str]] = {}
    for effects in site.effects:
        for effect in effects:
            found.setdefault(effect.key, set()).add(effect.value)
            for key, wanted in effect.only_if:
                found.setdefault(key, set()).update(wanted)
    for needs in site.needs:
        for need in needs:
            for key, wanted in (*need.wants, *need.never, *need.unless):
                found.setdefault(key, set()).update(wanted)
    return {key: sorted({*wanted, site.at_start(key)}) for key, wanted in found.items()}


def valid(site: SimulatedSite, order: Sequence[int]) -> bool:
    """Whether the library's validator accepts the order."""
    from unified_planning.engines import SequentialPlanValidator, ValidationResultStatus
    from unified_planning.plans import ActionInstance, SequentialPlan

    task, actions = problem(site)
    plan = SequentialPlan([ActionInstance(actions[step]) for step in order])
    result = SequentialPlanValidator().validate(task, plan)
    return bool(result.status == ValidationResultStatus.VALID)


def planned(site: SimulatedSite) -> bool:
    """Whether the library's planner finds an order."""
    from unified_planning.engines import CompilationKind
    from unified_planning.shortcuts import Compiler, OneshotPlanner, get_environment

    get_environment().credits_stream = None
    task, _ = problem(site)
    for kind in (CompilationKind.DISJUNCTIVE_CONDITIONS_REMOVING, CompilationKind.NEGATIVE_CONDITIONS_REMOVING):
        with Compiler(problem_kind=task.kind, compilation_kind=kind) as compiler:
            task = compiler.compile(task, kind).problem
    with OneshotPlanner(name="pyperplan", params={"search": "bfs"}) as planner:
        return planner.solve(task).plan is not None
