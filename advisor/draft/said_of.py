"""What is said of things: in their names, of the body of the house, and what follows at the end of a text."""

from __future__ import annotations

from advisor.draft.attach import Attacher
from advisor.draft.board import Span, Thing
from advisor.draft.clauses import Clause
from advisor.draft.context import Context
from advisor.draft.items import Item, Match
from advisor.draft.kept import _BODY, Spans
from advisor.draft.mentions import Mention
from advisor.draft.sides import Sides
from advisor.draft.turns import turns


class SaidOf(Sides):
    """Puts what is said where it belongs."""

    def modify(self, mention: Mention, thing: Thing, attacher: Attacher, clause: Clause, span: Spans) -> None:
        """Number, material, color, size that stand before a name."""
        if clause.unknown or clause.denied or thing.sort not in ("part", "product", "room"):
            return
        attributes = self.board.vocabulary.attributes[thing.sort]
        phrase = tuple(t.text for t in self.tokens[mention.item.start : mention.item.end])
        for name, value in self.lexicon.extras.get((phrase, thing.sort), ()):
            if name in attributes:
                self.board.put(thing, name, value, span(mention.item.start, mention.item.end))
        if thing.sort == "part" and thing.born == mention.start and "material" not in thing.facts:
            self._of_its_name(mention, thing, span)
        material = mention.item.get("term", "material")
        own = material is not None and material.name != "wood" and thing.born == mention.start
        if own and material is not None and thing.kind in self.language.made_of and "material" in attributes:
            self.board.put(thing, "material", material.name, span(mention.item.start, mention.item.end), "inferred")
        for item in mention.before:
            place = span(item.start, item.end)
            amount = item.amount
            if self._of_a_piece(mention, thing, item):
                self.board.heard.append((place, "words: some pieces of it"))
                continue
            if amount is not None and amount.sort == "number" and not amount.unit:
                one = self.tokens[item.start].text == "one" and thing.sort == "part"
                if one:
                    self.board.heard.append((place, "words: one"))
                elif "count" in attributes and amount.number.denominator == 1 and amount.number < 10_000:
                    self.board.put(thing, "count", amount.text, place, "hedged" if clause.hedged else "")
                continue
            if amount is not None and amount.sort in ("year", "decade"):
                if thing.sort == "part" and (amount.sort == "decade" or amount.number > 1800):
                    self.board.put(thing, "installed", amount.text, place)
                continue
            if amount is not None and amount.sort == "pair":
                self._pair(thing, item, attacher, place)
                continue
            sized = next((a for k, a in self.language.sized_by.items() if thing.kind in self.below(thing.sort, k)), "")
            if (
                amount is not None
                and sized
                and attributes[sized].type in amount.dimensions
                and amount.text
                and thing.sort == "part"
                and not item.slip
            ):
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
        if mention.age == "added" and thing.sort == "part":
            self.board.put(thing, "added", "yes", span(mention.start, mention.end))
        if mention.age == "put in" and thing.sort == "part":
            self.board.put(thing, "new", "yes", span(mention.start, mention.end), "inferred")
        if mention.age == "new" and thing.sort == "part":
            self.board.put(thing, "new", "yes", span(mention.start, mention.end))

    def _of_a_piece(self, mention: Mention, thing: Thing, item: Item) -> bool:
        """`the fence … 4 broken pickets`: so many, and so, are pieces of the thing that was told before."""
        last = mention.words.split()[-1] if mention.words else ""
        earlier = thing.born < mention.start and last not in thing.words.split()
        return (
            earlier
            and last in turns("pieces of a whole")
            and (item.amount is not None or bool(item.get("term", "condition")))
        )

    def of_house_body(self, match: Match, context: Context, span: Span) -> bool:
        """`the walls are plaster`: of the part where it is worked on, else of the room, else of a new part."""
        name = match.saying.attribute
        if match.saying.sort != "room" or name not in _BODY or match.value is None or context.denied:
            return False
        term = match.value.get("term", "material")
        below = self.board.vocabulary.taxonomies["part_kind"].below(_BODY[name])
        parts = [
            t
            for t in self.board.things["part"]
            if t.kind == _BODY[name]
            or (t.kind in below and t.words.split()[-1:] in ([name], [_BODY[name]], [_BODY[name] + "s"]))
        ]
        note = "hedged" if context.hedged else ""
        room = next((t for t, _ in sorted(context.near, key=lambda o: -o[1]) if t.sort == "room"), context.room)
        if term is not None and room is not None and not parts:
            self.body = (name, term.name, room, span)
        one = "wall" in match.saying.words and name == "walls" and not context.hedged  # `the wall is plaster`
        roomed = context.room is not None or any(t.sort == "room" for t, _ in context.near)
        if term is None or (not parts and roomed and not one):
            return False
        part = max(parts, key=lambda t: t.place) if parts else self.board.add("part", _BODY[name], _BODY[name], span)
        if part is not None:
            self.board.talk_of(part)
            if not parts and room is not None:
                self.board.put(part, "room", room.id, span, "inferred")
        return part is not None and self.board.put(part, "material", term.name, span, note)

    def _feeds(self, step: Thing, other: Thing) -> bool:
        """Whether what a step shuts off or tests may be that of another step's things: no power of cabinet doors."""
        kinds = self.board.vocabulary.taxonomies["part_kind"]
        wanted = self.language.feeds.get(step.kind)
        listed = [t for own in other.members("to") if (t := self.board.named(own)) is not None]
        return bool(listed) and (not wanted or any(t.kind in kinds.below(w) for t in listed for w in wanted))

    def _wall_of(self, own: str, span: Span) -> list[str]:
        """`paint the nursery`: its walls, which no word named."""
        room = self.board.named(own)
        if room is None or room.sort != "room" or room.kind not in self.below("room", "indoors"):
            return []
        part = self.board.add("part", "wall", "wall", span)
        if part is None:
            return []
        part.facts["kind"].note = "inferred"
        self.board.put(part, "room", room.id, span, "inferred")
        return [part.id]

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
                walls = walls or self._wall_of(str(step.facts["in"].value), step.facts["do"].spans[0])
                if walls:
                    self.board.put(step, "to", walls, step.facts["do"].spans[0], "inferred")
                    del step.facts["in"]
            if other is not None:
                self.board.put(step, "to", list(other.facts["to"].value), step.facts["do"].spans[0], "inferred")

    def _of_its_name(self, mention: Mention, thing: Thing, span: Spans) -> None:
        """`a fiberglass surround`, `metal box`: a name that tells what the thing is of."""
        for place in range(mention.item.start, mention.item.end - 1):
            word = self.tokens[place].text
            senses = self.lexicon.phrases.get(word, {}).get((word,), ())
            stuff = next((s.name for s in senses if s.role == "term" and s.of == "material"), None)
            if stuff is not None and not self.language.has("stuff beside it", word):
                self.board.put(thing, "material", stuff, span(place, place + 1))
                return
