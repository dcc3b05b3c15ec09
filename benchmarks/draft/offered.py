"""What offers of a draft would write that are things and steps of their own."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from advisor.draft.board import Candidate
from advisor.plan.added import added_step, comes_and_goes, kind_of_other, part_of_added, roomless
from advisor.plan.model import Plan
from advisor.rulebase.vocabulary import Vocabulary


def things_offered(candidates: Iterable[Candidate], found: Plan, words: Vocabulary) -> dict[tuple[str, str], str]:
    """The things that answers would add, with their kinds: a room, a product that a step is done with, an old faucet."""
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
    words: Vocabulary,
) -> set[tuple[str, str, Any]]:
    """Facts of the author that such an answer would write besides: the kind, and in which room what is."""
    facts: set[tuple[str, str, Any]] = set()
    rooms = {own for sort, own in added if sort == "room"}
    nowhere = roomless(words)
    single = next(iter(found.entities["room"]), None) if len(found.entities["room"]) == 1 else None
    for (sort, mine), other in match.items():
        if (sort, other) in added:
            facts.add((mine, "kind", str(meant.entities[sort][mine].values["kind"].plain)))
        if sort != "part":
            continue
        room = meant.entities[sort][mine].values.get("room")
        theirs = match.get(("room", str(room.plain))) if room is not None else None
        there = found.entities["part"].get(other)
        if there is None:  # an old faucet is where the new one is
            kind = added[sort, other]
            there = next((p for p in found.entities["part"].values() if p.values["kind"].plain == kind), None)
        if there is None and theirs is not None and theirs == single:
            facts.add((mine, "room", theirs))  # a part that an answer adds is in the only room
        if there is None or theirs is None or "outside" in there.values:
            continue
        if other not in found.entities["part"] and "room" in there.values and there.values["room"].plain == theirs:
            facts.add((mine, "room", theirs))
        elif theirs in rooms and "room" not in there.values and str(there.values["kind"].plain) not in nowhere:
            facts.add((mine, "room", theirs))
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
