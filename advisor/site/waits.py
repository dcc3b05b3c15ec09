"""Waits that are steps of a plan: each belongs to the last wet, soft or unset work before it.

One state for each pair of such work and its wait: the work opens it, the wait closes it, and whatever works on the
same thing comes before the one or after the other. So a wait travels with its work, counts once, and is never taken
for that of another. Only a wait with nothing wet before it, which waits for nothing, goes to the next such work.

Which work is the last before a wait is not read from an order that is wrong: where the plan has the paint before its
primer, the waits are given out as if they stood the right way round.
"""

from __future__ import annotations

from msgspec import Struct, field

from advisor.site.model import DONE, INNER, SINCE, Effect, Key, Need, SimulatedSite, add_effect, mark_done

# Values of a state that settles: soon dry; one that states its own wait; soon dry, and with a wait of its own.
DAMP, HAS_WAIT, DAMP_WAITS = "damp", "with a wait", "damp with a wait"
DUSTS, HARDENS = "takes up dust", "hardens"  # classes of actions
_WHY = "What is wet or soft has its wait before the next work on it."


class Settling(Struct):
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


def take_waits(site: SimulatedSite, settling: Settling) -> None:
    """Add the needs of the waits that the plan has."""
    number = {name: step for step, name in enumerate(site.steps)}
    for key in sorted(settling.waits):
        wets, waits = settling.wets.get(key, {}), settling.waits[key]
        for work, wait in _pairs(site, wets, waits, number):
            if wait not in site.done:
                _pair(site, key, work, wait, settling)


def _pairs(site: SimulatedSite, wets: dict[int, str], waits: set[int], number: dict[str, int]) -> list[tuple[int, int]]:
    """Each work with its wait, in the order that the needs ask of the works."""
    written = sorted({*wets, *waits})
    late = _late(site, wets, number)
    found = _Row(site, written, wets, waits).pairs()
    for down in (False, True) if late else ():
        row = list(written)
        for first, then in late:
            row.remove(then if down else first)
            if down:
                row.insert(row.index(first) + 1, then)
            else:
                row.insert(row.index(then), first)
        shifted = {then if down else first for first, then in late}
        other = _Row(site, row, wets, waits, frozenset(shifted)).pairs()
        # Of the two ways the one in which more works have a wait of their own, and more waits a work.
        if not down or _shared(other) > _shared(found):
            found = other
    return found


def _late(site: SimulatedSite, wets: dict[int, str], number: dict[str, int]) -> list[tuple[int, int]]:
    """Wet works that stand after one which needs them done."""
    found = []
    for then in sorted(wets):
        for need in site.needs[then]:
            wanted = [number.get(key[1], -1) if key[0] == DONE else -1 for key, _ in need.wants]
            if wanted and min(wanted) > then and not need.never:
                found += [(first, then) for first in sorted(set(wanted) & set(wets))[:1]]
    moved: dict[int, int] = {}
    for first, then in found:
        moved.setdefault(first, then)  # before the first of all that need it
    return sorted(moved.items())


def _shared(pairs: list[tuple[int, int]]) -> tuple[int, int]:
    return len({work for work, _ in pairs}), len({wait for _, wait in pairs})


