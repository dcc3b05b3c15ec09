"""How well a draft says what its author meant: facts right, offered, wrong, beyond; order, unknowns, words."""

from __future__ import annotations

import re
from collections import Counter
from typing import Any

from advisor.draft.carries import grave_attributes
from advisor.draft.draft import Draft, draft
from advisor.draft.tokens import tokens_of
from advisor.plan import read_plan
from advisor.plan.added import roomless
from advisor.plan.model import Entity, Plan
from advisor.rulebase.base import RuleBase
from benchmarks.draft.cases import read_case as read_case
from benchmarks.draft.classes import class_of
from benchmarks.draft.offered import match_offered, role_of, steps_offered, things_offered, written_with

SORTS = ("house", "code", "room", "part", "product", "crew", "budget", "step")


def score(case: dict[str, Any], rulebase: RuleBase) -> Counter[str]:
    """Counts of one text; `draft` never sees the plan."""
    made = draft(case["text"], rulebase)
    meant = read_plan(_with_steps(case["plan"]), rulebase.vocabulary, "expected")
    found = read_plan(_with_steps(made.plan), rulebase.vocabulary, "draft")
    return Scorer(made, meant, found, rulebase).counts(case)


def _with_steps(plan: dict[str, Any]) -> dict[str, Any]:
    return plan if plan.get("steps") else {**plan, "steps": [{"do": "photograph", "id": "zz-none"}]}


def _done_to(plan: Plan, own: str) -> set[str]:
    """What is done to a thing."""
    return {
        str(step.values["do"].plain)
        for step in plan.steps
        if "to" in step.values and isinstance(step.values["to"].plain, tuple) and own in step.values["to"].plain
    }


