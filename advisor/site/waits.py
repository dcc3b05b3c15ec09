"""Waits that are steps of a plan: each belongs to the last wet, soft or unset work before it.

One state for each pair of such work and its wait: the work opens it, the wait closes it, and whatever works on the
same thing comes before the one or after the other. So a wait travels with its work, counts once, and is never taken
for that of another. Only a wait with nothing wet before it, which waits for nothing, goes to the next such work.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from advisor.site.model import INNER, SINCE, Effect, Key, Need, Site, add_effect

# Values of a state that settles: soon dry; one that states its own wait; soon dry, and with a wait of its own.
DAMP, HAS_WAIT, DAMP_WAITS = "damp", "with a wait", "damp with a wait"
_WHY = "What is wet or soft has its wait before the next work on it."


@dataclass(slots=True)
class Settling:
    """What steps do to states that go by waiting: which steps bring them, wait for them, work on them; by thing."""

    wets: dict[Key, dict[int, str]] = field(default_factory=dict)  # and how wet it is left
    waits: dict[Key, set[int]] = field(default_factory=dict)
    works: dict[Key, set[int]] = field(default_factory=dict)

    def take(self, key: Key, step: int, mode: str, value: str) -> None:
        """Note what a step does."""
        if mode == "spoils":
            self.wets.setdefault(key, {})[step] = value
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


def _pairs(wets: dict[int, str], waits: list[int]) -> list[tuple[int, int]]:
    """Each work with its wait. Of waits that follow each other the last is that of the last work, the one before it
    that of the work before, if that has no wait of its own: somebody wrote them down too late."""
    slow = [step for step, how in sorted(wets.items()) if how not in (DAMP, DAMP_WAITS)]
    found: list[tuple[int, int]] = []
    groups: list[list[int]] = []
    for wait in waits:
        if groups and not any(groups[-1][-1] < step < wait for step in slow):
            groups[-1].append(wait)
        else:
            groups.append([wait])
    since = -1
    for number, group in enumerate(groups):
        before = [step for step in slow if since < step < group[0]]
        before = before or [step for step in sorted(wets) if since < step < group[0]]
        if before:
            owners = [before[-1], *(step for step in reversed(before[:-1]) if wets[step] != HAS_WAIT)]
            found += [(owners[min(place, len(owners) - 1)], wait) for place, wait in enumerate(reversed(group))]
        elif since < 0:
            # Nothing wet before it, so it waits for nothing: it was meant for the next wet work, if that has none.
            later = [step for step in slow if step > group[-1]][:2]
            following = groups[number + 1][0] if number + 1 < len(groups) else None
            free = following is None or (len(later) > 1 and later[1] < following)
            # What is washed first is to dry, if no other wait stands there for it.
            damp = [s for s in sorted(wets) if group[-1] < s and wets[s] == DAMP and (not later or s < later[0])]
            if damp and not (following is not None and (not later or following < later[0])):
                found.append((damp[-1], group[-1]))
            elif later and wets[later[0]] != HAS_WAIT and free:
                found.append((later[0], group[-1]))
        since = group[-1]
    return found


def _pair(site: Site, key: Key, work: int, wait: int, settling: Settling) -> None:
    own = (SINCE, f"wait {site.steps[work]} {site.steps[wait]} {key[1]}")
    add_effect(site, Effect(work, own, "open", "brings", (), "wait"))
    add_effect(site, Effect(wait, own, "over", "brings", (), "wait"))
    site.needs[wait].append(Need(wait, ((own, frozenset({"open", "over"})),), (), "wait", INNER, _WHY))
    for step in sorted(settling.works.get(key, ())):
        if step not in (work, wait) and step not in site.done:
            site.needs[step].append(Need(step, (), ((own, frozenset({"open"})),), "wait", INNER, _WHY))
