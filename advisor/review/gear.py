"""Protective gear: what the steps need against what the crew owns. One table, not a finding a step."""

from __future__ import annotations

from advisor.engine.memory import Memory
from advisor.plan.model import Plan
from advisor.review.model import Gear
from advisor.rulebase.vocabulary import Vocabulary

KIND = "gear_needed"  # deduced by rules: step, gear, because


def gear_table(memory: Memory, plan: Plan, vocabulary: Vocabulary) -> list[Gear]:
    """Each piece of gear with the steps that need it, why, and whether it is owned or worn there.

    A hired firm brings its own, so its steps are left out.
    """
    firms = vocabulary.members("who", "paid firm")
    places = {step.id: n for n, step in enumerate(plan.steps) if not firms & _words(plan, "step", step.id, "who")}
    needs: dict[str, dict[str, str]] = {}
    for record in memory.by_kind.get(KIND, []):
        step, gear = str(record.values["step"]), str(record.values["gear"])
        if step in places:
            needs.setdefault(gear, {}).setdefault(step, str(record.values["because"]))
    owned = _words(plan, "crew", "crew", "owns")
    found = []
    for gear, steps in sorted(needs.items()):
        fits = vocabulary.taxonomies["tool"].below(gear) if "tool" in vocabulary.taxonomies else frozenset({gear})
        there = bool(fits & owned) or all(fits & _words(plan, "step", step, "wearing") for step in steps)
        ordered = sorted(steps, key=lambda s: places[s])
        found.append(Gear(gear, tuple(ordered), steps[ordered[0]], there))
    return found


def _words(plan: Plan, sort: str, own: str, attribute: str) -> set[str]:
    entity = plan.entities.get(sort, {}).get(own)
    value = entity.values.get(attribute) if entity else None
    if value is None:
        return set()
    return set(map(str, value.plain)) if isinstance(value.plain, tuple) else {str(value.plain)}
