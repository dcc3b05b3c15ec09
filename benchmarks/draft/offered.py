"""What offers of a draft would write that are things and steps of their own."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping
from typing import Any

from advisor.draft.board import Candidate
from advisor.plan.added import added_step, comes_and_goes, kind_of_other, part_of_added
from advisor.plan.model import Plan
from advisor.rulebase.vocabulary import Vocabulary


def things_offered(candidates: Iterable[Candidate], found: Plan, words: Vocabulary) -> dict[tuple[str, str], str]:
    """The things that answers would add, with their kinds: a room, a product for the work, an old faucet."""
    added: dict[tuple[str, str], str] = {}
    for one in candidates:
        attribute = words.attributes[one.sort][one.attribute]
        if (one.sort, one.attribute) == ("step", "do"):
            own = part_of_added(one.id, one.value)
            sort, kind = "part", kind_of_other(own, words)
        elif (one.sort, one.attribute) == ("room", "kind"):
            sort, own, kind = "room", one.id, one.value
        elif attribute.type == "ref" and attribute.of in ("part", "product", "room"):
            sort, own = attribute.of, one.value
            kind = one.value if one.value in words.taxonomies[f"{sort}_kind"].terms else ""
        else:
            continue
        if kind and own not in found.entities[sort]:
            added[sort, own] = kind
    return added


def written_with(
    added: Mapping[tuple[str, str], str],
    meant: Plan,
    found: Plan,
    match: Mapping[tuple[str, str], str],
    nowhere: Container[str],
) -> set[tuple[str, str, Any]]:
    """Facts of the author that such an answer would write besides: kind, room, new or gone."""
    facts: set[tuple[str, str, Any]] = set()
    rooms = list(found.entities["room"])
    for (sort, mine), other in match.items():
        if (sort, other) in added:
            facts.add((mine, "kind", str(meant.entities[sort][mine].values["kind"].plain)))
        if sort != "part":
            continue
        if other in found.entities["part"]:
            there = found.entities["part"][other]
            told = {"room", "outside"} & set(there.values) or str(there.values["kind"].plain) in nowhere
            facts |= set() if told else {(mine, "room", own) for sort, own in added if sort == "room"}
            continue
        age = other.partition("-")[0]
        facts |= {"old": {(mine, "stays", "no")}, "new": {(mine, "new", "yes")}}.get(age, set())
        beside = [p for p in found.entities["part"].values() if str(p.values["kind"].plain) == added[sort, other]]
        facts |= {(mine, "room", str(p.values["room"].plain)) for p in beside[:1] if "room" in p.values}
        facts |= {(mine, "room", own) for own in rooms if len(rooms) == 1 and not beside}  # it is in the only room
    return facts


def steps_offered(
    meant: Plan, match: Mapping[tuple[str, str], str], ways: Mapping[tuple[str, str, str], set[str]], words: Vocabulary
) -> set[tuple[str, str, Any]]:
    """Facts of the author that a step which is offered would write: its work, its part, new or gone."""
    found: set[tuple[str, str, Any]] = set()
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
            puts_in, takes_out = comes_and_goes(str(done), words)
            if puts_in:
                found.add((str(own), "new", "yes"))
            elif takes_out:
                found.add((str(own), "stays", "no"))
    return found
