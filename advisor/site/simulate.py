"""Steps of a site done one after another: what is so before each, and which needs do not hold."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from msgspec import Struct

from advisor.site.model import Effect, Key, Need, SimulatedSite, Want

Values = dict[Key, tuple[str, Effect | None]]  # what is so, and what made it so; at the start nothing is here


class FailedNeed(Struct, frozen=True):
    """A need that does not hold: what is so of the states it reads, and what made it so (None: from the start)."""

    need: Need
    found: tuple[tuple[Key, str, Effect | None], ...]


def failures(
    site: SimulatedSite,
    order: Sequence[int],
    ignore: Callable[[Need], bool] | None = None,
    needs: Sequence[Sequence[Need]] | None = None,
) -> Iterator[FailedNeed]:
    """The needs (of all steps, or those given) that do not hold when the steps are done in that order, one by one."""
    found: list[FailedNeed] = []
    if needs is None:
        needs = site.needs
    for way in ways(site):
        seen = {id(f.need) for f in found}
        for need, values in _walk(site, order, way, needs):
            if holds(need, values, site) or id(need) in seen or (ignore and ignore(need)):
                continue
            found.append(FailedNeed(need, tuple((key, *look(key, values, site)) for key in need.keys)))
            yield found[-1]


def ways(site: SimulatedSite) -> list[frozenset[int]]:
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


def states_before(
    site: SimulatedSite, order: Sequence[int], way: frozenset[int] = frozenset()
) -> Iterator[tuple[int, Values]]:
    """Each step with what is so before it; the values are only lent."""
    values: Values = {}
    for step in sorted(site.done):
        _do(site, step, values)
    for step in order:
        if step in site.done or step in way:
            continue
        yield step, values
        _do(site, step, values)


def _walk(
    site: SimulatedSite, order: Sequence[int], way: frozenset[int], needs: Sequence[Sequence[Need]]
) -> Iterator[tuple[Need, Values]]:
    for step, values in states_before(site, order, way):
        for need in needs[step]:
            yield need, values


def _do(site: SimulatedSite, step: int, values: Values) -> None:
    told = site.effects[step]
    if any(effect.only_if for effect in told):
        told = [e for e in told if all(look(key, values, site)[0] in wanted for key, wanted in e.only_if)]
    for effect in told:
        values[effect.key] = (effect.value, effect)


def look(key: Key, values: Values, site: SimulatedSite) -> tuple[str, Effect | None]:
    """What is so of a thing, and what made it so."""
    return values.get(key) or (site.at_start(key), None)


def holds(need: Need, values: Values, site: SimulatedSite) -> bool:
    """Whether the need is met."""
    for want in need.unless:
        if _so(want, values, site):
            return True
    for want in need.never:
        if _so(want, values, site):
            return False
    for want in need.wants:
        if _so(want, values, site):
            return True
    return not need.wants


def _so(want: Want, values: Values, site: SimulatedSite) -> bool:
    key, wanted = want
    found = values.get(key)
    return (found[0] if found is not None else site.at_start(key)) in wanted
