"""What offers of a draft would write that are steps of their own."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from advisor.plan.added import added_step
from advisor.plan.model import Plan
from advisor.rulebase.vocabulary import Vocabulary


def steps_offered(
    meant: Plan, match: Mapping[tuple[str, str], str], ways: Mapping[tuple[str, str, str], set[str]], words: Vocabulary
) -> set[tuple[str, str, Any]]:
    """Facts of the author that a step which is offered would write: its work, its part, new or gone."""
    found: set[tuple[str, str, Any]] = set()
    actions = words.taxonomies["action"]
    taken: set[tuple[str, str]] = set()
    for step in meant.steps:
        done, to = step.values["do"].plain, step.values.get("to")
        for own in to.plain if to is not None and isinstance(to.plain, tuple) else ():
            other = match.get(("part", str(own)), "")
            offered = ways.get(("step", added_step(str(done), other), "do"), set())
            if not other or ("step", step.id) in match or done not in offered or (other, str(done)) in taken:
                continue  # one answer adds one step
            taken.add((other, str(done)))
            found |= {(step.id, "do", done), (step.id, "to", other)}
            if done in actions.below("install"):
                found.add((str(own), "new", "yes"))
            elif done in actions.below("remove"):
                found.add((str(own), "stays", "no"))
    return found
