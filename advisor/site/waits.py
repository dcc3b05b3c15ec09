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

    wets: dict[Key, dict[int, bool]] = field(default_factory=dict)  # and whether the step states a wait of its own
    waits: dict[Key, set[int]] = field(default_factory=dict)
    works: dict[Key, set[int]] = field(default_factory=dict)

    def take(self, key: Key, step: int, mode: str, own_wait: bool) -> None:
        """Note what a step does."""
        if mode == "spoils":
            self.wets.setdefault(key, {})[step] = own_wait
        elif mode == "works_on":
            self.works.setdefault(key, set()).add(step)
        else:
            self.waits.setdefault(key, set()).add(step)


def take_waits(site: Site, settling: Settling) -> None:
    """Add the needs of the waits that the plan has."""
    for key in sorted(settling.waits):
        pairs = _pairs(settling.wets.get(key, {}), sorted(settling.waits[key]))
        for work, wait in pairs:
            if wait not in site.done:
                _pair(site, key, work, wait, settling)


def _pairs(wets: dict[int, bool], waits: list[int]) -> list[tuple[int, int]]:
    """Each work with its wait. Of waits that follow each other the last is that of the last work, the one before it
    that of the work before, if that has no wait of its own: somebody wrote them down too late."""
    found: list[tuple[int, int]] = []
    groups: list[list[int]] = []
    for wait in waits:
        if groups and not any(groups[-1][-1] < wet < wait for wet in wets):
            groups[-1].append(wait)
        else:
            groups.append([wait])
    taken: set[int] = set()
    for number, group in enumerate(groups):
        since = groups[number - 1][-1] if number else -1
        before = [wet for wet in sorted(wets) if since < wet < group[0]]
        if not before:
            later = [wet for wet in sorted(wets) if wet > group[-1]]
            following = groups[number + 1][0] if number + 1 < len(groups) else None
            # Nothing wet before it: it waits for nothing, unless it was meant for the next wet work.
            if since < 0 and later and not wets[later[0]] and (following is None or len(later) > 1 and later[1] < following):
                found.append((later[0], group[-1]))
                taken.add(later[0])
            continue
        owners = [before[-1], *(wet for wet in reversed(before[:-1]) if not wets[wet])]
        for place, wait in enumerate(reversed(group)):
            found.append((owners[min(place, len(owners) - 1)], wait))
    return found


def _pair(site: Site, key: Key, work: int, wait: int, settling: Settling) -> None:
    own = (SINCE, f"wait {site.steps[work]} {site.steps[wait]} {key[1]}")
    add_effect(site, Effect(work, own, "open", "brings", (), "wait"))
    add_effect(site, Effect(wait, own, "over", "brings", (), "wait"))
    site.needs[wait].append(Need(wait, ((own, frozenset({"open", "over"})),), (), "wait", INNER, _WHY))
    for step in sorted(settling.works.get(key, ())):
        if step not in (work, wait) and step not in site.done:
            site.needs[step].append(Need(step, (), ((own, frozenset({"open"})),), "wait", INNER, _WHY))