class _Row:
    """Wet works and waits of one thing in a row, by their places in it."""

    def __init__(
        self,
        site: SimulatedSite,
        row: list[int],
        wets: dict[int, str],
        waits: set[int],
        shifted: frozenset[int] = frozenset(),
    ) -> None:
        self.site, self.row = site, row
        self.actions = [site.actions.get(step, frozenset()) for step in row]
        self.wets = {place: wets[step] for place, step in enumerate(row) if step in wets}
        self.slow = [place for place, how in self.wets.items() if how not in (DAMP, DAMP_WAITS)]
        self.waits = [place for place, step in enumerate(row) if step in waits]
        self.shifted = {place for place, step in enumerate(row) if step in shifted}

    def pairs(self) -> list[tuple[int, int]]:
        """Each work with its wait. Of waits that follow each other the last is that of the last work, the one before
        it that of the work before, if that has no wait of its own: somebody wrote them down too late."""
        found: list[tuple[int, int]] = []
        groups: list[list[int]] = []
        for wait in self.waits:
            if groups and not any(groups[-1][-1] < place < wait for place in self.slow):
                groups[-1].append(wait)
            else:
                groups.append([wait])
        since = -1
        for number, group in enumerate(groups):
            following = groups[number + 1][0] if number + 1 < len(groups) else None
            before = [place for place in self.slow if since < place < group[0]]
            # What says how long it dries needs no other wait than its hardening.
            idle = bool(before) and self._stated(before) and self.row[group[0]] not in self.site.of(HARDENS)
            before = before or [place for place in self.wets if since < place < group[0]]
            idle = idle or (bool(before) and self.wets[before[-1]] == DAMP_WAITS)
            if before and not idle:
                owners = self._owners(before)
                again = self._done_again(owners, group, following)
                if again is not None:
                    found.append((again, group[-1]))
                own = group if again is None else group[:-1]
                found += [(owners[min(place, len(owners) - 1)], wait) for place, wait in enumerate(reversed(own))]
            elif since < 0 or idle:
                owner = self._meant(group, following, idle)
                if owner is not None:
                    found.append((owner, group[-1]))
            since = group[-1]
        return [(self.row[work], self.row[wait]) for work, wait in found]

    def _stated(self, works: list[int]) -> bool:
        return all(self.wets[work] == HAS_WAIT for work in works)

    def _owners(self, before: list[int]) -> list[int]:
        """The works that waits may belong to, the likeliest first."""
        if len(before) > 1 and self.wets[before[-1]] == HAS_WAIT != self.wets[before[-2]]:
            before = before[:-1]
        found = [before[-1]]
        for work in reversed(before[:-1]):
            if self.wets[work] == HAS_WAIT:
                break
            found.append(work)
        return found

    def _done_again(self, owners: list[int], group: list[int], following: int | None) -> int | None:
        """The later work of the same sort that has no wait, where there is one wait too many before it."""
        later = next((place for place in self.slow if place > group[-1]), None)
        if later is None or len(group) <= len(owners) or self.wets[later] == HAS_WAIT:
            return None
        alone = following is None or any(later < place < following for place in self.slow)
        return later if alone and self.actions[later] & self.actions[owners[0]] else None

    def _meant(self, group: list[int], following: int | None, idle: bool) -> int | None:
        """The work after a wait that waits for nothing: it was meant for the next wet work, if that has none."""
        later = [place for place in self.slow if place > group[-1]][:2]
        free = following is None or (len(later) > 1 and later[1] < following)
        owner = later[0] if later and self.wets[later[0]] != HAS_WAIT and free else None
        if idle:  # it may well be a second wait for the same, unless two coats follow with none between them
            twice = len(later) > 1 and bool(self.actions[later[0]] & self.actions[later[1]])
            return owner if twice or owner in self.shifted else None
        # What is washed first is to dry, if no other wait stands there for it.
        damp = [p for p in self.wets if group[-1] < p and self.wets[p] == DAMP and (not later or p < later[0])]
        if damp and not (following is not None and (not later or following < later[0])):
            return damp[-1]
        return owner


def _pair(site: SimulatedSite, key: Key, work: int, wait: int, settling: Settling) -> None:
    own = (SINCE, f"wait {site.steps[work]} {site.steps[wait]} {key[1]}")
    add_effect(site, Effect(work, own, "open", "brings", (), "wait"))
    add_effect(site, Effect(wait, own, "over", "brings", (), "wait"))
    site.needs[wait].append(Need(wait, ((own, frozenset({"open", "over"})),), (), "wait", INNER, _WHY))
    works = sorted(settling.works.get(key, ()))
    first = next((step for step in works if work < step < wait), None)
    if first is not None and first in site.of(DUSTS) and work not in site.done:
        # The dust of what came before the wet work: nobody wipes what was coated just now.
        done = mark_done(site, first)
        site.needs[work].append(Need(work, ((done, frozenset({"yes"})),), (), "wait", INNER, _WHY))
    for step in works:
        if step not in (work, wait) and step not in site.done:
            site.needs[step].append(Need(step, (), ((own, frozenset({"open"})),), "wait", INNER, _WHY))
