"""To what a verb is done, and with what, where and by whom."""

from __future__ import annotations

from advisor.draft.board import Thing
from advisor.draft.choosing import Choosing
from advisor.draft.clauses import Clause
from advisor.draft.items import Item
from advisor.draft.kept import _AT, _ON, _PLACING, Spans
from advisor.draft.mentions import Mention

_OF_IT = frozenset({"in", "of", "on", "around", "along", "between", "inside", "from", "off", "at"})
_SWITCHES = frozenset({"breaker", "panel", "circuit", "shutoff valve", "water main"})


class Objects(Choosing):
    """Finds the things of verbs."""

    def walls(self) -> list[str]:
        """The wall in which studs are looked for: one that was named, or of which only the material was told."""
        known = [t for t in self.board.things["part"] if t.kind in self.below("part", "wall")]
        if known:
            return [max(known, key=lambda t: t.place).id]
        if self.body is None or self.body[0] != "walls":
            return []
        _, material, room, place = self.body
        part = self.board.add("part", "wall", "wall", place)
        if part is None:
            return []
        self.board.put(part, "material", material, place)
        self.board.put(part, "room", room.id, place)
        return [part.id]

    def inner(self, item: Item) -> bool:
        """Whether a verb names its thing in its own words: `patch drywall`."""
        for place in range(item.start + 1, item.end if item.end - item.start > 1 else 0):
            found = self.lexicon.at(self.tokens, place, item.end)
            to = self.tokens[place - 1].text in ("to", "into")
            if found and found[0] == item.end and not to and any(s.role == "part" for s in found[1]):
                return True
        return False

    def objects(
        self, clause: Clause, item: Item, mentions: list[Mention], start: int, stop: int, *, passive: bool
    ) -> tuple[list[str], list[Mention]]:
        """The parts that a verb is done to, and what else stands with it."""
        after = [m for m in mentions if item.end <= m.start and m.end <= stop]
        earlier = [m for m in mentions if start <= m.start and m.end <= item.start]
        behind_another = start > clause.start  # what stands behind `with` there is the other verb's
        if behind_another:
            earlier = [m for m in earlier if m.prep not in ("with", "using", "from", "of") or m.sense.role == "who"]
        told_closer = next(
            (p for p in range(item.end, stop) if self.language.has("tells closer", self.tokens[p].text)), stop
        )
        after = [m for m in after if m.start < told_closer or m.sense.role != "part"]
        straight = [m for m in after if m.sense.role == "part" and not m.prep]
        if not straight and (told := self.pronoun(item, stop, right=True)):
            return told, [*after, *[m for m in earlier if m.sense.role == "who" or m.prep]]
        if not straight and passive:
            straight = [
                m
                for m in earlier
                if m.sense.role == "part" and m.prep not in ("with", "using", "in", "before", "after")
            ]
        if not straight and not any(m.sense.role == "product" and not m.prep for m in after):
            reached = [m for m in after if m.sense.role == "part" and m.prep in _ON]
            named = [m for m in reached if (t := self.of(m)) is not None and not self.only_accessories([t.id])]
            straight = named[:1] or straight
        if not straight and any(m.sense.role == "product" and m.prep in ("", "of") for m in after):
            straight = [m for m in after if m.sense.role == "part" and m.prep in _AT]
        taxonomy = self.board.vocabulary.taxonomies["action"]
        cuts = item.verb is not None and any(
            item.verb.name in taxonomy.below(one) for one in ("cut", "drill", "cut out")
        )
        holed = [m for m in after if m.sense.role == "part" and m.prep in ("in", "into", "through")]
        if cuts and not straight and holed:
            straight = holed[:1]  # `cut a hole in the ceiling`
        straight = self._up_to_a_strange_verb([m for m in straight if not self._an_end(m, after)])
        straight = straight or self._of_its_piece(item, after)
        found = [self._of_two(thing, m, item).id for m in straight if (thing := self.of(m)) is not None]
        switches = item.verb is not None and (
            item.verb.name in taxonomy.below("isolate") or "restore" in item.verb.name
        )
        if switches:
            found = [own for own in found if (t := self.board.named(own)) is None or t.kind not in _SWITCHES]
            fed = [m for m in after if m.sense.role == "part" and m.prep in ("to", "for")]
            found = found or [t.id for m in fed if (t := self.of(m)) is not None and t.kind not in _SWITCHES]
        if not found:
            found = self.pronoun(item, stop)
        if not found and item.verb is not None:
            found = self._told_ahead(clause, item, earlier)
        return found, [*after, *[m for m in earlier if m.sense.role == "who" or m.prep]]

    def only_ends(self, item: Item, mentions: list[Mention], stop: int) -> bool:
        """Whether it is told from where to where something is done, and not to what."""
        after = [m for m in mentions if item.end <= m.start and m.end <= stop]
        return any(self._an_end(m, after) for m in after)

    @staticmethod
    def _an_end(mention: Mention, after: list[Mention]) -> bool:
        """`tile from the counter to the uppers`: from where, and no thing that is tiled."""
        behind = [m for m in after if m.prep in ("to", "up to") and 0 <= m.start - mention.end <= 3]
        return mention.prep == "from" and bool(behind)

    def _told_ahead(self, clause: Clause, item: Item, earlier: list[Mention]) -> list[str]:
        """`for the wall I put primer first`, `on the doors we use a satin`: told at the head of the clause."""
        first = next((m for m in earlier if m.sense.role == "part" and m.prep in ("for", "on", "with")), None)
        if first is None or first.start - clause.start > 3 or item.verb is None:
            return []
        person = self.tokens[first.end].text if first.end < len(self.tokens) else ""
        thing = self.of(first) if self.language.has("persons ahead", person) else None
        fits = thing is not None and self.likely.score(item.verb.name, thing.kind) >= 0
        return [thing.id] if thing is not None and fits else []

    def _up_to_a_strange_verb(self, straight: list[Mention]) -> list[Mention]:
        """`hang a tv and hide the cords`: what stands behind a doing word that is not understood is its thing."""
        for number in range(1, len(straight)):
            between = range(straight[number - 1].end, straight[number].start)
            words = [p for p in between if self.tokens[p].sort == "word" and self._strange(self.tokens[p].text)]
            if words and any(self.tokens[p].text in ("and", "then", ",") for p in between if p < words[0]):
                return straight[:number]
        return straight

    def _strange(self, word: str) -> bool:
        known = any((word,) in group for group in self.language.words.values())
        return not known and word not in self.lexicon.phrases

    def _of_its_piece(self, item: Item, after: list[Mention]) -> list[Mention]:
        """`fill the holes in the wall`, `caulk around the tub`: only a piece of it is named."""
        taxonomy = self.board.vocabulary.taxonomies["action"]
        if item.verb is None or item.verb.name in taxonomy.below("install") - taxonomy.below("replace"):
            return []
        first = next((m for m in after if m.sense.role == "part" and m.prep in _OF_IT), None)
        if first is None or any(m.sense.role in ("part", "product") and m.start < first.start for m in after):
            return []
        between = [t.text for t in self.tokens[item.start + 1 : first.start - 1]]  # also in `fill the holes`
        piece = any((word,) in self.language.piece_of_it for word in between)
        return [first] if piece or (item.end >= first.start - 1 and first.prep in ("around", "along")) else []

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

    def equip(self, step: Thing, mentions: list[Mention], span: Spans, clause: Clause) -> None:
        """Products used, tools, place and people of a step."""
        taxonomy = self.board.vocabulary.taxonomies["action"]
        for mention in mentions:
            place, role = span(mention.start, mention.end), mention.sense.role
            thing = self.of(mention)
            taken = step.kind in taxonomy.below("disturb") or step.kind in taxonomy.below("remove")
            if role == "product" and thing is not None and not mention.prep and taken:
                continue  # `cut the nails`: they are not used up
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
                    for own in step.members("to")
                    if (t := self.board.named(own)) and "room" in t.facts
                }
                if rooms != {thing.id} and "in" not in step.facts:
                    self.board.put(step, "in", thing.id, place)
            elif role == "who" and mention.sense.name not in ("owner", "helper", "child", "tenant", "landlord"):
                self.board.put(step, "who", self._trade_of(mention.sense.name, step), place)
        self._put_on(step, mentions, span)
        self._amounts(step)
        if step.kind == "evacuate" and step.members("to"):
            step.facts["do"].value = "move"
        put_in = [
            m
            for m in mentions
            if step.kind == "replace" and m.sense.role == "part" and m.prep in ("for", "with", "by", "to")
        ]
        for mention in put_in:
            thing = self.of(mention)
            if thing is not None and thing.id not in step.members("to"):
                thing.put_in = True
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

    def _trade_of(self, who: str, step: Thing) -> str:
        """`a licensed man hooks the outlet up`: an electrician."""
        things = [t for own in step.members("to") if (t := self.board.named(own)) is not None]
        trades = self.language.trade_of if who == "licensed trade" else {}
        return next(
            (trade for kind, trade in trades.items() if any(t.kind in self.below("part", kind) for t in things)), who
        )

    def _put_on(self, step: Thing, mentions: list[Mention], span: Spans) -> None:
        """`set it on the base cabinets`: where a thing that is put in will be."""
        taxonomy = self.board.vocabulary.taxonomies["action"]
        own = step.members("to")
        thing = self.board.named(own[0]) if len(own) == 1 else None
        if thing is None or thing.sort != "part" or step.kind not in taxonomy.below("install"):
            return
        for mention in mentions:
            name = {"on": "on", "onto": "on", "in": "in", "into": "in"}.get(mention.prep, "")
            other = self.of(mention) if name and mention.sense.role == "part" else None
            if other is None or other is thing or name in thing.facts:
                continue
            if self.table.score("part", thing.kind, name) > 0:
                self.board.put(thing, name, other.id, span(mention.start, mention.end))

    def _amounts(self, step: Thing) -> None:
        """To check with a voltage tester is to prove dead."""
        tools = step.facts.get("with")
        for tool, action in self.language.with_tool.get(step.kind, {}).items():
            if tools is not None and tool in tools.value:
                step.facts["do"].value = action

    def embedded(self, step: Thing, item: Item, span: Spans) -> None:
        """A thing within a verb's own words: `hang drywall`, `grout the tile`."""
        taxonomy = self.board.vocabulary.taxonomies["action"]
        switches = step.kind in taxonomy.below("isolate") or "restore" in step.kind
        if "to" in step.facts or item.end - item.start < 2 or switches:
            return
        for place in range(item.start + 1, item.end):
            found = self.lexicon.at(self.tokens, place, item.end)
            sense = next((s for s in found[1] if s.role == "part"), None) if found and found[0] <= item.end else None
            if sense is None or found is None or self.tokens[place - 1].text in ("to", "into"):
                continue
            words = " ".join(t.text for t in self.tokens[place : found[0]])
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
