"""A site that learns what the same plan needs in another order: some rules read the order that they are given."""

from __future__ import annotations

from msgspec.structs import replace

from advisor.site.model import ORDER, Need, SimulatedSite
from advisor.site.simulate import failures


def learn(site: SimulatedSite, other: SimulatedSite) -> bool:
    """Add to the site the needs of the other that it lacks and that fail there; whether there were any."""
    number = {step: place for place, step in enumerate(site.steps)}
    if set(other.steps) != set(site.steps):
        return False
    known = {_name(need, site) for needs in site.needs for need in needs}
    added = False
    for failure in list(failures(other, other.order())):
        need = failure.need
        if need.firmness < ORDER or _name(need, other) in known:
            continue
        step = number[other.steps[need.step]]
        site.needs[step].append(replace(need, step=step))
        added = True
    if added:
        for effects in other.effects:
            for effect in effects:
                step = number[other.steps[effect.step]]
                moved = replace(effect, step=step)
                if moved not in site.effects[step]:
                    site.effects[step].append(moved)
        for effects in site.effects:
            effects.sort(key=lambda e: (e.mode == "brings", e.key, e.value, e.rule))
    return added


def _name(need: Need, site: SimulatedSite) -> tuple[object, ...]:
    wants = tuple(sorted((key, tuple(sorted(values))) for key, values in (*need.wants, *need.never)))
    return need.rule, site.steps[need.step], wants
