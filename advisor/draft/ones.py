"""`The old one`, `a new one`, `old out, new in`: which kind of thing is meant where its name is not told."""

from __future__ import annotations

from advisor.draft.board import Thing
from advisor.draft.clauses import ENDS, Clause
from advisor.draft.items import Item
from advisor.draft.lexicon import Sense
from advisor.draft.mentions import Mention
from advisor.draft.said_of import SaidOf

_SWAPS = frozenset({"replace", "replacing", "swap", "swapping", "replaced", "change", "changing", "trade"})
_AGES = ("new", "old", "existing", "current", "original", "present")


class Ones(SaidOf):
    """Finds the things of names that name none."""

    def with_ones(self, clause: Clause, mentions: list[Mention], items: list[Item]) -> list[Mention]:
        """`the old one`, `a new one`: names of the kind that was last spoken of."""
        found = [*mentions, *self._the_room(clause, mentions, items), *self._of_stuff(clause, mentions, items)]
        for place in range(clause.start, clause.stop):
            fixture = self.tokens[place].text in ("fixture", "fixtures", "unit") and not any(
                m.start <= place < m.end for m in mentions
            )
            alone = self._told_apart(clause, mentions, items, place)
            if self.tokens[place].text not in ("one", "ones") and not fixture and not alone:
                continue
            words = [t.text for t in self.tokens[max(clause.start, place - 3) : place + (1 if alone else 0)]]
            words_before = [t.text for t in self.tokens[max(clause.start, place - 4) : place]]
            told = _SWAPS & {t.text for t in self.tokens[clause.start : place]} and {"with", "for"} & set(words_before)
            last = self.board.steps[-1].kind if self.board.steps else ""
            put_in = bool(told) or (last == "replace" and self.tokens[clause.start].text in ("with", "for"))
            age = (
                "new"
                if put_in
                else next(
                    (
                        "new" if w == "new" else "old"
                        for w in reversed(words)
                        if w in ("new", "old", "existing", "current", "original", "present")
                    ),
                    "",
                )
            )
            if not age and {"a", "an"} & set(words_before) and any(t.age == "old" for t in self.board.focus[:3]):
                age = "new"  # `take down the old one and put up a ducted one`
            if (added := self._put_where_none_was(clause, items, place)) is not None:
                found.append(added)
                continue
            earlier = [m for m in mentions if m.end <= place and m.sense.role == "part"]
            straight = [m for m in earlier if not m.prep] or earlier  # `the fan over the stove with a quiet one`
            straight = earlier if earlier and earlier[-1].end == place else straight  # `for a GFCI one`
            kind, name = (straight[-1].sense, straight[-1].words) if earlier else (None, "")
            before_it = self._told_before_it(clause)
            twin = before_it or self._twin() or self._purpose()
            if (
                earlier
                and twin is not None
                and kind is not None
                and self._in_passing(kind.name)
                and twin.kind != kind.name
            ):
                kind, name, earlier = Sense("part", twin.kind), twin.words, []
            if kind is None and self.notes and twin is None:
                main = self.main()
                twin = self.board.named(main[0]) if main else None
            if kind is None:
                thing = twin or next((t for t in self.board.focus if t.sort == "part"), None)
                kind, name = (Sense("part", thing.kind), thing.words) if thing else (None, "")
            if not earlier and before_it is None:
                was = next((t for t in self.board.focus if t.sort == "part" and t.age == "old"), None)
                kind, name = (Sense("part", was.kind), was.words) if was else (kind, name)
            if not age or kind is None or any(m.start <= place < m.end for m in mentions):
                continue
            item = Item(place, place + 1, (kind,))
            own = Mention(item, kind, place, place + 1, name, age=age)
            back = next((n for n, w in enumerate(reversed(words)) if w in _AGES), None)
            at = place - 1 - back if back is not None else place
            while at > clause.start and any(i.end == at and i.verb is None and self._of_one(i) for i in items):
                at = next(i.start for i in items if i.end == at)
            while at > clause.start and self.language.has("adjectives", self.tokens[at - 1].text):
                at -= 1
            while at > clause.start and self.language.has("articles", self.tokens[at - 1].text):
                at -= 1
            own.start = at
            counted = next(
                (i for i in items if i.end == at and i.amount is not None and i.amount.sort == "number"), None
            )
            at = counted.start if counted is not None and place > at else at  # `eight new ones`
            own.before = [
                i
                for i in items
                if at <= i.start and i.end <= place and i.verb is None and (self._of_one(i) or i is counted)
            ]
            if at > clause.start and self.language.has("prepositions", self.tokens[at - 1].text):
                own.prep = self.tokens[at - 1].text
            found.append(own)
        return sorted(found, key=lambda m: m.start)

    @staticmethod
    def _of_one(item: Item) -> bool:
        """`a white one`, `a 48 inch one`: how the one is."""
        return item.get("term") is not None or (item.amount is not None and item.amount.sort == "measure")

    def _told_apart(self, clause: Clause, mentions: list[Mention], items: list[Item], place: int) -> bool:
        """`old out, new in`, `old 30 in, new 36 in`: the word for one of two by itself."""
        if self.tokens[place].text not in ("old", "new") or any(m.start <= place < m.end for m in mentions):
            return False
        if place > clause.start and self.language.has("is so", self.tokens[place - 1].text):
            return False  # `the worktop is new`
        if place + 1 >= clause.stop:
            return not any(i.end == place for i in items)
        behind = self.tokens[place + 1]
        amount = any(i.start == place + 1 and i.amount is not None for i in items)
        moved = any(i.start == place + 1 and i.verb is not None and i.verb.of == "moved" for i in items)
        return (
            amount
            or moved
            or behind.sort == "mark"
            or behind.text in ("is", "are", "was", "has", "off", "out", "in", "on")
        )

    def _put_where_none_was(self, clause: Clause, items: list[Item], place: int) -> Mention | None:
        verb = next((i.verb for i in reversed(items) if i.verb is not None and i.start < place), None)
        if self.lacking is None or verb is None or self.tokens[place].text != "one":
            return None
        if verb.name not in self.board.vocabulary.taxonomies["action"].below("install"):
            return None
        if any(self.tokens[p].text in ("old", "existing") for p in range(max(clause.start, place - 3), place)):
            return None
        sense, words = self.lacking
        self.lacking = None
        return Mention(Item(place, place + 1, (sense,)), sense, place, place + 1, words, age="added")

    def _of_stuff(self, clause: Clause, mentions: list[Mention], items: list[Item]) -> list[Mention]:
        """`swap the drain for PVC`, `replace it with copper`: a new one of the same kind, made of that."""
        for item in items:
            behind = self.tokens[item.end] if item.end < clause.stop else None
            before = [t.text for t in self.tokens[clause.start : item.start]]
            if before[-1:] not in (["for"], ["with"]) or not _SWAPS & set(before):
                continue
            ends = behind is None or behind.sort != "word" or behind.text in ("and", "then", "before")
            if not ends or not any(item.get("term", of) for of in ("material", "pipe_material", "duct_material")):
                continue
            earlier = [m for m in mentions if m.end <= item.start and m.sense.role == "part" and not m.prep]
            thing = None if earlier else self._told_before_it(clause) or self._twin()
            if earlier:
                sense, name = earlier[-1].sense, earlier[-1].words
            elif thing is not None:
                sense, name = Sense("part", thing.kind), thing.words
            else:
                continue
            own = Mention(Item(item.start, item.end, (sense,)), sense, item.start, item.end, name, age="new")
            own.before, own.prep = [item], before[-1]
            return [own]
        return []

    def _told_before_it(self, clause: Clause) -> Thing | None:
        """`the hood vents into the attic right now, i want a new one`: what the clause before it tells of."""
        first = clause.start
        while first > 0 and self.tokens[first - 1].sort != "break" and self.tokens[first - 1].text not in ENDS:
            first -= 1
        told = [t for t in self.board.things["part"] if first <= t.place < clause.start]
        told = [t for t in told if not any(self._leads(p) for p in (t.place - 1, t.place - 2) if p >= first)]
        return told[0] if len(told) == 1 else None  # of several nobody knows which

    def _leads(self, place: int) -> bool:
        return self.language.has("prepositions", self.tokens[place].text)

    def _purpose(self) -> Thing | None:
        return next((t for own in self.board.purpose if (t := self.board.named(own)) is not None), None)

    def _in_passing(self, kind: str) -> bool:
        return self.one_of(kind, self.language.accessories)

    def _twin(self) -> Thing | None:
        """What is replaced, or of which an old or a new one was told: `the new one` is of its kind."""
        replaced = {own for s in self.board.steps if s.kind == "replace" for own in s.members("to")}
        return next((t for t in self.board.focus if t.sort == "part" and (t.age or t.id in replaced)), None)

    def _the_room(self, clause: Clause, mentions: list[Mention], items: list[Item]) -> list[Mention]:
        """`the room is 6 by 8`: the room that is spoken of."""
        room = self.board.room
        if room is None or any(m.sense.role == "room" for m in mentions):
            return []
        for place in range(clause.start, clause.stop):
            before = self.tokens[place - 1].text if place > clause.start else ""
            told = before in ("the", "this", "that", "whole", "our") or place == clause.start
            behind = self.tokens[place + 1].text if place + 1 < clause.stop else ""
            said = told and behind in ("is", "measures", "was", "has", ":", "")
            taken = any(i.start <= place < i.end and (i.verb or i.end > place + 1) for i in items)
            if self.tokens[place].text in ("room", "space") and said and not taken:
                item = Item(place, place + 1, name=room.id)
                return [Mention(item, Sense("room", "", "name"), place, place + 1, room.id)]
        return []