class Scorer:
    """Compares two plans: things by kind, name and what agrees; then each attribute as the reader reads it."""

    def __init__(self, made: Draft, meant: Plan, found: Plan, rulebase: RuleBase) -> None:
        self.made, self.meant, self.found = made, meant, found
        self.vocabulary = rulebase.vocabulary
        self.grave = grave_attributes(rulebase)
        self.ways: dict[tuple[str, str, str], set[str]] = {}  # what is offered of a thing
        for one in (c for unsure in made.unsure for c in unsure.candidates):
            self.ways.setdefault((one.sort, one.id, one.attribute), set()).add(one.value)
        self.match: dict[tuple[str, str], str] = {}  # sort and id meant: id found
        self.extra = things_offered((c for u in made.unsure for c in u.candidates), found, self.vocabulary)
        for sort in ("room", "part", "product"):
            self._match(sort)
            match_offered(sort, self.meant, self.match, self.extra, self.vocabulary)
        self._match_steps()
        self.detail: list[str] = []

    def _match(self, sort: str) -> None:
        meant, found = self.meant.entities[sort], dict(self.found.entities[sort])
        taxonomy = self.vocabulary.taxonomies[f"{sort}_kind"]

        def kind(entity: Entity) -> str:
            return str(entity.values["kind"].plain)

        def same(a: Entity, b: Entity) -> bool:
            return kind(a) == kind(b)

        def alike(a: Entity, b: Entity) -> bool:
            return kind(a) in taxonomy.above(kind(b)) or kind(b) in taxonomy.above(kind(a))

        def offered(a: Entity, b: Entity) -> bool:
            """The draft asks whether it is what the author says: that choice makes it the same thing."""
            return kind(a) in self.ways.get((sort, b.id, "kind"), set())

        for test in (same, alike, offered):
            # names are the author's own: of several of a kind those that play one part and agree in most
            pairs = [
                (-self._agree(e, o), own, other) for own, e in meant.items() for other, o in found.items() if test(e, o)
            ]
            for _, own, other in sorted(pairs, key=lambda row: row[0]):
                if (sort, own) not in self.match and other in found:
                    self.match[sort, own] = other
                    del found[other]

    def _agree(self, mine: Entity, other: Entity) -> float:
        """How much two things agree: in being the old one or the new one, in what is done to them, in what is told."""
        facts = sum(
            v.plain == other.values[n].plain for n, v in mine.values.items() if n in other.values and n != "room"
        )
        roles = (role_of(mine), role_of(other))
        role = 3.0 if roles[0] and roles[0] == roles[1] else -3.0 if set(roles) == {"old", "new"} else 0.0
        done = len(_done_to(self.meant, mine.id) & _done_to(self.found, other.id))
        return facts + role + 2.0 * done

    def _match_steps(self) -> None:
        left = list(self.found.steps)
        taxonomy = self.vocabulary.taxonomies["action"]

        def verb(step: Entity) -> str:
            return str(step.values["do"].plain)

        def to(step: Entity) -> set[str]:
            value = step.values.get("to")
            return set(map(str, value.plain)) if value and isinstance(value.plain, tuple) else set()

        def mapped(step: Entity) -> set[str]:
            return {self.match.get(("part", own), "?" + own) for own in to(step)}

        tests = (
            lambda a, b: verb(a) == verb(b) and mapped(a) == to(b),
            lambda a, b: verb(a) == verb(b) and (mapped(a) & to(b) or not to(b) or not mapped(a)),
            lambda a, b: verb(a) == verb(b),
            lambda a, b: verb(a) in taxonomy.above(verb(b)) or verb(b) in taxonomy.above(verb(a)),
        )
        for number, test in enumerate(tests):
            for step in self.meant.steps:
                if ("step", step.id) in self.match:
                    continue
                other = next((s for s in left if test(step, s) and (number < 3 or mapped(step) & to(s))), None)
                if other is not None:
                    self.match["step", step.id] = other.id
                    left.remove(other)

    # --- facts --------------------------------------------------------------------------------------------

    def _facts(self, plan: Plan, *, map_refs: bool) -> dict[tuple[str, str, str], set[Any]]:
        found: dict[tuple[str, str, str], set[Any]] = {}
        for sort in SORTS:
            for own, entity in plan.entities[sort].items():
                if own == "zz-none":
                    continue
                for name, value in entity.values.items():
                    attribute = self.vocabulary.attributes[sort][name]
                    members = value.plain if isinstance(value.plain, tuple) and attribute.many else (value.plain,)
                    if attribute.type == "ref" and map_refs:
                        members = tuple(self.match.get((attribute.of, str(m)), f"?{m}") for m in members)
                    if attribute.type == "year" and (year := re.search("[0-9]{4}", value.text)):
                        members = (
                            int(year[0]),
                        )  # `about 1910` and 1910 tell the same year: the hedge is no other fact
                    rounded = {round(m, 6) if isinstance(m, float) else m for m in members}
                    found[sort, own, name] = rounded or {"none"}
        return found

    def counts(self, case: dict[str, Any]) -> Counter[str]:
        """All figures of the text."""
        own: Counter[str] = Counter(texts=1, offers=len(self.made.unsure))
        meant, found = self._facts(self.meant, map_refs=True), self._facts(self.found, map_refs=False)
        back = {(sort, other): mine for (sort, mine), other in self.match.items()}
        offered = {(c.sort, c.id, c.attribute): set() for u in self.made.unsure for c in u.candidates}
        for one in self.made.unsure:
            for c in one.candidates:
                offered[c.sort, c.id, c.attribute].add(self._plain(c.sort, c.attribute, c.value))
        added = steps_offered(self.meant, self.match, self.ways, self.vocabulary)
        added |= written_with(self.extra, self.meant, self.found, self.match, roomless(self.vocabulary))
        for (sort, mine, name), members in meant.items():
            other = mine if sort in ("house", "code", "crew", "budget") else self.match.get((sort, mine))
            there = found.get((sort, other, name), set()) if other else set()
            for member in members:
                own["facts"] += 1
                group = class_of(sort, self.vocabulary.attributes[sort][name])
                own[f"class {group}: facts"] += 1
                if (
                    member in there
                    or self._narrower(sort, name, member, there)
                    or self._outside(sort, mine, name, other)
                ):
                    own["right"] += 1
                    own[f"class {group}: right"] += 1
                elif (other and member in offered.get((sort, other, name), set())) or (mine, name, member) in added:
                    own["offered"] += 1
                    own[f"class {group}: offered"] += 1
                    self.detail.append(f"offered {sort} {mine}.{name}={member}")
                else:
                    how = "other value" if there else "not written" if other else "thing not found"
                    own[f"missed {sort}.{name} {how}"] += 1
                    own[f"class {group}: {how}"] += 1
                    self.detail.append(
                        f"missed {sort} {mine}.{name}={member}"
                        + (f" (found {there})" if there else "" if other else " (thing not found)")
                    )
        notes = {
            (t.sort, t.id, n): f.note for ts in self.made.board.things.values() for t in ts for n, f in t.facts.items()
        }
        for (sort, other, name), members in found.items():
            mine = other if sort in ("house", "code", "crew", "budget") else back.get((sort, other))
            wanted = meant.get((sort, mine, name), set()) if mine else set()
            if mine and not wanted and notes.get((sort, other, name)) == "inferred":
                continue
            for member in members - wanted:
                own["written"] += 1
                if any(self._narrower(sort, name, one, {member}) for one in wanted):
                    continue  # said more closely than the author wrote it: a nursery is a bedroom
                what = "wrong" if wanted and not self._many(sort, name) else "beyond"
                own[what] += 1
                own[f"class {class_of(sort, self.vocabulary.attributes[sort][name])}: {what}"] += 1
                own[f"{what} grave"] += (sort, name) in self.grave
                inferred = " (inferred)" * (notes.get((sort, other, name)) == "inferred")
                own[f"missed not there: {sort}.{name} {what}{inferred}"] += 1
                self.detail.append(
                    f"{what.upper()} {sort} {other}.{name}={member}" + (f" (meant {wanted})" if wanted else "")
                )
            own["written"] += len(members & wanted)
        self._order(case, own)
        for thing, name in case.get("unknown") or []:
            self._unknown(str(thing), str(name), found, own)
        self._words(own)
        return own

    def _outside(self, sort: str, mine: str, name: str, other: str | None) -> bool:
        """A part of the yard that the draft tells to be outside: rules read both alike."""
        part = self.found.entities["part"].get(other or "") if (sort, name) == ("part", "room") else None
        room = (
            self.meant.entities["room"].get(str(self.meant.entities["part"][mine].values["room"].plain))
            if part
            else None
        )
        if part is None or room is None or "room" in part.values or "outside" not in part.values:
            return False
        outdoors = self.vocabulary.taxonomies["room_kind"].below("outdoors")
        return str(room.values["kind"].plain) in outdoors and part.values["outside"].plain == "yes"

    def _narrower(self, sort: str, name: str, wide: Any, found: set[Any]) -> bool:
        attribute = self.vocabulary.attributes[sort][name]
        taxonomy = self.vocabulary.taxonomies.get(attribute.of) if attribute.type == "term" else None
        return taxonomy is not None and wide in taxonomy.terms and bool(found & (taxonomy.below(wide) - {wide}))

    def _many(self, sort: str, name: str) -> bool:
        return self.vocabulary.attributes[sort][name].many

    def _plain(self, sort: str, name: str, value: str) -> Any:
        from advisor.plan.values import BadValueError, scalar_value

        attribute = self.vocabulary.attributes[sort][name]
        try:
            plain = (
                scalar_value(attribute, value, self.vocabulary, lambda a, t: "") if attribute.type != "ref" else value
            )
        except BadValueError:
            return value
        return round(plain, 6) if isinstance(plain, float) else plain

    def _order(self, case: dict[str, Any], own: Counter[str]) -> None:
        steps = [s.id for s in self.meant.steps]
        places = {s.id: n for n, s in enumerate(self.found.steps)}
        written = [
            str(s.get("id")) if isinstance(s, dict) and s.get("id") else steps[n]
            for n, s in enumerate(case["plan"].get("steps") or [])
        ]
        pairs = (
            [(int(a), int(b)) for a, b in case["order"]]
            if case.get("order")
            else [(n, n + 1) for n in range(len(written) - 1)]
        )
        for first, second in pairs:
            if first >= len(written) or second >= len(written):
                continue
            mine = [self.match.get(("step", written[n])) for n in (first, second)]
            if None in mine:
                continue
            own["pairs"] += 1
            kept = places[str(mine[0])] < places[str(mine[1])]
            own["in order"] += kept
            if not kept:
                own["missed order"] += 1
                self.detail.append(f"ORDER {written[first]} {written[second]}")

    def _unknown(self, thing: str, name: str, found: dict[tuple[str, str, str], set[Any]], own: Counter[str]) -> None:
        own["unknowns"] += 1
        sorts = [s for s in SORTS if (s, thing) in self.match] or ([thing] if thing in SORTS else [])
        written = any((s, self.match.get((s, thing), thing), name) in found for s in sorts)
        own["left unknown"] += not written
        if written:
            self.detail.append(f"KNOWN {thing}.{name}")

    def _words(self, own: Counter[str]) -> None:
        covered = bytearray(len(self.made.text) + 1)
        for start, end in [*(h.span for h in self.made.heard), *(u.span for u in self.made.unsure), *self.made.unheard]:
            covered[start:end] = b"\1" * (end - start)
        for token in tokens_of(self.made.text):
            if token.sort not in ("mark", "break"):
                own["words"] += 1
                own["accounted"] += all(covered[token.start : token.end])
        own["not understood"] += sum(len(self.made.text[a:b].split()) for a, b in self.made.unheard)
