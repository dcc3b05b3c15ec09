"""In which room a thing is: told beside it, within its name, or at the head of its clause."""

from __future__ import annotations

from advisor.draft.board import Span, Thing
from advisor.draft.clauses import Clause
from advisor.draft.kept import Spans
from advisor.draft.mentions import Mention
from advisor.draft.settling import SettledRooms


class Rooms(SettledRooms):
    """Finds the rooms of things."""

    def begin_sentence(self) -> None:
        """A room at the head of a clause holds to the end of its sentence."""
        self._head = None

    def _fronted(self, mention: Mention, clause: Clause) -> bool:
        """`in the bathroom I want a fan`: told first, a room holds for what follows, unless that is there already."""
        first = next((p for p in range(clause.start, clause.stop) if not self._joins(p)), clause.start)
        behind = self.tokens[mention.end].text if mention.end < len(self.tokens) else ""
        known = [self._known(m) for m in self._mentions if m.sense.role == "part"]
        there = any(t is not None and not self._elsewhere(t, self._of[id(mention)]) for t in known)
        told = (
            self.tokens[first].text in ("in", "for")
            and mention.prep == self.tokens[first].text
            and mention.start - first <= 3
            and self.language.has("persons ahead", behind)
        )
        if told:
            self._head = self._of[id(mention)]
        return told and not there and not self._has_pronoun(clause)

    def _known(self, mention: Mention) -> Thing | None:
        return self.board.find("part", mention.sense.name, mention.words, mention.age)

    def _joins(self, place: int) -> bool:
        return self.tokens[place].text in ("and", "then", "also", "but", "next", "now", ",")

    def _elsewhere(self, thing: Thing, head: Thing | None = None) -> bool:
        """Whether a wall or a ceiling is that of another room than the one at the head of the sentence."""
        room = thing.facts.get("room")
        body = self.one_of(thing.kind, ("wall", "ceiling", "floor", "door", "window"))
        head = head or self._head
        return head is not None and room is not None and body and room.value != head.id

    def _room_word(self, mention: Mention) -> str | None:
        """The kind of room told right before a thing or within its name: `kitchen cabinet doors`."""
        sense = mention.of_room.get("room") if mention.of_room is not None else None
        return sense.name if sense is not None else self._inner_room(mention)

    def _of_a_thing(self, mention: Mention) -> bool:
        """`the panel in the garage`: where that one thing is; the talk stays in its room."""
        before = [m for m in self._mentions if m.sense.role == "part" and 0 <= mention.start - m.end <= 2]
        return (
            bool(before) and bool(self.board.steps or self.board.things["part"][:-1]) and mention.prep in ("in", "at")
        )

    def _waits(self, mention: Mention, clause: Clause) -> bool:
        """`it is in its carton in the garage`: where something waits for the work, no room of it."""
        told = any(self.language.has("waiting", t.text) for t in self.tokens[clause.start : clause.stop])
        return told and mention.prep in ("in", "at", "out", "inside")

    def _does(self, clause: Clause) -> bool:
        return bool(self.board.steps) and "goal" not in clause.cues

    def _room_of(self, mention: Mention, rooms: list[Mention], span: Spans) -> Thing | None:
        """The room that stands beside a thing: `kitchen walls`, `the sink in the bathroom`."""
        if mention.of_room is not None:
            sense = mention.of_room.get("room")
            place = span(mention.of_room.start, mention.of_room.end)
            words = " ".join(t.text for t in self.tokens[mention.of_room.start : mention.of_room.end])
            room = self.board.find("room", sense.name, words, "") if sense else None
            if room is None and sense is not None:
                room = self.board.add("room", sense.name, words, place)
            elif room is not None:
                room.facts["kind"].spans.append(place)
            if self.board.room is None:
                self.board.room = room
            return room
        for other in rooms:
            at = self.of(other)
            if at is not None and at.kept:
                continue
            near = 0 <= other.start - mention.end <= 3
            there = "there" in {t.text for t in self.tokens[max(0, mention.start - 4) : mention.start]}
            if other.prep in ("in", "of", "from", "for", "inside") and near:
                return self.of(other)
            if there and len(rooms) == 1 and other.prep == "in" and other.start > mention.end:
                return self.of(other)  # `there is a water heater with a pilot light in the closet`
        inner = self._inner_room(mention)
        if inner is not None:
            room = self.board.find("room", inner, inner, "") or self.board.add(
                "room", inner, inner, span(mention.start, mention.end)
            )
            if self.board.room is None:
                self.board.room = room
            return room
        return None

    def _inner_room(self, mention: Mention) -> str | None:
        """The room within a name of more than one word: a bathroom faucet."""
        first = self.tokens[mention.item.start].text
        if mention.item.end - mention.item.start < 2 or first not in self.language.places["told by a name"]:
            return None
        rows = self.lexicon.phrases.get(first, {}).get((first,), ())
        return next((s.name for s in rows if s.role == "room"), None)

    def _flame(self, mention: Mention, thing: Thing, place: Span) -> None:
        """A gas water heater is a flame in its room; of a water heater alone it is not known what it burns."""
        flame = mention.item.get("term", "ignition_source")
        words = tuple(t.text for t in self.tokens[mention.item.start : mention.item.end])
        room = self.board.named(str(thing.facts["room"].value)) if "room" in thing.facts else None
        if flame is not None and room is not None and (words, "part") not in self.lexicon.exact:
            self.board.put(room, "ignition_sources", [flame.name], place, "inferred")
