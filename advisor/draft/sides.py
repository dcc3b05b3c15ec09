"""Two measures that stand together, `10 by 12`: the sides of a room, of a part, of a tile."""

from __future__ import annotations

import itertools
from fractions import Fraction

from advisor.draft.attach import Attacher
from advisor.draft.board import Span, Thing
from advisor.draft.context import Context
from advisor.draft.items import Item
from advisor.draft.numbers import Amount
from advisor.draft.objects import Objects
from advisor.draft.turns import turns
from advisor.units import read_quantity

_LEAST_ROOM = 0.9  # metres: less is no side of a room
_LEAST_FEET, _MOST_FEET = 3, 40  # bare numbers that may be the sides of a room in feet


class Sides(Objects):
    """Puts pairs of measures where they belong."""

    def pair(self, item: Item, context: Context, attacher: Attacher, place: Span) -> None:
        """A pair of measures by itself: of what is spoken of; of a floor it is the room's."""
        if item.amount is not None and not item.amount.unit and item.amount.number <= 2:
            self.board.heard.append((place, "words: a size of lumber"))
            return
        near = sorted(context.near, key=lambda o: -o[1])
        thing = near[0][0] if near else context.room
        behind = self.tokens[item.end].text if item.end < len(self.tokens) else ""
        ahead = self.tokens[item.start - 1].text if item.start else ""
        if (behind in ("room", "space") or ahead == "room") and context.room is not None:
            thing = context.room
            self._of_the_room = True
        else:
            self._of_the_room = self._room_heads(item)
        thing = self._room_ahead(item) or thing
        if thing is not None and thing.sort != "room" and self._sized_as_a_room(item, thing):
            thing = context.room or thing
        if thing is not None and thing.kind in self.board.vocabulary.taxonomies["part_kind"].below("floor"):
            room = thing.facts.get("room")
            thing = (self.board.named(str(room.value)) if room else None) or thing
        if thing is not None and thing.sort in ("part", "product", "room"):
            self._pair(thing, item, attacher, place)

    def _room_ahead(self, item: Item) -> Thing | None:
        """`in our dining room, 12 x 14`: the room that was named right before."""
        place = item.start - 1
        while place > item.start - 4 and place > 0 and self.tokens[place].text in turns("before a size"):
            place -= 1
        end = self.tokens[place].end if place >= 0 else -1
        rooms = self.board.things["room"]
        named = [r for r in rooms if any(stop == end for _, stop in r.facts["kind"].spans)]
        word = self.tokens[place].text  # not `kitchen cabinets, 30 x 30`
        return next((r for r in named if r.words.split()[-1:] == [word]), None)

    def _room_heads(self, item: Item) -> bool:
        """`bathroom is 6x9`, `dining room, 12x10`; not `a pergola over the patio, 10x12`."""
        room = self._room_ahead(item)
        spans = room.facts["kind"].spans if room is not None else []
        start = max((begin for begin, end in spans if end <= self.tokens[item.start].start), default=-1)
        place = next((p for p in range(item.start - 1, -1, -1) if self.tokens[p].start <= start), 0) - 1
        while place >= 0 and self.language.has("articles", self.tokens[place].text):
            place -= 1
        before = self.tokens[place].text if place >= 0 else ""
        return start >= 0 and not self.language.has("prepositions", before)

    def _may_be_feet(self, *numbers: Fraction | float) -> bool:
        """Whether two bare numbers are the sides of a room in feet: none too small, and nothing told in meters."""
        metric = any(
            token.text[:1].isdigit() and self.language.has("metric units", behind.text)
            for token, behind in itertools.pairwise(self.tokens)
        )
        return all(_LEAST_FEET <= n <= _MOST_FEET for n in numbers) and not metric

    def _sized_as_a_room(self, item: Item, thing: Thing) -> bool:
        """Whether two bare numbers are more likely the feet of a room than a measure of a part."""
        assert item.amount is not None
        sized = self.one_of(thing.kind, self.language.own_size) or self.one_of(thing.kind, self.language.upright)
        return not item.amount.unit and not sized and all(7 <= part.number <= 40 for part in item.amount.parts)

    def _pair(self, thing: Thing, item: Item, attacher: Attacher, place: Span) -> None:
        """`10 by 12 ft`: the longer side is the length; of a door or a window it is width by height."""
        assert item.amount is not None
        first, second = item.amount.parts
        shorter, longer = sorted((first, second), key=_size)
        if thing.sort == "room":
            if first.unit and _size(longer) < _LEAST_ROOM:
                attacher.offer([], place, "of which thing?")
                return
            unit = "" if first.unit else " ft"
            in_feet = self._of_the_room and not first.unit and self._may_be_feet(first.number, second.number)
            if ("length" in first.dimensions and first.unit) or in_feet:
                note = "inferred" if in_feet else ""
                self.board.put(thing, "length", f"{longer.text}{unit}", place, note)
                self.board.put(thing, "width", f"{shorter.text}{unit}", place, note)
            else:
                attacher.offer(
                    [(thing, "length", f"{longer.text}{unit}"), (thing, "width", f"{shorter.text}{unit}")], place
                )
            return
        names = ("length", "width")
        if thing.kind in self.below("part", "tile work"):
            names = (
                ("tile_length", "tile_width")
                if _size(longer) < _LEAST_ROOM or not longer.unit
                else ("length", "height")
            )
        elif self.one_of(thing.kind, self.language.upright):
            names = ("width", "height") if self.one_of(thing.kind, self.language.wider) else ("height", "width")
        elif thing.kind in self.below("part", "wall"):
            names = ("length", "height")
        known = self.board.vocabulary.attributes[thing.sort]
        carried = all(n in known and attacher.table.score(thing.sort, thing.kind, n) >= 0 for n in names)
        sure = carried and bool(first.unit) and "length" in first.dimensions and "wall" not in thing.kind
        large = self.one_of(thing.kind, self.language.in_feet) or thing.kind in self.below("part", "wall")
        unit = "" if first.unit else " ft" if large else " in"
        if sure:
            self.board.put(thing, names[0], longer.text, place)
            self.board.put(thing, names[1], shorter.text, place)
        else:
            attacher.offer(
                [
                    (thing, n, f"{one.text}{unit}")
                    for n, one in zip(names, (longer, shorter), strict=True)
                    if n in known
                ],
                place,
            )


def _size(amount: Amount) -> float:
    """How long a measure is; a number without a unit as it stands."""
    return (
        read_quantity(amount.text, "length").si
        if "length" in amount.dimensions and amount.unit
        else float(amount.number)
    )
