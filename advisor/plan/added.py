"""Steps, parts and rooms that a plan does not have yet, as an answer names them."""

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


def other_one(kind: str, *, new: bool) -> str:
    """The name of the part that comes for one which goes, or that goes for one which comes."""
    return f"{'new' if new else 'old'}-{kind.replace(' ', '-')}"


def kind_of_other(own: str, vocabulary: Vocabulary) -> str:
    """The kind of such a part by its name; empty where it is no such name."""
    age, _, rest = own.partition("-")
    kinds = vocabulary.taxonomies["part_kind"].terms
    return next((k for k in kinds if k.replace(" ", "-") == rest), "") if age in ("new", "old") else ""


def is_added(key: tuple[str, str, str], value: str, plan: Plan, vocabulary: Vocabulary) -> bool:
    """Whether an answer adds what it is about: a room that is not told, a step on a part that is there or comes."""
    sort, own, attribute = key
    if (sort, attribute) == ("step", "do"):
        part = part_of_added(own, value)
        return part in plan.entities["part"] or bool(kind_of_other(part, vocabulary))
    return (sort, attribute) == ("room", "kind")


def roomless(vocabulary: Vocabulary) -> frozenset[str]:
    """The kinds of part that are in no room: siding."""
    kinds = vocabulary.taxonomies["part_kind"]
    return frozenset(kind for one in vocabulary.grammar["in no room"] for kind in kinds.below(one))


def comes_and_goes(action: str, vocabulary: Vocabulary) -> tuple[bool, bool]:
    """Whether such a step puts its part in anew, and whether it takes it out; what does both puts in."""
    puts_in = _does(action, "puts in", vocabulary)
    puts_back, takes_out = _does(action, "puts back", vocabulary), _does(action, "takes out", vocabulary)
    return puts_in and not puts_back, takes_out and not puts_in


def _does(action: str, what: str, vocabulary: Vocabulary) -> bool:
    actions = vocabulary.taxonomies["action"]
    return any(action in actions.below(one) for one in vocabulary.grammar[what])


def add_step_to(document: PlanText, plan: Plan, own: str, action: str, vocabulary: Vocabulary) -> None:
    """Write the step and what it says of its part: what is put in is new, what is taken out goes; KeyError if none."""
    part = part_of_added(own, action)
    if part not in plan.entities["part"]:
        _add_other(document, plan, part, vocabulary)
    known = plan.entities["part"].get(part)
    told: Mapping[str, object] = known.values if known is not None else {}
    steps = sorted(plan.steps, key=lambda step: step.line)
    puts_in, takes_out = comes_and_goes(action, vocabulary)
    undone = [n for n, step in enumerate(steps) if "done" not in step.values]
    if (takes_out or _does(action, "comes early", vocabulary)) and undone:
        document.add_step({"id": own, "do": action, "to": part}, "before", steps[undone[0]].id, undone[0])
    else:
        document.add_step({"id": own, "do": action, "to": part}, "after", steps[-1].id, len(steps) - 1)
    if puts_in and not {"new", "stays"} & set(told):
        document.set(["parts", part, "new"], "yes")
    elif takes_out and "stays" not in told:
        document.set(["parts", part, "stays"], "no")


def _add_other(document: PlanText, plan: Plan, own: str, vocabulary: Vocabulary) -> None:
    """Write a part beside the one of its kind, in the same room; KeyError if the name tells no kind."""
    kind = kind_of_other(own, vocabulary)
    if not kind:
        raise KeyError(own)
    parts = plan.entities["part"].values()
    rooms = [one.values["room"].text for one in parts if one.values["kind"].plain == kind and "room" in one.values]
    document.add_entry("parts", own, {"kind": kind, **({"room": rooms[0]} if rooms else {})})


def add_room_to(document: PlanText, plan: Plan, own: str, kind: str, vocabulary: Vocabulary) -> None:
    """Write a room, and that all parts of which no room is told are in it."""
    document.add_entry("rooms", own, {"kind": kind})
    nowhere = roomless(vocabulary)
    for part in plan.entities["part"].values():
        if not {"room", "outside"} & set(part.values) and str(part.values["kind"].plain) not in nowhere:
            document.set(["parts", part.id, "room"], own)
