"""Steps of a site done one after another: what is so before each, and which needs do not hold."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from advisor.site.model import Effect, Key, Need, Site, Want

Values = dict[Key, tuple[str, Effect | None]]  # what is so, and what made it so; at the start nothing is here


@dataclass(frozen=True, slots=True)
class Failure:
    """A need that does not hold: what is so of the states it reads, and what made it so (None: from the start)."""

    need: Need
    found: tuple[tuple[Key, str, Effect | None], ...]


def failures(
    site: Site, order: Sequence[int], ignore: Callable[[Need], bool] | None = None, first: bool = False
) -> list[Failure]:
    """The needs that do not hold when the steps are done in that order; only the first of them where asked."""
    found: list[Failure] = []
    for way in ways(site):
        seen = {id(f.need) for f in found}
        for need, values in _walk(site, order, way):
            if id(need) in seen or holds(need, values, site) or (ignore and ignore(need)):
                continue
            found.append(Failure(need, tuple((key, *look(key, values, site)) for key in need.keys)))
            if first:
                return found
    return found


def ways(site: Site) -> list[frozenset[int]]:
    """The steps that are left out, for each way in which the tests of the plan may turn out."""
    tests = sorted({test for test, _ in site.conditions.values()})[:6]
    found: list[dict[str, str]] = [{}]
    for test in tests:
        results = sorted({r for t, r in site.conditions.values() if t == test} | {"positive", "negative"})
        found = [{**way, test: result} for way in found for result in results]
    return [
        frozenset(s for s, (test, result) in site.conditions.items() if way.get(test, result) != result)
        for way in found
    ]


def states_before(site: Site, order: Sequence[int], way: frozenset[int] = frozenset()) -> Iterator[tuple[int, Values]]:
    """Each step with what is so before it; the values are only lent."""
    values: Values = {}
    for step in sorted(site.done):
        _do(site, step, values)
    for step in order:
        if step in site.done or step in way:
            continue
        yield step, values
        _do(site, step, values)


def _walk(site: Site, order: Sequence[int], way: frozenset[int]) -> Iterator[tuple[Need, Values]]:
    for step, values in states_before(site, order, way):
        for need in site.needs[step]:
            yield need, values


def _do(site: Site, step: int, values: Values) -> None:
    effects = site.effects[step]
    if not effects:
        return
    told = [e for e in effects if all(look(key, values, site)[0] in wanted for key, wanted in e.only_if)]
    for effect in sorted(told, key=lambda e: (e.mode == "brings", e.key, e.value)):
        values[effect.key] = (effect.value, effect)


def look(key: Key, values: Values, site: Site) -> tuple[str, Effect | None]:
    """What is so of a thing, and what made it so."""
    return values.get(key) or (site.at_start(key), None)


def holds(need: Need, values: Values, site: Site) -> bool:
    """Whether the need is met."""
    if any(_so(want, values, site) for want in need.never):
        return False
    return not need.wants or any(_so(want, values, site) for want in need.wants)


def _so(want: Want, values: Values, site: Site) -> bool:
    key, wanted = want
    return look(key, values, site)[0] in wanted
