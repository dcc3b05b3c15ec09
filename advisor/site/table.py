"""What is true before each step, of the states that some need reads, and since which step."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from advisor.site.model import DONE, PASSED, SINCE, Key, SimulatedSite
from advisor.site.simulate import look, states_before


def state_rows(site: SimulatedSite, order: Sequence[int], everything: bool = False) -> list[dict[str, Any]]:
    """A row for each step and state that a need of the step reads; with `everything` each state that is known then."""
    every = sorted({key for needs in site.needs for need in needs for key in need.keys if _told(key)})
    rows = []
    for step, values in states_before(site, order):
        keys = every if everything else sorted({k for need in site.needs[step] for k in need.keys if _told(k)})
        for key in keys:
            value, by = look(key, values, site)
            # What no step of the plan made so is what the state is at the start: nobody said so.
            known = "stated" if by is not None or key in site.start else "presumed"
            if (step, key) in site.unknown:
                known = "unknown"  # something that the plan leaves out decides it
            rows.append(
                {
                    "step": site.steps[step],
                    "state": key[0],
                    "of": key[1] or None,
                    "value": value,
                    "since": site.steps[by.step] if by is not None else "start",
                    "known": known,
                }
            )
    return rows


def _told(key: Key) -> bool:
    return key[0] not in (DONE, PASSED, SINCE)


def left_off(site: SimulatedSite, order: Sequence[int], plugs: frozenset[str]) -> list[str]:
    """The services of the house that are off when the plan is over, by the name of their state.

    `plugs` are actions that take one machine off and leave the house on.
    """
    last: dict[Key, str] = {}
    by_step: dict[int, set[Key]] = {}
    for step in order:
        for effect in site.effects[step]:
            state = site.states.get(effect.key[0])
            # A test that proves it dead takes nothing away: it comes after what does.
            if state is None or not state.left or effect.mode not in ("brings", "puts_back") or effect.after:
                continue
            last[effect.key] = effect.value
            if effect.mode == "brings" and not site.actions.get(step, frozenset()) <= plugs:
                by_step.setdefault(step, set()).add(effect.key)
    # A breaker reaches much: what comes back of all that a step took away shows that the step was undone.
    places = {name: place for place, name in enumerate(site.states)}
    found = {
        min((key[0] for key in keys), key=places.__getitem__)
        for keys in by_step.values()
        if all(last[key] in site.states[key[0]].left for key in keys)
    }
    return [name for name in site.states if name in found]
