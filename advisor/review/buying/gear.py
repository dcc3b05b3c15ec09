"""Protective gear: what the steps need against what the crew owns. One table, not a finding a step."""

from __future__ import annotations

from advisor.engine.memory import Memory
from advisor.plan.model import Plan
from advisor.plan.said import words
from advisor.review.model import Gear
from advisor.rulebase.vocabulary import Vocabulary

KIND, THERE = "gear_needed", "gear_there"  # deduced by rules: step, gear (and because)


def gear_table(memory: Memory, plan: Plan, vocabulary: Vocabulary) -> list[Gear]:
    """Each piece of gear with the steps that need it, why, and whether it is owned or worn there.

    A hired firm brings its own, so its steps are left out.
    """
    firms = vocabulary.members("who", "paid firm")
    places = {step.id: n for n, step in enumerate(plan.steps) if firms.isdisjoint(words(step, "who"))}
    needs: dict[str, dict[str, str]] = {}
    for record in memory.by_kind.get(KIND, []):
        step, gear = str(record.values["step"]), str(record.values["gear"])
        if step in places:
            needs.setdefault(gear, {}).setdefault(step, str(record.values["because"]))
    there = {(str(r.values["gear"]), str(r.values["step"])) for r in memory.by_kind.get(THERE, [])}
    found = []
    for gear, steps in sorted(needs.items()):
        ordered = sorted(steps, key=lambda s: places[s])
        found.append(Gear(gear, tuple(ordered), steps[ordered[0]], all((gear, step) in there for step in steps)))
    return found


def why_at(memory: Memory, gear: str, step: str) -> str | None:
    """Why a step needs a piece of gear: a line that is left with some of its steps tells no reason of another."""
    for record in memory.by_kind.get(KIND, []):
        if (str(record.values["gear"]), str(record.values["step"])) == (gear, step):
            return str(record.values["because"])
    return None
