"""The things of a text: which one a name means, what is said in its name, which of them a verb is done to."""

from __future__ import annotations

from collections.abc import Callable

from advisor.draft.attach import Attacher, Context
from advisor.draft.board import Board, Span, Thing
from advisor.draft.clauses import Clause
from advisor.draft.items import Item, Match
from advisor.draft.lexicon import Lexicon, Sense
from advisor.draft.mentions import Mention
from advisor.draft.tokens import Token

Spans = Callable[[int, int], Span]
_PLACING = frozenset({"in", "inside", "at", "out", "into", "to", "outside"})
_WHERE = frozenset(
    ["at", "under", "over", "behind", "above", "near", "from", "off", "around", "between", "against", "beside", "beneath", "underneath", "next"]
)
_BODY = {"walls": "wall", "floor": "floor", "ceiling": "ceiling"}
_ON = frozenset("on onto over off from around behind under of through".split())
_AT = frozenset({*_ON, "to", "into"})  # where a product is put


class Things:
    """Keeps the things of one text on the board."""

    def __init__(self, board: Board, tokens: list[Token], lexicon: Lexicon) -> None:
        self.board, self.tokens, self.lexicon = board, tokens, lexicon
        self.language = lexicon.language
        self._of: dict[int, Thing] = {}
        self._roomed: set[int] = set()
        self._clause_has_object = False
        self.body: tuple[str, str, Thing, Span] | None = None  # walls or floor of which only the material was told

    def of(self, mention: Mention) -> Thing | None:
        """The thing that a mention was found to mean."""
        return self._of.get(id(mention))

    def resolve(self, clause: Clause, mentions: list[Mention], span: Spans, *, unknown: bool) -> None:
        """Find or make the thing of each mention of a clause."""
        self._of = {}
        self._clause_has_object = any(m.sense.role == "part" and not m.prep for m in mentions) or self._has_pronoun(
            clause
        )
        for mention in mentions:
            if mention.sense.of == "name" and (named := self.board.named(mention.words)) is not None:
                self._of[id(mention)] = named
        rooms = [m for m in mentions if m.sense.role == "room" and m.sense.of != "name"]
        for mention in rooms:
            self._room(mention, clause, span)
        for mention in mentions:
            if (
                mention.sense.of != "name"
                and mention.sense.role in ("part", "product")
                and (self._there(mention) or not (clause.denied or self._only_where(mention)))
            ):
                self._thing(mention, clause, span, rooms)
        for mention in reversed(mentions):
            thing = self.of(mention)
            if thing is not None and thing.sort in ("part", "product", "room") and not mention.prep:
                self.board.talk_of(thing)

    def _has_pronoun(self, clause: Clause) -> bool:
        return any(t.text in ("it", "them") for t in self.tokens[clause.start : clause.stop])

    def _only_where(self, mention: Mention) -> bool:
        """Whether a part is named only to say where something is: `under the sink`, `at the breaker`."""
        if mention.sense.role != "part" or mention.prep not in _WHERE:
            return False
        return self._clause_has_object or mention.prep in ("at", "under", "near", "from")

    def with_ones(self, clause: Clause, mentions: list[Mention]) -> list[Mention]:
        """`the old one`, `a new one`: names of the kind that was last spoken of."""
        found = list(mentions)
        for place in range(clause.start + 1, clause.stop):
            if self.tokens[place].text not in ("one", "ones"):
                continue
            words = [t.text for t in self.tokens[max(clause.start, place - 3) : place]]
            age = next(("new" if w == "new" else "old" for w in reversed(words) if w in ("new", "old", "existing")), "")
            earlier = [m for m in mentions if m.end <= place and m.sense.role == "part"]
            kind, name = (earlier[-1].sense, earlier[-1].words) if earlier else (None, "")
            if kind is None:
                thing = next((t for t in self.board.focus if t.sort == "part"), None)
                kind, name = (Sense("part", thing.kind), thing.words) if thing else (None, "")
            if not earlier:
                was = next((t for t in self.board.focus if t.sort == "part" and t.age == "old"), None)
                kind, name = (Sense("part", was.kind), was.words) if was else (kind, name)
            if not age or kind is None or any(m.start <= place < m.end for m in mentions):
                continue
            item = Item(place, place + 1, (kind,))
            own = Mention(item, kind, place, place + 1, name, age=age)
            at = (
                place
                - 1
                - words[::-1].index(
                    "new" if age == "new" else next(w for w in reversed(words) if w in ("old", "existing"))
                )
            )
            while at > clause.start and self.language.has("articles", self.tokens[at - 1].text):
                at -= 1
            own.start = at
            if at > clause.start and self.language.has("prepositions", self.tokens[at - 1].text):
                own.prep = self.tokens[at - 1].text
            found.append(own)
        return sorted(found, key=lambda m: m.start)

    def inherited(self) -> list[str]:
        """What is worked on where the words do not say: what was last worked on, or is spoken of."""
        if self.board.last_to:
            return list(self.board.last_to)
        part = next((t for t in self.board.focus if t.sort == "part"), None)
        if part is None and self.body is not None:
            name, material, room, place = self.body
            part = self.board.add("part", _BODY[name], name, place)
            if part is not None:
                self.board.put(part, "material", material, place)
                self.board.put(part, "room", room.id, place)
        return [part.id] if part else []

    def inner(self, item: Item) -> bool:
        """Whether a verb names its thing in its own words: `patch drywall`."""
        for place in range(item.start + 1, item.end if item.end - item.start > 1 else 0):
            found = self.lexicon.at(self.tokens, place, item.end)
            to = self.tokens[place - 1].text in ("to", "into")
            if found and found[0] == item.end and not to and any(s.role == "part" for s in found[1]):
                return True
        return False

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
        thing.place = mention.start
        if self.board.room is None or mention.prep not in ("to", "into", "from"):
            moved = mention.prep in ("in", "at", "outside", "") and self.board.room is not None and self._does(clause)
            if not moved:
                self.board.room = thing

    def _does(self, clause: Clause) -> bool:
        return bool(self.board.steps) and "goal" not in clause.cues

    def _thing(self, mention: Mention, clause: Clause, span: Spans, rooms: list[Mention]) -> None:
        sort, kind, place = mention.sense.role, mention.sense.name, span(mention.start, mention.end)
        words = mention.words
        thing = self.board.find(sort, kind, words, mention.age)
        if thing is None:
            own = self.board.free_id(f"{mention.age} {words}" if mention.age and self._kin(sort, kind) else words)
            thing = self.board.add(sort, kind, words, place, own=own)
        else:
            thing.facts["kind"].spans.append(place)
            self.board.put(thing, "kind", kind, place) if self._narrower(sort, thing.kind, kind) else None
        if thing is None:
            return
        thing.age = thing.age or mention.age
        thing.place = mention.start
        self._of[id(mention)] = thing
        if sort != "part":
            return
        room = self._room_of(mention, rooms, span)
        if room is not None:
            self.board.put(thing, "room", room.id, place, "" if room is not self.board.room else "")
            self._roomed.add(id(thing))
        elif "room" not in thing.facts and self.board.room is not None:
            self.board.put(thing, "room", self.board.room.id, place, "inferred")

    def _kin(self, sort: str, kind: str) -> bool:
        return any(t.kind == kind for t in self.board.things[sort])

    def _narrower(self, sort: str, wide: str, narrow: str) -> bool:
        taxonomy = self.board.vocabulary.taxonomies[f"{sort}_kind"]
        return narrow in taxonomy.below(wide) - {wide}

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
            if other.prep in ("in", "of", "from", "for", "inside") and 0 <= other.start - mention.end <= 3:
                return self.of(other)
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
        if mention.item.end - mention.item.start < 2 or first not in (
            "kitchen",
            "bathroom",
            "bedroom",
            "laundry",
            "basement",
            "attic",
            "garage",
            "hallway",
            "closet",
            "bath",
        ):
            return None
        rows = self.lexicon.phrases.get(first, {}).get((first,), ())
        return next((s.name for s in rows if s.role == "room"), None)

    def _feeds(self, step: Thing, other: Thing) -> bool:
        """Whether what a step shuts off or tests may be that of another step's things: no power of cabinet doors."""
        kinds = self.board.vocabulary.taxonomies["part_kind"]
        wanted = self.language.feeds.get(step.kind)
        listed = [t for own in self._to(other) if (t := self.board.named(own)) is not None]
        return bool(listed) and (not wanted or any(t.kind in kinds.below(w) for t in listed for w in wanted))

    def of_house_body(self, match: Match, context: Context, span: Span) -> bool:
        """`the walls are plaster`: of the part where it is worked on, of the room where not, of a new part where neither is."""
        name = match.saying.attribute
        if match.saying.sort != "room" or name not in _BODY or match.value is None or context.denied:
            return False
        term = match.value.get("term", "material")
        below = self.board.vocabulary.taxonomies["part_kind"].below(_BODY[name])
        parts = [t for t in self.board.things["part"] if t.kind in below or t.words.split()[-1:] == [_BODY[name]]]
        note = "hedged" if context.hedged else ""
        room = next((t for t, _ in sorted(context.near, key=lambda o: -o[1]) if t.sort == "room"), context.room)
        if term is not None and room is not None and not parts:
            self.body = (name, term.name, room, span)
        if term is None or (not parts and (context.room is not None or any(t.sort == "room" for t, _ in context.near))):
            return False
        part = max(parts, key=lambda t: t.place) if parts else self.board.add("part", _BODY[name], _BODY[name], span)
        return part is not None and self.board.put(part, "material", term.name, span, note)

    def fill_in(self) -> None:
        """What power or water is shut off for: the thing of the next step, or of the one before."""
        steps = self.board.steps
        words = self.language.words
        for number, step in enumerate(steps):
            if "to" in step.facts:
                continue
            name = tuple(step.kind.split())
            near = (
                steps[number + 1 :]
                if name in words["for the next"]
                else steps[:number][::-1]
                if name in words["for the last"]
                else []
            )
            other = next((s for s in near[:4] if self._feeds(step, s)), None)
            if other is None and near and name in words["for the last"]:
                other = next((s for s in steps[number + 1 :] if self._feeds(step, s)), None)
            if (
                other is None
                and "in" in step.facts
                and step.kind in self.board.vocabulary.taxonomies["action"].below("coat")
            ):
                walls = [
                    t.id
                    for t in self.board.things["part"]
                    if t.kind == "wall" and "room" in t.facts and t.facts["room"].value == step.facts["in"].value
                ]
                if walls:
                    self.board.put(step, "to", walls, step.facts["do"].spans[0], "inferred")
                    del step.facts["in"]
            if other is not None:
                self.board.put(step, "to", list(other.facts["to"].value), step.facts["do"].spans[0], "inferred")

    def settle_rooms(self) -> None:
        """Parts of which no room was told are in the only one there is; a tub tells a bathroom where none is named."""
        rooms = self.board.things["room"]
        kinds = self.language.inferred_rooms
        if not rooms:
            for room, parts in sorted(kinds.items()):
                told = next((t for t in self.board.things["part"] if t.kind in parts), None)
                if told is not None:
                    added = self.board.add("room", room, room, told.facts["kind"].spans[0])
                    if added is not None:
                        added.facts["kind"].note = "inferred"
                    break
        inside = [
            r for r in rooms if r.kind not in ("garage", "outdoors", "workshop", "driveway", "carport", "patio", "shop")
        ] or rooms
        if len(inside) == 1:
            for thing in self.board.things["part"]:
                if "room" not in thing.facts and not thing.called:
                    self.board.put(thing, "room", inside[0].id, thing.facts["kind"].spans[0], "inferred")

    # --- what is said in a name ----------------------------------------------------------------------------

    def modify(self, mention: Mention, thing: Thing, attacher: Attacher, clause: Clause, span: Spans) -> None:
        """Number, material, color, size that stand before a name."""
        if clause.unknown or clause.denied or thing.sort not in ("part", "product", "room"):
            return
        attributes = self.board.vocabulary.attributes[thing.sort]
        words = tuple(t.text for t in self.tokens[mention.item.start : mention.item.end])
        for name, value in self.lexicon.extras.get((words, thing.sort), ()):
            if name in attributes:
                self.board.put(thing, name, value, span(mention.item.start, mention.item.end))
        for item in mention.before:
            place = span(item.start, item.end)
            amount = item.amount
            if amount is not None and amount.sort == "number" and not amount.unit:
                if "count" in attributes and amount.number.denominator == 1 and amount.number < 10_000:
                    self.board.put(thing, "count", amount.text, place, "hedged" if clause.hedged else "")
                continue
            if amount is not None and amount.sort in ("year", "decade"):
                if thing.sort == "part" and (amount.sort == "decade" or amount.number > 1800):
                    self.board.put(thing, "installed", amount.text, place)
                continue
            if amount is not None and amount.sort == "pair":
                self._pair(thing, item, attacher, place)
                continue
            sized = next((a for k, a in self.language.sized_by.items() if thing.kind in self._below(thing.sort, k)), "")
            if amount is not None and sized and "length" in amount.dimensions and amount.text and thing.sort == "part":
                self.board.put(thing, sized, amount.text, place, "hedged" if clause.hedged else "")
                continue
            near = Context([(thing, 2.2)], None, None, clause.hedged, clause.denied)
            if amount is not None and "liquid" in amount.dimensions and "amount" in attributes:
                self.board.put(
                    thing, "amount", amount.text, place, "hedged" if clause.hedged else ""
                ) if amount.text else None
            else:
                attacher.bare(item, near, place)
        if mention.color is not None and "color" in attributes:
            words = " ".join(t.text for t in self.tokens[mention.color[0] : mention.color[1]])
            self.board.put(thing, "color", words, span(*mention.color))
        if mention.age == "new" and thing.sort == "part":
            self.board.put(thing, "new", "yes", span(mention.start, mention.end))

    def _below(self, sort: str, kind: str) -> frozenset[str]:
        known = self.board.vocabulary.taxonomies[f"{sort}_kind"]
        return known.below(kind) if kind in known.terms else frozenset()

    def pair(self, item: Item, context: Context, attacher: Attacher, place: Span) -> None:
        """A pair of measures by itself: of what is spoken of; of a floor it is the room's."""
        near = sorted(context.near, key=lambda o: -o[1])
        thing = near[0][0] if near else context.room
        if thing is not None and thing.kind in self.board.vocabulary.taxonomies["part_kind"].below("floor"):
            room = thing.facts.get("room")
            thing = (self.board.named(str(room.value)) if room else None) or thing
        if thing is not None and thing.sort in ("part", "product", "room"):
            self._pair(thing, item, attacher, place)

    def _pair(self, thing: Thing, item: Item, attacher: Attacher, place: Span) -> None:
        """`10 by 12 ft`: of a room the longer side is its length; of anything else it is offered."""
        assert item.amount is not None
        first, second = item.amount.parts
        if thing.sort == "room" and "length" in first.dimensions:
            longer, shorter = (first, second) if first.number >= second.number else (second, first)
            self.board.put(thing, "length", longer.text, place)
            self.board.put(thing, "width", shorter.text, place)
        elif thing.kind in self.board.vocabulary.taxonomies["part_kind"].below("tile work"):
            longer, shorter = (first, second) if first.number >= second.number else (second, first)
            unit = "" if first.unit else " in"
            if unit:
                attacher.offer(
                    [(thing, "tile_length", f"{longer.text}{unit}"), (thing, "tile_width", f"{shorter.text}{unit}")],
                    place,
                )
            else:
                self.board.put(thing, "tile_length", longer.text, place)
                self.board.put(thing, "tile_width", shorter.text, place)
        else:
            unit = "" if first.unit else " ft" if thing.sort == "room" else " in"
            attacher.offer([(thing, "length", f"{first.text}{unit}"), (thing, "width", f"{second.text}{unit}")], place)

    # --- steps --------------------------------------------------------------------------------------------

    def objects(
        self, clause: Clause, item: Item, mentions: list[Mention], start: int, stop: int, *, passive: bool
    ) -> tuple[list[str], list[Mention]]:
        """The parts that a verb is done to, and what else stands with it."""
        after = [m for m in mentions if item.end <= m.start and m.end <= stop]
        earlier = [m for m in mentions if start <= m.start and m.end <= item.start]
        straight = [m for m in after if m.sense.role == "part" and not m.prep]
        if not straight and (told := self._pronoun(item, stop, right=True)):
            return told, [*after, *[m for m in earlier if m.sense.role == "who" or m.prep]]
        if not straight and passive:
            straight = [
                m
                for m in earlier
                if m.sense.role == "part" and m.prep not in ("with", "using", "in", "before", "after")
            ]
        if not straight and not any(m.sense.role == "product" and not m.prep for m in after if self._uses(item)):
            straight = [m for m in after if m.sense.role == "part" and m.prep in _ON][:1] or straight
        elif not straight:
            straight = [m for m in after if m.sense.role == "part" and m.prep in _AT]
        found = [self._of_two(thing, m, item).id for m in straight if (thing := self.of(m)) is not None]
        if not found:
            found = self._pronoun(item, stop)
        return found, [*after, *[m for m in earlier if m.sense.role == "who" or m.prep]]

    def _of_two(self, thing: Thing, mention: Mention, item: Item) -> Thing:
        """Of an old one and a new one, the old is taken out and the new put in, where the words do not tell."""
        if mention.age or item.verb is None or mention.sense.of == "name":
            return thing
        taxonomy = self.board.vocabulary.taxonomies["action"]
        name = item.verb.name
        out = any(name in taxonomy.below(one) for one in ("disconnect", "demolish", "isolate", "drain")) or (
            name in taxonomy.below("remove") and name not in taxonomy.below("install")
        )
        put_in = name in taxonomy.below("install") and not out and name not in ("replace", "move")
        twins = [t for t in self.board.things["part"] if t.kind == thing.kind]
        wanted = [t for t in twins if (t.age != "new") == out] if out or put_in else []
        return wanted[-1] if len(twins) > 1 and wanted else thing

    @staticmethod
    def _uses(item: Item) -> bool:
        return True

    def _pronoun(self, item: Item, stop: int, *, right: bool = False) -> list[str]:
        """`sand them`: the parts that were last worked on or spoken of."""
        reach = [t.text for t in self.tokens[item.end : min(stop, item.end + 3)]]
        if item.also:
            reach = [t.text for t in self.tokens[item.end : item.also[0]]]
        before = [t.text for t in self.tokens[max(0, item.start - 3) : item.start]]
        heard = reach[:1] and (
            self.language.has("pronouns", reach[0])
            or (len(reach) > 1 and reach[0] in ("all", "both") and self.language.has("pronouns", reach[1]))
        )
        if right and not heard:
            return []
        if not heard and not any(word in ("they", "it", "theyre", "theyll", "itll", "those") for word in before):
            return []
        parts = [thing for thing in self.board.focus if thing.sort == "part"]
        if self.board.last_to and not (
            parts and self.board.focus.index(parts[0]) == 0 and parts[0].id not in self.board.last_to
        ):
            if not parts or parts[0].id in self.board.last_to or parts[0].place < self._last_place():
                return list(self.board.last_to)
        return [parts[0].id] if parts else []

    def _last_place(self) -> int:
        return max((t.place for own in self.board.last_to if (t := self.board.named(own)) is not None), default=0)

    def equip(self, step: Thing, mentions: list[Mention], span: Spans, clause: Clause) -> None:
        """Products used, tools, place and people of a step."""
        for mention in mentions:
            place, role = span(mention.start, mention.end), mention.sense.role
            thing = self.of(mention)
            if role == "product" and thing is not None and mention.prep in ("", "with", "using", "of", "in"):
                self.board.put(step, "using", [thing.id], place)
            elif role == "tool" and mention.prep in ("with", "using", "from", ""):
                name = "wearing" if "wearing" in clause.cues else "with"
                if mention.prep:
                    self.board.put(step, name, [mention.sense.name], place)
            elif (
                role == "room" and thing is not None and mention.prep in _PLACING and mention.prep not in ("to", "into")
            ):
                rooms = {
                    str(t.facts["room"].value)
                    for own in self._to(step)
                    if (t := self.board.named(own)) and "room" in t.facts
                }
                if rooms != {thing.id} and "in" not in step.facts:
                    self.board.put(step, "in", thing.id, place)
            elif role == "who" and mention.sense.name not in ("owner", "helper", "child", "tenant", "landlord"):
                self.board.put(step, "who", mention.sense.name, place)
        self._amounts(step)
        put_in = [
            m for m in mentions if step.kind == "replace" and m.sense.role == "part" and m.prep in ("for", "with", "by")
        ]
        for mention in put_in:
            thing = self.of(mention)
            if thing is not None and thing.id not in self._to(step):
                self.board.talk_of(thing)
                self.board.last_to = [thing.id]
        if "to" not in step.facts and "in" not in step.facts:
            for mention in mentions:
                thing = self.of(mention)
                if (
                    mention.sense.role == "room"
                    and thing is not None
                    and "in" not in step.facts
                    and mention.prep != "between"
                ):
                    self.board.put(step, "in", thing.id, span(mention.start, mention.end))

    def _amounts(self, step: Thing) -> None:
        """To check with a voltage tester is to prove dead."""
        tools = step.facts.get("with")
        for tool, action in self.language.with_tool.get(step.kind, {}).items():
            if tools is not None and tool in tools.value:
                step.facts["do"].value = action

    @staticmethod
    def _to(step: Thing) -> list[str]:
        fact = step.facts.get("to")
        return list(fact.value) if fact and isinstance(fact.value, list) else []

    def embedded(self, step: Thing, item: Item, span: Spans) -> None:
        """A thing within a verb's own words: `hang drywall`, `grout the tile`."""
        if "to" in step.facts or item.end - item.start < 2:
            return
        for place in range(item.start + 1, item.end):
            found = self.lexicon.at(self.tokens, place, item.end)
            sense = next((s for s in found[1] if s.role == "part"), None) if found and found[0] == item.end else None
            if sense is None or self.tokens[place - 1].text in ("to", "into"):
                continue
            words = " ".join(t.text for t in self.tokens[place : item.end])
            thing = self.board.find("part", sense.name, words, "")
            if thing is None and step.kind not in self.board.vocabulary.taxonomies["action"].below("inspect"):
                thing = self.board.add("part", sense.name, words, span(place, item.end))
                if thing is not None:
                    self.board.talk_of(thing)
                    if self.board.room is not None:
                        self.board.put(thing, "room", self.board.room.id, span(place, item.end), "inferred")
            if thing is not None:
                self.board.put(step, "to", [thing.id], span(place, item.end))
                self.board.last_to = [thing.id]
            return
