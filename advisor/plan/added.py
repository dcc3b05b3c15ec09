"""A step that a plan does not have yet, as an answer names it: what it does, to which part."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.plan.editing import PlanText
from advisor.plan.model import Plan
from advisor.rulebase.vocabulary import Vocabulary


def added_step(action: str, part: str) -> str:
    """The name of a step that would do this to a part."""
    return f"{action.replace(' ', '-')}-{part}"


def part_of_added(own: str, action: str) -> str:
    """The part of such a step by its name; empty where it is no such name."""
    head = added_step(action, "")
    return own.removeprefix(head) if own.startswith(head) else ""


def add_step_to(document: PlanText, plan: Plan, own: str, action: str, vocabulary: Vocabulary) -> None:
    """Write the step and what it says of its part: what is put in is new, what is taken out goes; KeyError if none."""
    part = part_of_added(own, action)

    def does(what: str) -> bool:
        actions = vocabulary.taxonomies["action"]
        return any(action in actions.below(one) for one in vocabulary.grammar[what])

    told: Mapping[str, object] = plan.entities["part"][part].values
    steps = sorted(plan.steps, key=lambda step: step.line)
    puts_in = does("puts in")
    takes_out = does("takes out") and not puts_in
    undone = [n for n, step in enumerate(steps) if "done" not in step.values]
    if (takes_out or does("comes early")) and undone:
        document.add_step({"id": own, "do": action, "to": part}, "before", steps[undone[0]].id, undone[0])
    else:
        document.add_step({"id": own, "do": action, "to": part}, "after", steps[-1].id, len(steps) - 1)
    if puts_in and not {"new", "stays"} & set(told):
        document.set(["parts", part, "new"], "yes")
    elif takes_out and "stays" not in told:
        document.set(["parts", part, "stays"], "no")
