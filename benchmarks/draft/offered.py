"""What offers of a draft would write that are things and steps of their own."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping
from typing import Any

from advisor.draft.board import Candidate
from advisor.plan.added import added_step, comes_and_goes, kind_of_other, part_of_added
from advisor.plan.model import Entity, Plan
from advisor.rulebase.vocabulary import Vocabulary


def role_of(entity: Entity) -> str:
    """Whether a thing is the one that was there or the one that comes."""

    def told(name: str) -> str:
        return str(getattr(entity.values.get(name), "plain", ""))

    if entity.id.startswith(("old", "existing")) or told("stays") == "no":
        return "old"
    return "new" if entity.id.startswith("new") or "yes" in (told("new"), told("added")) else ""


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


def match_offered(
    sort: str, meant: Plan, match: dict[tuple[str, str], str], added: Mapping[tuple[str, str], str], words: Vocabulary
) -> None:
    """Match what the draft does not have to what an answer would add: one thing for each such answer."""
    taxonomy = words.taxonomies[f"{sort}_kind"]
    free = {own: kind for (other, own), kind in added.items() if other == sort}
    for mine, entity in meant.entities[sort].items():
        kind, role = str(entity.values["kind"].plain), role_of(entity)
        fits = [own for own, one in free.items() if kind in {one, *taxonomy.above(one)}]
        if sort == "part":  # by its name: whether it comes or goes
            fits = [own for own in fits if {role, own.partition("-")[0]} != {"old", "new"}]
        if (sort, mine) not in match and fits:
            match[sort, mine] = fits[0]
            del free[fits[0]]


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
