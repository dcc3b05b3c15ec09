"""Waits that are steps of a plan: each belongs to the last wet, soft or unset work before it.

One state for each pair of such work and its wait: the work opens it, the wait closes it, and whatever works on the
same thing comes before the one or after the other. So a wait travels with its work, counts once, and is never taken
for that of another. Only a wait with nothing wet before it, which waits for nothing, goes to the next such work.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from advisor.site.model import INNER, SINCE, Effect, Key, Need, Site, add_effect

_WHY = "What is wet or soft has its wait before the next work on it."


@dataclass(slots=True)
class Settling:
    """What steps do to states that go by waiting: which steps bring them, wait for them, work on them; by thing."""

    wets: dict[Key, list[int]] = field(default_factory=dict)
    waits: dict[Key, list[int]] = field(default_factory=dict)
    works: dict[Key, list[int]] = field(default_factory=dict)

    def take(self, key: Key, step: int, mode: str) -> None:
        """Note what a step does."""
        kind = {"spoils": self.wets, "works_on": self.works}.get(mode, self.waits)
        if step not in kind.setdefault(key, []):
            kind[key].append(step)


def take_waits(site: Site, settling: Settling) -> None:
    """Add the needs of the waits that the plan has."""
    for key in sorted(settling.waits):
        wets = sorted(settling.wets.get(key, ()))
        for wait in sorted(settling.waits[key]):
            work = _owner(wait, wets, settling.waits[key])
            if work is not None and wait not in site.done:
                _pair(site, key, work, wait, settling)


def _owner(wait: int, wets: list[int], waits: list[int]) -> int | None:
    before = [w for w in wets if w < wait]
    if before:
        taken = any(before[-1] < other < wait for other in waits)
        return None if taken else before[-1]
    later = [w for w in wets if w > wait]
    # The next wet work has a wait of its own, or this one waits for it.
    if later and not any(later[0] < other < (later[1] if len(later) > 1 else len(wets) + 10**6) for other in waits):
        return later[0]
    return None


def _pair(site: Site, key: Key, work: int, wait: int, settling: Settling) -> None:
    own = (SINCE, f"wait {site.steps[work]} {site.steps[wait]} {key[1]}")
    add_effect(site, Effect(work, own, "open", "brings", (), "wait"))
    add_effect(site, Effect(wait, own, "over", "brings", (), "wait"))
    site.needs[wait].append(Need(wait, ((own, frozenset({"open", "over"})),), (), "wait", INNER, _WHY))
    for step in settling.works.get(key, ()):
        if step not in (work, wait) and step not in site.done:
            site.needs[step].append(Need(step, (), ((own, frozenset({"open"})),), "wait", INNER, _WHY))
