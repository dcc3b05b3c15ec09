"""Needs that rules imply by looking for the absence of an earlier step (see `advisor/rulebase/implied.py`)."""

from __future__ import annotations

from bisect import bisect
from typing import TYPE_CHECKING

from advisor.engine.guards import PartialMatch as Match
from advisor.engine.guards import solve
from advisor.rulebase.model import SIGNALS, Pattern, Var, Window
from advisor.site.model import FIRM, SINCE, Effect, Need, SimulatedSite, Want, add_effect, mark_done, rule_of

if TYPE_CHECKING:
    from advisor.engine.memory import Memory
    from advisor.engine.run import Drawn


NEAREST = 40  # fillers of one window that count on either side of a step; the others could only do the same

Filled = dict[tuple[object, ...], dict[int, bool]]


def take_windows(site: SimulatedSite, drawn: Drawn, number: dict[str, int], memory: Memory, known: Filled) -> None:
    """The need of a rule that looks for the absence of an earlier step: any of its windows filled in time.

    `known` keeps what fills a window: it is the same for all steps that ask alike.
    """
    conclusion = drawn.conclusion
    assert conclusion.step
    step = number.get(str(drawn.env[conclusion.step.name]))
    if step is None or step in site.done:
        return
    wants: list[Want] = []
    for place, window in enumerate(conclusion.windows):
        since = number.get(str(drawn.env.get(window.since, ""))) if window.since else None
        every = _fillers(site, window, drawn, number, memory, known)
        fillers = _nearest([(own, movable) for own, movable in every.items() if own not in (step, since)], step)
        if since is None:
            for own, movable in fillers:
                wants.append((mark_done(site, own, movable), frozenset({"yes"})))
            continue
        key = (SINCE, f"{drawn.why.variant.rule.id} {place} {site.steps[since]} {site.steps[step]}")  # type: ignore[attr-defined]
        wants.append((key, frozenset({""})))
        add_effect(site, Effect(since, key, "open", "spoils", (), rule_of(drawn)))
        for own, movable in fillers:
            add_effect(site, Effect(own, key, "", "brings" if movable else "by_the_way", (), rule_of(drawn)))
    if wants:
        firmness = FIRM + SIGNALS.index(conclusion.signal)
        site.needs[step].append(Need(step, tuple(wants), (), rule_of(drawn), firmness, conclusion.because, drawn))


def _fillers(
    site: SimulatedSite, window: Window, drawn: Drawn, number: dict[str, int], memory: Memory, known: Filled
) -> dict[int, bool]:
    """The steps that fill a window, in order, with whether each may be moved for it."""
    names = sorted({v.name for c in window.inside if isinstance(c, Pattern) for t in c.tests for v in t.values
                    if isinstance(v, Var) and v.name in drawn.env})  # fmt: skip
    plain = all(isinstance(c, Pattern) for c in window.inside)
    key = (id(window), *(drawn.env[n] for n in (names if plain else sorted(drawn.env))))
    if key not in known:
        found: dict[int, bool] = {}
        for state in solve(window.inside, Match(drawn.env), memory, [], ""):
            own = number.get(str(state.env[window.step]))
            if own is not None:
                found[own] = found.get(own, False) or bool(site.actions.get(own, frozenset()) & window.movable)
        known[key] = dict(sorted(found.items()))
    return known[key]


def _nearest(fillers: list[tuple[int, bool]], step: int) -> list[tuple[int, bool]]:
    """The fillers that come last before the step and first after it: any one of them is enough."""
    if len(fillers) <= NEAREST:
        return fillers
    at = bisect(fillers, (step, True))
    return fillers[max(0, at - NEAREST) : at + NEAREST]
