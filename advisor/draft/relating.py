"""How the things of a text stand to each other and who does a step; and what follows from both at the end."""

from __future__ import annotations

import itertools

from advisor.draft.board import Candidate, Span, Thing, Unsure
from advisor.draft.clauses import Clause
from advisor.draft.following import Following
from advisor.draft.items import Item
from advisor.draft.mentions import Mention

# the word between two things: which attribute of the first names the second
_STANDS = {
    "on": "on", "onto": "on", "in": "in", "into": "in", "inside": "in", "over": "above", "above": "above",
    "against": "against", "behind": "against", "beside": "beside", "near": "beside",
}  # fmt: skip
_NEAR = 4  # words between two things of which one says where the other is
_I = frozenset(["i", "ill", "myself", "we", "well", "ourselves", "im", "were", "id"])


class Relating(Following):
    """Hears where things stand and who does what."""

    _on_walls = frozenset(
        {"shelf", "railing", "wallpaper", "mirror", "wall cabinets", "ledger", "hardware", "radiator"}
    )

    def _relate(self, clause: Clause, mentions: list[Mention], steps: list[tuple[Item, Thing]]) -> None:
        """`two outlets in it`, `vinyl over boards`: written where such things usually stand so, else offered."""
        if clause.unknown or clause.denied:
            return
        for first, second in itertools.pairwise(mentions):
            thing, other = self.things.of(first), self.things.of(second)
            name = _STANDS.get(second.prep, "")
            if thing is None or other is None or thing is other or not name:
                continue
            if thing.sort != "part" or other.sort != "part" or second.start - first.end > _NEAR:
                continue
            if any(first.end <= item.start < second.start for item, _ in steps):
                continue
            self._stands(thing, name, other, self.span(first.start, second.end))
        for place in range(clause.start, clause.stop - 1):
            if self.tokens[place].text in ("in", "on") and self.tokens[place + 1].text in ("it", "them") and not steps:
                thing = next((t for m in reversed(mentions) if m.end <= place and (t := self.things.of(m))), None)
                other = self.told_before(thing, clause.start)
                if thing is not None and other is not None and thing.sort == other.sort == "part":
                    self._stands(thing, self.tokens[place].text, other, self.span(place, place + 2))

    def told_before(self, thing: Thing | None, start: int) -> Thing | None:
        """The part that was spoken of before a clause."""
        return next((t for t in self.board.focus if t.sort == "part" and t is not thing and t.place < start), None)

    def _stands(self, thing: Thing, name: str, other: Thing, span: Span) -> None:
        if name in thing.facts:
            return
        if name == "in" and other.kind in self.things.below("part", "junction box"):
            name = "box" if self.things.table.score("part", thing.kind, "box") > 0 else name
        if name == "against" and other.kind not in self.things.below("part", "wall"):
            return
        if self.things.table.score("part", thing.kind, name) > 0:
            self.board.put(thing, name, [other.id], span)
        else:
            self.board.unsure.append(Unsure(span, (Candidate("part", thing.id, name, other.id),), "does it stand so?"))

    def _who_does(self, clause: Clause, steps: list[tuple[Item, Thing]], mentions: list[Mention]) -> None:
        """`my husband drills the holes`, `I hang it myself`: who a step is done by."""
        told = [m.sense.name for m in mentions if m.sense.role == "who" and m.sense.name != "owner"]
        self.person = told[-1] if told else self.person
        if not steps:
            self._told_in_brackets(clause)
        for number, (item, step) in enumerate(steps):
            stop = steps[number + 1][0].start if number + 1 < len(steps) else clause.stop
            if (told_with := self._together(item, clause, mentions, stop)) is not None:
                self.board.put(step, "people", str(told_with[0]), self.span(told_with[1], told_with[2]))
                if told_with[2] == item.start:
                    continue  # both do it
            before = [m for m in mentions if m.sense.role == "who" and self._stands_before(m, item)]
            near = [t.text for t in self.tokens[max(clause.start, item.start - 4) : item.start]]
            if before and before[-1].sense.name in ("helper", "child", "landlord") and not _I & set(near):
                self.board.put(step, "who", before[-1].sense.name, self.span(before[-1].start, before[-1].end))
                self.helpers.add(before[-1].words)
                many = next((i.amount for i in before[-1].before if i.amount is not None), None)
                if many is not None and 1 < many.number < 20:  # `my two nephews carry it`
                    self.board.put(step, "people", str(int(many.number)), self.span(before[-1].start, item.start))
            if (both := self._both_do(item, clause)) is not None:
                self.board.put(step, "people", "2", self.span(both, item.start))
                continue
            doers = self._doers(item, mentions, clause)
            if before and len(doers) > 1:
                self.helpers |= {m.words for m in mentions if m.start in doers and m.sense.name == "helper"}
            if len(doers) > 1:
                self.board.put(step, "people", str(len(doers)), self.span(doers[0], item.start))
            if before:
                continue
            if self.label and clause.lead in (":", ",", "and"):
                self.board.put(step, "who", self.label, self.span(item.start, item.end))
                continue
            if self.person and {"he", "she", "hes", "shes"} & set(near[-2:]):
                at = item.start - 1
                self.board.put(step, "who", self.person, self.span(at, at + 1))
            elif {"i", "ill", "myself", "im"} & set(near):
                at = max(clause.start, item.start - 4) + max(n for n, w in enumerate(near) if w in _I)
                self.myself.append((step, self.span(at, at + 1)))
            elif (
                clause.lead in (",", "and", "then")
                and self.myself
                and (self.myself[-1][0] in self.frames.sentence or self.retold == self.begin)
            ):
                self.myself.append((step, self.myself[-1][1]))

    def _label(self, clause: Clause, mentions: list[Mention]) -> None:
        """`me: sanding`, `Theo: tile and grout`: who does what stands behind it, to the end of the line."""
        behind = self.tokens[clause.stop].text if clause.stop < len(self.tokens) else ""
        who = [m for m in mentions if m.sense.role == "who"]
        if behind == ":" and len(who) == 1 and len(mentions) == 1 and clause.stop - clause.start <= 2:
            self.label = who[0].sense.name
            self.board.heard.append((self.span(clause.start, clause.stop), "words: who does it"))

    def settle(self) -> None:
        """What the end of a text tells: where others do steps, those of the owner are told apart; walls are walls."""
        if any(t.called for listed in self.board.things.values() for t in listed):
            return  # a plan that was told says all of it
        by_others = any("who" in step.facts for step in self.board.steps)
        for step, span in self.myself if by_others else []:
            if step in self.board.steps and "who" not in step.facts:
                self.board.put(step, "who", "owner", span, "inferred")
        self._old_and_new()
        self._stays()
        self._used()
        self._with_tools()
        self._where_usual()
        house = self.board.single("house")
        told = next((house.facts[n] for n in ("children_under_6", "pets") if n in house.facts), None)
        if told is not None and told.value not in ("0", ["none"]) and "occupied" not in house.facts:
            self.board.put(house, "occupied", "yes", told.spans[0], "inferred")
        outside = {k for one in ("deck", "fence", "siding", "gutter") for k in self.things.below("part", one)}
        for thing in self.board.things["part"]:
            if thing.kind in outside and not thing.called and "outside" not in thing.facts:
                self.board.put(thing, "outside", "yes", thing.facts["kind"].spans[0], "inferred")
        self._crew()
        for room in self.board.things["room"]:
            for name, kind in (("walls", "wall"), ("ceiling", "ceiling"), ("floor", "floor")):
                self._body(room, name, kind)

    def _old_and_new(self) -> None:
        """What is taken out and not put back does not stay; what is put in and was not taken out is new."""
        taxonomy = self.board.vocabulary.taxonomies["action"]
        puts = (
            taxonomy.below("install")
            - taxonomy.below("replace")
            - {"reinstall", "fasten", "connect", "move", "move appliance"}
        )
        out: dict[str, Span] = {}
        put: dict[str, Span] = {}
        for step in self.board.steps:
            if step.called or "to" not in step.facts:
                continue
            takes = step.kind in taxonomy.below("remove") and step.kind not in taxonomy.below("install")
            for own in step.facts["to"].value:
                if takes or step.kind == "replace" or step.kind in taxonomy.below("demolish"):
                    out.setdefault(own, step.facts["do"].spans[0])
                elif own in out and step.kind in taxonomy.below("install"):
                    out.pop(own)
                elif step.kind in puts:
                    put.setdefault(own, step.facts["do"].spans[0])
        for thing in self.board.things["part"]:
            if thing.called:
                continue
            covering = thing.kind in self.things.coverings or thing.age == "old"
            if "stays" not in thing.facts and thing.age != "new" and (taker := self._taken_by(thing)) is not None:
                self.board.put(thing, "stays", "no", taker.facts["kind"].spans[-1], "inferred")
            if thing.id in out and "stays" not in thing.facts and (covering or self._has_new(thing)):
                self.board.put(thing, "stays", "no", out[thing.id], "inferred")
            elif thing.age == "new" and "new" not in thing.facts:
                self.board.put(thing, "new", "yes", thing.facts["kind"].spans[0], "inferred")
            elif thing.id in put and "new" not in thing.facts and self._has_old(thing):
                self.board.put(thing, "new", "yes", put[thing.id], "inferred")
            elif thing.id in put and "new" not in thing.facts and not thing.removed:
                ways = tuple(Candidate("part", thing.id, "new", answer) for answer in ("yes", "no"))
                self.board.unsure.append(Unsure(put[thing.id], ways, "is it new?"))

    def _has_old(self, thing: Thing) -> bool:
        return thing.age != "old" and any(
            t is not thing and t.age == "old" and t.kind == thing.kind for t in self.board.things["part"]
        )

    def _taken_by(self, thing: Thing) -> Thing | None:
        """The new one that is put where a thing is: `it quit so i put a new one in`."""
        adds = any(step.kind == "add" for step in self.board.steps) or any(
            self.language.has("adds one", t.text) for t in self.tokens
        )
        puts = self.board.vocabulary.taxonomies["action"].below("install") | {"connect"}
        worked = {
            own
            for step in self.board.steps
            if step.kind in puts and "to" in step.facts
            for own in step.facts["to"].value
        }
        if adds and thing.age != "old":
            return None
        news = [t for t in self.board.things["part"] if t.kind == thing.kind and t.age == "new" and t is not thing]
        return next((t for t in news if t.instead and t.id in worked), None)

    def _where_usual(self) -> None:
        """The wall that a worktop meets, the range that a hood hangs over: offered where there is just one."""
        table, parts = self.things.table, self.board.things["part"]
        kinds = {"against": self.things.below("part", "wall"), "above": self.things.below("part", "cooking appliance")}
        for thing in parts:
            made = self.language.made_of.get(thing.kind)
            if made and "material" not in thing.facts:
                self.board.put(thing, "material", made, thing.facts["kind"].spans[0], "inferred")
            for name, below in kinds.items():
                others = [t for t in parts if t.kind in below and t is not thing]
                usual = table.score("part", thing.kind, name) > 0
                usual = usual or (name == "against" and thing.kind in self._on_walls)
                if usual and len(others) == 1 and name not in thing.facts and thing.kind not in below:
                    way = Candidate("part", thing.id, name, others[0].id)
                    self.board.unsure.append(Unsure(thing.facts["kind"].spans[0], (way,), "does it stand so?"))

    def _has_new(self, thing: Thing) -> bool:
        return any(t is not thing and t.age == "new" and t.kind == thing.kind for t in self.board.things["part"])

    def _crew(self) -> None:
        """Whether a helper works all the time or only comes for a lift is asked: a lift of two hangs on it."""
        crew = self.board.single("crew")
        if self.people.counted and len(self.helpers | self.people.helping) > 1:
            crew.facts["people"].value = str(1 + len(self.helpers | self.people.helping))
        doing = [s for s in self.board.steps if "who" in s.facts and "done" not in s.facts]
        told = [(str(s.facts["who"].value), s.facts["who"].spans[0]) for s in doing]
        if told and "who" not in crew.facts:
            others = sorted({who for who, _ in told} - {"owner"})
            own = len(told) < len(self.board.steps) or any(who == "owner" for who, _ in told)
            self.board.put(crew, "who", [*(["owner"] if own else []), *others], told[0][1], "inferred")
        people = crew.facts.get("people")
        by = [s for s in self.board.steps if "who" in s.facts and s.facts["who"].value in ("helper", "child")]
        if people is not None and str(people.value).isdigit() and int(str(people.value)) > 1:
            more, span = max(int(str(people.value)) - 1, len(self.helpers)), people.spans[0]
        elif people is None and by:
            more, span = max(1, len(self.helpers)), by[0].facts["who"].spans[0]
        else:
            return
        if "who" not in crew.facts:
            self.board.put(crew, "who", ["owner", "helper"], span, "inferred")
        if "helpers" not in crew.facts:
            ways = [Candidate("crew", "crew", "helpers", str(more))]
            ways += [Candidate("crew", "crew", "people", str(more + 1))] if people is None else []
            self.board.unsure.append(Unsure(span, tuple(ways), "at work, or only for a lift?"))

    def _body(self, room: Thing, name: str, kind: str) -> None:
        """The walls of a room and the wall that is worked on there are of one material."""
        parts = [t for t in self.board.things["part"] if t.kind == kind and not t.called]
        mine = [t for t in parts if "room" in t.facts and t.facts["room"].value == room.id]
        said = room.facts.get(name)
        if said is not None:
            for part in mine:
                if "material" not in part.facts:
                    self.board.put(part, "material", said.value, said.spans[0], "inferred")
        elif not room.called and mine and (told := mine[0].facts.get("material")) is not None:
            self.board.put(room, name, told.value, told.spans[0], "inferred")
