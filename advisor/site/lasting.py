"""What a calendar has to keep of the states that hold in a list of steps.

In a list one step follows the other. In a calendar several people work at once, so a step may slip between another
and the state that it needs: the power comes back while a hand is still in the next box. What changes a state stays
on its side of what needs it. And where a need was to send people away or to close a room off, that lasts as long as
the work itself: nobody works or lives beside it.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

from msgspec import Struct, field

from advisor.site.model import Key, Need, SimulatedSite
from advisor.site.simulate import Values, holds, look, states_before


class KeptOrder(Struct, frozen=True, order=True):
    """Two steps that stay in this order, and the rule whose need holds by it; `waits`: also its wait."""

    first: str
    then: str
    rule: str
    waits: bool = False


class Lasting(Struct):
    """What stays in order, and the steps during which a room is closed off, each with its rule."""

    kept: list[KeptOrder] = field(default_factory=list)
    closed: dict[str, str] = field(default_factory=dict)


class _Line(Struct):
    """One state in the course of time: who made it so, and who needs it as it is."""

    value: str
    writers: list[int] = field(default_factory=list)
    readers: list[tuple[int, str]] = field(default_factory=list)


def lasting(site: SimulatedSite, order: Sequence[int], sends_away: Collection[str]) -> Lasting:
    """What has to last, when the steps stand in that order. `sends_away` are actions that clear or close a room."""
    course = _Course(site)
    closed: dict[str, str] = {}
    for step, values in states_before(site, order):
        for need in site.needs[step]:
            if not holds(need, values, site):
                continue
            for key in _read(need, values, site):
                writer = course.read(key, step, need.rule, waits=need.waits)
                if writer is not None and site.actions.get(writer, frozenset()) & set(sends_away):
                    closed.setdefault(site.steps[step], need.rule)
        for effect in site.effects[step]:
            if all(look(key, values, site)[0] in good for key, good in effect.only_if):
                for key, _ in effect.only_if:
                    course.read(key, step, effect.rule)
                course.write(effect.key, effect.value, step, effect.rule)
    names = site.steps
    kept = [KeptOrder(names[a], names[b], rule, waits) for (a, b), (rule, waits) in sorted(course.found.items())]
    return Lasting(kept, closed)


class _Course:
    """The states in the course of time, and which steps keep their order for them."""

    def __init__(self, site: SimulatedSite) -> None:
        self.site = site
        self.found: dict[tuple[int, int], tuple[str, bool]] = {}
        self.lines: dict[Key, _Line] = {}
        self.wanted = {key for needs in site.needs for need in needs for key in need.keys}
        self.wanted |= {key for effects in site.effects for effect in effects for key, _ in effect.only_if}

    def read(self, key: Key, step: int, rule: str, waits: bool = False) -> int | None:
        """A step needs the state as it is; who made it so."""
        line = self._line(key)
        line.readers.append((step, rule))
        if not line.writers:
            return None
        self._link(line.writers[0], step, rule, waits)
        return line.writers[0]

    def write(self, key: Key, value: str, step: int, rule: str) -> None:
        """A step makes it so: after all who needed it otherwise."""
        if key not in self.wanted:
            return
        line = self._line(key)
        if value == line.value:
            line.writers.append(step)
            return
        for writer in line.writers:
            self._link(writer, step, rule)
        for reader, why in line.readers:
            self._link(reader, step, why)
        self.lines[key] = _Line(value, [step])

    def _line(self, key: Key) -> _Line:
        return self.lines.setdefault(key, _Line(self.site.at_start(key)))

    def _link(self, first: int, then: int, rule: str, waits: bool = False) -> None:
        if first != then:
            known = self.found.get((first, then))
            self.found[first, then] = (known[0], known[1] or waits) if known else (rule, waits)


def _read(need: Need, values: Values, site: SimulatedSite) -> list[Key]:
    """The states by which a need holds: the first wanted one that is so, and all that must not be."""
    for key, good in need.unless:
        if look(key, values, site)[0] in good:
            return [key]
    wanted = [key for key, good in need.wants if look(key, values, site)[0] in good][:1]
    return [*wanted, *(key for key, _ in need.never)]
