"""In which room each part is, told when all of a text was heard."""

from __future__ import annotations

from advisor.draft.board import Thing
from advisor.draft.places import Places


class SettledRooms(Places):
    """Settles rooms."""

    def leave_out_aside(self) -> None:
        """Rooms that only told where something else is are no rooms of the plan."""
        used = {
            str(fact.value)
            for sort in ("part", "step")
            for thing in self.board.things[sort]
            for name in ("room", "in")
            if (fact := thing.facts.get(name)) is not None and not isinstance(fact.value, list)
        }
        for room in self.board.things["room"]:
            room.drop = room.drop and room.id not in used and list(room.facts) == ["kind"]
            spans = room.facts["kind"].spans if room.drop else []
            self.board.heard += [(span, "words: a place where nothing is done") for span in spans]
        self.board.things["room"] = [room for room in self.board.things["room"] if not room.drop]

    def settle_rooms(self) -> None:
        """Parts of which no room was told are in the only one there is; a tub tells a bathroom where none is named."""
        rooms = self.board.things["room"]
        kinds = self.language.inferred_rooms
        if rooms and all(room.kept or room.apart or room.kind in self._stores for room in rooms):
            implied = {kind for listed in kinds.values() for kind in listed}
            if any(t.kind in implied and not self._told_where(t) for t in self.board.things["part"]):
                for place in rooms:
                    place.kept = True  # things wait in the garage, the work is where the tub is
                for thing in self.board.things["part"]:
                    if "room" in thing.facts and thing.facts["room"].note == "inferred":
                        del thing.facts["room"]
        if all(room.kept or room.apart for room in rooms):
            self._add_implied(rooms)
        open_rooms = [room for room in rooms if not room.kept and not room.apart]
        self._leave_to_ask(open_rooms)
        inside = [room for room in open_rooms if room.kind not in self._stores - {"attic"}] or open_rooms
        for thing in self.board.things["part"] if len(inside) == 1 else ():
            if "room" not in thing.facts and not thing.called and self.may_be_in(thing, inside[0]):
                self.board.put(thing, "room", inside[0].id, thing.facts["kind"].spans[0], "inferred")

    @staticmethod
    def _told_where(thing: Thing) -> bool:
        """`the fan in the attic`: it is there, whatever room such things tell otherwise."""
        return "room" in thing.facts and thing.facts["room"].note != "inferred"

    def _leave_to_ask(self, rooms: list[Thing]) -> None:
        """Of a part that is named behind another room than the one of the talk it is asked where it is."""
        named = sorted((start, room.id) for room in rooms for start, _ in room.facts["kind"].spans)
        for thing in self.board.things["part"] if len(rooms) > 1 else ():
            fact = thing.facts.get("room")
            at = thing.facts["kind"].spans[0][0]
            last = [own for start, own in named if start <= at][-1:]
            if fact is not None and fact.note == "inferred" and last and last[0] != fact.value:
                del thing.facts["room"]

    def _add_implied(self, rooms: list[Thing]) -> None:
        """The room that what is worked on tells; none where its things tell of several."""
        told: dict[str, list[Thing]] = {}
        for thing in self.board.things["part"]:
            for room, kinds in self.language.inferred_rooms.items():
                words = self.language.room_words.get(room, ())
                if thing.kind in kinds or set(thing.words.split()) & set(words):
                    told.setdefault(room, []).append(thing)
        worked = {own for step in self.board.steps for own in step.members("to")}
        touched = {room: parts for room, parts in told.items() if any(t.id in worked for t in parts)}
        if len(told) > 1 and len(touched) == 1 and max(told, key=lambda room: len(told[room])) in touched:
            told = touched
        if len(told) != 1:
            return
        ((kind, parts),) = told.items()
        there = next((room for room in rooms if room.kind == kind), None)
        if there is not None:
            there.kept = there.apart = False
            return
        added = self.board.add("room", kind, kind, parts[0].facts["kind"].spans[0])
        if added is not None:
            added.facts["kind"].note = "inferred"
