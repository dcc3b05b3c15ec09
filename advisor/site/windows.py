"""Needs that rules imply by looking for the absence of an earlier step (see `advisor/rulebase/implied.py`)."""

from __future__ import annotations

from typing import TYPE_CHECKING

from advisor.engine.guards import State as Match
from advisor.engine.guards import solve
from advisor.rulebase.model import SIGNALS
from advisor.site.model import FIRM, SINCE, Effect, Need, Site, Want, add_effect, mark_done, rule_of

if TYPE_CHECKING:
    from advisor.engine.memory import Memory
    from advisor.engine.run import Drawn


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
                wants.append((mark_done(site, own, movable), frozenset({"yes"})))
            continue
        key = (SINCE, f"{drawn.why.variant.rule.id} {place} {site.steps[since]} {site.steps[step]}")  # type: ignore[attr-defined]
        wants.append((key, frozenset({""})))
        add_effect(site, Effect(since, key, "open", "spoils", (), rule_of(drawn)))
        for own, movable in sorted(fillers.items()):
            add_effect(site, Effect(own, key, "", "brings" if movable else "by_the_way", (), rule_of(drawn)))
    if wants:
        firmness = FIRM + SIGNALS.index(conclusion.signal)
        site.needs[step].append(Need(step, tuple(wants), (), rule_of(drawn), firmness, conclusion.because, drawn))
