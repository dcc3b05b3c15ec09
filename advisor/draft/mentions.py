"""Names of things in a clause: which meaning each has there, what stands before it, and which thing it is."""

from __future__ import annotations

from msgspec import Struct, field

from advisor.draft.clauses import Clause
from advisor.draft.items import Item
from advisor.draft.lexicon import Sense
from advisor.draft.neighbors import Neighbors
from advisor.draft.turns import turns

NOUNS = ("part", "product", "room", "tool", "who")
_LIQUID = frozenset({"liquid", "volume"})
_COPULA = frozenset(["its", "theyre", "thats", "is", "are", "was", "were", "looks", "look"])


class Mention(Struct):
    """A name of a thing in a clause. `start` includes the words of its kind before it: number, material, color."""

    item: Item
    sense: Sense
    start: int
    end: int
    words: str
    prep: str = ""
    age: str = ""
    before: list[Item] = field(default_factory=list)  # values that belong to it: `three pine doors`
    color: tuple[int, int] | None = None
    of_room: Item | None = None  # `bathroom floor`


class Namer(Neighbors):
    """Finds the names of things among the items of a clause."""

    def mentions(
        self,
        clause: Clause,
        items: list[Item],
        said: set[int],
        known: set[tuple[str, str]],
        names: dict[str, str],
        owning: bool = False,
        by_word: dict[str, str] | None = None,
    ) -> list[Mention]:
        """The mentions of a clause in order; `said` are places inside sayings, `known` sorts and kinds of things."""
        found: list[Mention] = []
        skip: set[int] = set()
        items = self._by_a_word(clause, items, said, by_word)
        for number, item in enumerate(items):
            if item.name:
                sort = names.get(item.name)
                if sort is not None:
                    found.append(
                        Mention(
                            item,
                            Sense(sort, "", "name"),
                            item.start,
                            item.end,
                            item.name,
                            self._prep(item.start, clause.start),
                        )
                    )
                continue
            if item.verb is not None or item.start in said or item.start in skip or not item.roles() & set(NOUNS):
                continue
            following = items[number + 1] if number + 1 < len(items) else None
            joined = following if following and following.start == item.end and following.verb is None else None
            taken_up = joined is not None and joined.roles() & {"part", "product"} and joined.start not in said
            ahead = item.roles() & {"room", "term", "product"} or (item.get("part") and joined and joined.get("part"))
            inside = (room := item.get("room")) is not None and room.name != "outdoors"  # `exterior enamel`
            alone = inside and joined is not None and not joined.get("part")
            if taken_up and ahead and not item.get("tool") and not (alone and not item.get("part")):
                continue  # the kind of the thing that follows; taken up with it; `kids room paint` tells of the room
            if joined is not None and item.get("tool") and item.get("term", "material") and joined.get("tool"):
                continue  # `a plastic scraper`
            if joined is not None and item.get("room") and joined.get("room") and not item.get("part"):
                continue  # `the hall bathroom`
            if self._counts_rooms(items, number) or self._side_of(item):
                continue
            sense = self._sense(clause, items, number, known, owning)
            if sense is None or self._shade(item) or self._carton(item, clause):
                continue
            found.append(self._with_what_stands_before(clause, items, number, sense, found))
        return found

    def _by_a_word(self, clause: Clause, items: list[Item], said: set[int], known: dict[str, str] | None) -> list[Item]:
        """`the crown` behind `crown molding`: words that name nothing but a thing told of before."""
        taken = {p for i in items for p in range(i.start, i.end)} | said
        added = [
            Item(p, p + 1, name=known[self.tokens[p].text])
            for p in range(clause.start, clause.stop)
            if known and p not in taken and self.tokens[p].text in known
            and p > 0 and any(self.language.has(g, self.tokens[p - 1].text) for g in ("articles", "adjectives"))
        ]  # fmt: skip
        return sorted([*items, *added], key=lambda i: i.start) if added else items

    def _sense(
        self, clause: Clause, items: list[Item], number: int, known: set[tuple[str, str]], owning: bool
    ) -> Sense | None:
        """The meaning of a name where it stands; None where it is no name there but a value."""
        item = items[number]
        if item.get("tool") and self._holds(item):
            return None  # `a bucket of primer`
        if item.get("term", "material") and (self._in_brackets(item) or self._told_of_a_body(item)):
            return None  # `the wall (drywall)`
        rooms = frozenset(p for i in items[:number] if i.get("room") and i.verb is None for p in range(i.start, i.end))
        before = self._word_before(item.start, clause.start, rooms if item.get("room") else frozenset())
        if before and any(i.verb is not None and i.start < i.end - 1 and self.tokens[i.end - 1].text == before
                          and i.end <= item.start <= i.end + 4 for i in items[:number]):  # fmt: skip
            before = ""  # `put in a new toilet`: the particle of the verb
        if before == "or" and number and items[number - 1].end == item.start - 1:  # `is it drywall or plaster`
            before = self._word_before(items[number - 1].start, clause.start)
        verb = next((i.verb for i in reversed(items[:number]) if i.verb is not None), None)
        words = tuple(t.text for t in self.tokens[item.start : item.end])
        scores: dict[Sense, float] = {}
        described = before == "with" and verb is None and number > 0 and self._right_behind(items[number - 1], item)
        amount = items[number - 1].amount if number else None
        liquid = amount is not None and bool(_LIQUID & amount.dimensions)
        owning = owning or "owns" in clause.cues or "not owned" in clause.cues
        for sense in item.senses:
            score = {"part": 1.0, "product": 0.8, "room": 0.9, "tool": 0.6, "who": 0.9, "term": 0.7, "attr": 0.3}.get(
                sense.role, 0
            )
            if before in ("with", "using") and not described:
                score += {"tool": 1.5, "product": 1.3, "part": -0.6, "who": 1.5}.get(sense.role, 0)
            if before in ("in", "into", "inside", "at", "for") and sense.role == "room":
                score += 1.5
            if before == "to" and sense.role == "room":
                score += 0.5
            if liquid or self._measured_out(item.start, clause.start):
                score += 2.0 if sense.role == "product" else 0.0
            if verb is not None and sense.role == "part" and not before:
                score += 0.6
            if (
                verb is not None
                and verb.name in ("prime", "sand", "scrape", "clean", "wash", "fill", "patch")
                and not before
            ):
                score -= 0.9 if sense.role == "product" else 0.0
            if verb is not None and verb.name in ("coat", "mix", "spread adhesive", "thin") and sense.role == "product":
                score += 1.5
            if sense.role == "tool" and not item.get("part") and self.language.has("handles", before):
                score += 1.5  # `i hold the vacuum`
            if sense.role == "part" and item.start and self.tokens[item.start - 1].text == "new":
                score += 1.0  # `i got two new posts`
            if owning:
                score += {"tool": 1.2, "product": 0.9}.get(sense.role, 0)
            if (
                item.start > clause.start
                and self.tokens[item.start - 1].text in ("old", "existing")
                and item.get("term", "coating")
            ):
                score += {"product": -1.0, "term": 0.6}.get(sense.role, 0)
            told_of = before in _COPULA and not self._asked_of(item.start, clause)
            if told_of and sense.role == "term" and not self._there_is(item.start, clause):
                score += 1.5
            by_name = (sense.role, " ".join(words)) in known
            score += 0.6 if by_name and sense.role == "part" else 0.0
            if by_name or ((sense.role, sense.name) in known and not (sense.role == "room" and item.get("part"))):
                score += 0.8
            if sense.role == "room" and ("room", sense.name) in known and ("part", sense.name) not in known:
                score += 0.8  # `the closet is five foot wide`, told of as a room before
            where = verb is None or self.language.has("prepositions", before)
            if sense.role == "room" and where and number and self._room_in_room(items[number - 1], item):
                score += 1.0  # `doors on the hall closet`
            if sense.role == "who" and sense.name == "owner":
                score -= 5.0
            if (
                sense.role == "who"
                and sense.name in ("helper", "child", "tenant", "landlord")
                and not self._a_person(item, clause)
            ):
                score -= 0.6
            if (words, sense.role) in self.exact:
                score += 0.3
            spelled = (words, "part") in self.exact or (words, "product") not in self.exact
            if sense.role == "part" and len(item.senses) > 1 and spelled and self._is_there(item.start):
                score += 0.6
            scores[sense] = score
        best = max(scores, key=lambda s: (scores[s], s.role == "part", s))
        used = bool(owning or amount or verb) or (best.role, best.name) in known
        coats = item.get("term", "binder") or item.get("term", "coating") or best.name in self.language.of_product
        used = used or before in ("with", "using", "of") or self._measured_out(item.start, clause.start)
        if best.role == "product" and item.get("term", "material") and not used and not coats:
            return None  # `concrete under`, `wood on wood`: what something is made of
        return best if best.role in NOUNS else None

    @staticmethod
    def _room_in_room(outer: Item, item: Item) -> bool:
        return outer.end == item.start and outer.get("room") is not None and not outer.get("part")

    def _right_behind(self, thing: Item, item: Item) -> bool:
        """`a tub with tile around it`: what belongs to a thing, and nothing that is used."""
        at = next((p for p in range(item.start - 1, thing.end - 1, -1) if self.tokens[p].text == "with"), -1)
        return at == thing.end and bool(thing.roles() & {"part", "room"})

    def _with_what_stands_before(
        self, clause: Clause, items: list[Item], number: int, sense: Sense, found: list[Mention]
    ) -> Mention:
        item = items[number]
        floor = found[-1].end if found else clause.start
        floor = max([floor, *(i.end for i in items[:number] if i.verb is not None)])
        own = Mention(item, sense, item.start, item.end, " ".join(t.text for t in self.tokens[item.start : item.end]))
        if self.tokens[item.start].text in ("new", "old") and item.end - item.start > 1:
            own.age = self.tokens[item.start].text  # `new box`, where the list holds both words
        place, index = item.start - 1, number - 1
        while place >= floor:
            earlier = items[index] if index >= 0 else None
            if (
                earlier is not None
                and earlier.end == place + 1
                and earlier.verb is None
                and self._belongs(earlier, sense)
            ):
                if earlier.get("room") and sense.role == "part" and not earlier.get("term", "material"):
                    own.of_room = own.of_room or earlier  # `hall bath walls`: the walls of the bath
                else:
                    own.before.insert(0, earlier)
                place, index = earlier.start - 1, index - 1
                continue
            word = self.tokens[place].text
            if (
                word == "of"
                and not any(i.amount for i in own.before)
                and earlier is not None
                and earlier.end == place
                and earlier.amount is not None
            ):
                place -= 1
                continue
            two = " ".join(t.text for t in self.tokens[max(floor, place - 1) : place + 1])
            if own.color is None and (
                self.language.has("colors", word) or tuple(two.split()) in self.language.words["colors"]
            ):
                begin = place - 1 if " " in two and tuple(two.split()) in self.language.words["colors"] else place
                own.color, place = (begin, place + 1), begin - 1
                while index >= 0 and items[index].end > begin:
                    index -= 1
                continue
            if not self.language.has("adjectives", word) and not self._part_of_name(place, floor, items):
                break
            if word in ("new", "old", "existing", "original", "current") and not own.age:
                own.age = "new" if word == "new" else "old"
            place -= 1
            while index >= 0 and items[index].start > place:
                index -= 1
        own.start = place + 1
        while place >= floor and self.language.has("articles", self.tokens[place].text):
            place -= 1
        word = self.tokens[place].text if place >= clause.start else ""
        behind_verb = any(i.verb is not None and i.end == place for i in items[:number])
        if behind_verb and word in ("up", "down", "out"):
            own.prep = ""  # `hose down the deck`
        elif word == "of" and place > floor and self.tokens[place - 1].text in turns("pieces"):
            own.prep = ""  # `a bit of cable`
        elif self.language.has("prepositions", word) and place >= floor:
            own.prep = word
        elif found and word in ("and", "or", ",") and found[-1].end == place:
            own.prep = found[-1].prep
        return own

    def _belongs(self, item: Item, sense: Sense) -> bool:
        if item.name:
            return False
        if sense.role in ("tool", "who"):
            return item.amount is not None and item.amount.sort == "number"
        if item.amount is not None:
            return item.amount.sort in ("number", "measure", "pair", "range", "year", "decade")
        return bool(item.roles() & {"term", "room", "part"}) or (
            sense.role == "product" and item.get("product") is not None
        )
