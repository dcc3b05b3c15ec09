"""The things of a text: which one a name means, and in which room it is."""

from __future__ import annotations

from advisor.draft.board import Thing
from advisor.draft.clauses import Clause
from advisor.draft.items import Item
from advisor.draft.kept import _WHERE, Spans
from advisor.draft.lexicon import Sense
from advisor.draft.mentions import Mention
from advisor.draft.turns import turns
from advisor.draft.wanting import Wanting


def told_age(mention: Mention) -> str:
    """Old, or new also where it is added to nothing."""
    return "new" if mention.age in ("added", "put in") else mention.age


class Things(Wanting):
    """Keeps the things of one text on the board."""

    def resolve(
        self, clause: Clause, mentions: list[Mention], items: list[Item], span: Spans, *, unknown: bool
    ) -> None:
        """Find or make the thing of each mention of a clause."""
        self._of = {}
        self._mentions, self._items = mentions, items
        words = {t.text for t in self.tokens[clause.start : clause.stop]}
        self._switches = bool(words & {"off", "on", "at", "kill", "flip", "shut", "turn"})
        self._turned = bool(words & turns("turned"))  # a valve that is put on is not turned on
        self._clause_has_object = any(m.sense.role == "part" and not m.prep for m in mentions) or self._has_pronoun(
            clause
        )
        for mention in mentions:
            if mention.sense.of == "name" and (named := self.board.named(mention.words)) is not None:
                self._of[id(mention)] = named
        for mention in mentions:
            mention.sense = self._beside(mention)
            if (told := self._is_made_of(mention, clause)) is not None:
                self._of[id(mention)] = told
        self._lacks(clause, mentions)
        rooms = [m for m in mentions if m.sense.role == "room" and m.sense.of != "name"]
        self._only_kept = not any(m.sense.role == "part" for m in mentions)
        for mention in rooms:
            self._room(mention, clause, span)
        self._put_in(clause, mentions, items)
        for mention in mentions:
            if (
                mention.sense.of != "name"
                and id(mention) not in self._of
                and mention.sense.role in ("part", "product")
                and (
                    self._there(mention)
                    or not (
                        (
                            clause.denied
                            and mention.start >= clause.denied_from
                            and not self._stands_there(mention)
                            and not self.definite(mention)
                        )
                        or self._only_where(mention)
                    )
                )
            ):
                self._thing(mention, clause, span, rooms)
        for mention in reversed(mentions):
            thing = self.of(mention)
            if thing is not None and thing.sort in ("part", "product", "room") and not mention.prep:
                self.board.talk_of(thing)

    def _put_in(self, clause: Clause, mentions: list[Mention], items: list[Item]) -> None:
        """`swap it for a steel door`: what takes the place of another is a new one, of its kind or not."""
        verb = next((i for i in items if i.verb is not None and i.verb.name == "replace"), None)
        for mention in mentions if verb is not None else []:
            near = {t.text for t in self.tokens[max(clause.start, mention.start - 2) : mention.start]}
            put_in = mention.prep == "for" or (mention.prep in ("with", "to") and {"a", "an", "new"} & near)
            if (
                verb is not None
                and put_in
                and mention.sense.role == "part"
                and mention.start > verb.start
                and not mention.age
            ):
                mention.age = "put in"

    def _lacks(self, clause: Clause, mentions: list[Mention]) -> None:
        """`there is no outlet … an electrician puts one in`: what is told not to be there may be put there."""
        if clause.denied and not clause.unknown:
            behind = [m for m in mentions if m.sense.role == "part" and m.start >= clause.denied_from and not m.prep]
            self.lacking = (behind[0].sense, behind[0].words) if behind else self.lacking

    def _only_where(self, mention: Mention) -> bool:
        """Whether a part is named only to say where something is: `under the sink`, `at the breaker`."""
        switched = ("breaker", "panel", "shutoff valve") if self._turned else ("breaker", "panel")
        if mention.sense.name in switched and self._switches:
            return True
        if mention.sense.role != "part" or mention.prep not in _WHERE:
            return False
        if mention.prep in ("off", "from") and (
            mention.sense.name in ("wall", "ceiling", "floor") or self._is_worked_on(mention)
        ):
            return False
        if self._room_word(mention) is not None:
            return False  # `at the kitchen sink`: the room tells which sink, so it is there
        return mention.prep in ("at", "from", "up", "down", "off")

    def _is_worked_on(self, mention: Mention) -> bool:
        """`strip the paint off the doors`: what comes off is no thing, and what it comes off is worked on."""
        before = [i for i in self._items if i.end <= mention.start]
        verb = next((i for i in reversed(before) if i.verb is not None), None)
        taxonomy = self.board.vocabulary.taxonomies["action"]
        if verb is None or verb.verb is None:
            return False
        between = [m for m in self._mentions if verb.end <= m.start < mention.start and m.sense.role == "part"]
        abrades = any(verb.verb.name in taxonomy.below(one) for one in ("abrade", "strip", "clean"))
        coated = any(i.start >= verb.end and i.get("term", "coating") for i in before)
        return not between and (abrades or coated)

    def _stands_there(self, mention: Mention) -> bool:
        """`there is no outlet under the sink`: what it would be under is there."""
        before = self.tokens[mention.start - 1].text if mention.start else ""
        return mention.prep in _WHERE and before in ("the", "our", "my", "that", "this")

    def definite(self, mention: Mention) -> bool:
        """`nobody touched the wires`, `that valve`: it is there, whatever is denied of it."""
        before = self.tokens[mention.start - 1].text if mention.start else ""
        return mention.sense.role == "part" and before in (
            "the",
            "those",
            "that",
            "our",
            "my",
            "these",
            "this",
            "her",
            "his",
            "their",
        )

    def _there(self, mention: Mention) -> bool:
        return self.board.find(mention.sense.role, mention.sense.name, mention.words, mention.age) is not None

    def _room(self, mention: Mention, clause: Clause, span: Spans) -> None:
        kind, words, place = mention.sense.name, mention.words, span(mention.start, mention.end)
        thing = self.board.find("room", kind, words, "")
        if thing is None:
            thing = self.board.add("room", kind, words, place)
        else:
            thing.facts["kind"].spans.append(place)
        if thing is None:
            return
        self._of[id(mention)] = thing
        stores = kind in self._stores and self.board.room is not None
        if "owns" in clause.cues and mention.prep and (self._only_kept or stores):
            thing.kept = True  # where something is kept, no room of the work
            return
        thing.kept = (thing.kind == "outdoors" and mention.words in ("outside", "outdoors")) or (
            (self._waits(mention, clause) or self._aside(mention)) and (thing.kept or thing is not self.board.room)
        )
        thing.drop = self._aside(mention) and (thing.drop or not thing.place)
        led = self._only_serves(mention) or self._leads_there(mention) or self._only_compared(mention, clause)
        thing.apart = thing is not self.board.room and led
        lived_in = self._dwelt_in(mention, clause) or self._done_elsewhere(mention, clause)
        thing.kept = thing.kept or (lived_in and thing is not self.board.room)
        thing.place = mention.start
        aside = clause.lead == "(" and mention.prep in ("in", "at", "from")
        if aside and thing is not self.board.room:
            thing.kept = True  # `water off (valve in the basement)`
        if thing.kept or thing.apart:
            return
        if self.board.room is None or (mention.prep not in turns("passing") and not self._of_a_thing(mention)):
            moved = mention.prep in ("in", "at", "outside", "") and self.board.room is not None and self._does(clause)
            moved = moved or self._only_stored(mention)
            if not moved or self._fronted(mention, clause):
                self.board.room = thing

    def _only_stored(self, mention: Mention) -> bool:
        """`new one in garage`: in a talk of another room it only waits there."""
        room = self.board.room
        waits = mention.prep in ("in", "at", "out", "for", "to", "from") and mention.sense.name in self._stores
        return waits and room is not None and room.kind not in self._stores

    def _thing(self, mention: Mention, clause: Clause, span: Spans, rooms: list[Mention]) -> None:
        sort, kind, place = mention.sense.role, mention.sense.name, span(mention.start, mention.end)
        words = mention.words
        known = self.board.find(sort, kind, words, told_age(mention))
        if known is not None and self._elsewhere(known):
            known = None  # the ceiling of the bathroom is not that of the bedroom
        if known is not None and mention.sense.of == "beside" and words.split()[-1] not in known.words.split():
            known = self._called_so(kind, words, told_age(mention))  # the boards of a deck are not the deck
        thing = known or self._told_closer(mention, clause)
        if thing is None:
            told = told_age(mention)
            named = told and self._kin(sort, kind) and not words.startswith(told)
            own = self.board.free_id(f"{told} {words}" if named else words)
            thing = self.board.add(sort, kind, words, place, own=own)
            if thing is not None:
                thing.born = mention.start
        else:
            thing.facts["kind"].spans.append(place)
            self.board.put(thing, "kind", kind, place) if self._narrower(sort, thing.kind, kind) else None
        if thing is None:
            return
        thing.age = thing.age or told_age(mention)
        thing.place = mention.start
        thing.instead = thing.instead or self._in_its_place(mention)
        self._of[id(mention)] = thing
        if sort != "part":
            return
        room = self._room_of(mention, rooms, span)
        if room is not None:
            self.board.put(thing, "room", room.id, place)
            self._roomed.add(id(thing))
        elif "room" not in thing.facts and self.board.room is not None and self.may_be_in(thing, self.board.room):
            self.board.put(thing, "room", self.board.room.id, place, "inferred")
        self._flame(mention, thing, place)

    def _in_its_place(self, mention: Mention) -> bool:
        """`put a new one in`, `old box out, new box in`; not `another one`, `add a new one next to it`."""
        near = {t.text for t in self.tokens[max(0, mention.start - 6) : mention.end + 3]}
        return told_age(mention) == "new" and not any(self.language.has("one more of them", w) for w in near)

    def _beside(self, mention: Mention) -> Sense:
        """`22 doors` in a talk of cabinets are the doors of cabinets; `panels of the fence` are no electrical ones."""
        whole = next(
            (m for m in self._mentions if m.prep in ("of", "off", "from", "on") and 0 < m.start - mention.end <= 3),
            None,
        )
        for kind, names in self.language.beside.items() if mention.sense.role in ("part", "product") else ():
            name = names.get(mention.words.removeprefix("the "))
            sort, name = ("product", name[8:]) if name and name.startswith("product ") else ("part", name)
            if name and whole is not None and whole.sense.name in self.below("part", kind):
                return Sense(sort, name, "beside")
            known = any(t.kind == mention.sense.name for t in self.board.things[mention.sense.role])
            if name and not known and any(t.kind in self.below("part", kind) for t in self.board.things["part"]):
                return Sense(sort, name, "beside")
        return mention.sense

    def _is_made_of(self, mention: Mention, clause: Clause) -> Thing | None:
        """`its a pine board four foot long`: what a thing is made of, and no other thing."""
        before = [t.text for t in self.tokens[clause.start : mention.start]]
        pointed = bool(before) and len(before) <= 3 and self.language.has("points", before[0])
        stuff = mention.words.split()[-1:] and self.language.has("stuff", mention.words.split()[-1])
        if not pointed or not stuff or set(before) & {"on", "in", "under", "with", "got", "has", "goes", "needs"}:
            return None
        return next((t for t in self.board.focus if t.sort == "part" and t.kind not in self.bodies), None)

    def _called_so(self, kind: str, words: str, age: str) -> Thing | None:
        fits = [t for t in self.board.things["part"] if t.kind == kind and words.split()[-1] in t.words.split()]
        return next((t for t in fits if not age or age == t.age or (age == "old" and not t.age)), None)

    def _told_closer(self, mention: Mention, clause: Clause) -> Thing | None:
        """`the ceiling has popcorn texture`: the ceiling itself, told more closely."""
        before = {t.text for t in self.tokens[clause.start : mention.start]}
        if mention.sense.role != "part" or not before & {"is", "has", "are", "have"} or mention.prep:
            return None
        above = [
            t for t in self._of.values() if t.sort == "part" and self._narrower("part", t.kind, mention.sense.name)
        ]
        return above[0] if len(above) == 1 else None

    def _kin(self, sort: str, kind: str) -> bool:
        return any(t.kind == kind for t in self.board.things[sort])

    def _narrower(self, sort: str, wide: str, narrow: str) -> bool:
        taxonomy = self.board.vocabulary.taxonomies[f"{sort}_kind"]
        return narrow in taxonomy.below(wide) - {wide}
