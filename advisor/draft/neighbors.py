"""The words around a name in a clause: what they say of how it is meant."""

from __future__ import annotations

from advisor.draft.clauses import Clause
from advisor.draft.items import Item
from advisor.draft.language import Language
from advisor.draft.tokens import Token
from advisor.draft.turns import turns

_THERE = frozenset({"the", "those", "these", "our", "my", "old", "existing", "that"})


class Neighbors:
    """Looks at what stands beside names of one text."""

    def __init__(self, tokens: list[Token], language: Language, exact: set[tuple[tuple[str, ...], str]]) -> None:
        self.exact = exact  # phrases as the vocabulary spells them, with their sort: `washers` is no plural there
        self.tokens = tokens
        self.language = language

    def _is_there(self, place: int) -> bool:
        """`the wires`, `those boards`: they are there."""
        return place > 0 and self.tokens[place - 1].text in _THERE

    def _there_is(self, place: int, clause: Clause) -> bool:
        """`there is a gas water heater`: a thing that is there, not how another one is; not `if there is one`."""
        sure = not (clause.unknown or clause.denied or clause.conditional or clause.asked)
        return sure and any(t.text in ("there", "theres") for t in self.tokens[max(clause.start, place - 4) : place])

    def _shade(self, item: Item) -> bool:
        """`light gray`: a color, no lamp."""
        two = tuple(t.text for t in self.tokens[item.end - 1 : item.end + 1])
        if two[:1] == ("light",) and len(two) == 2 and (two[1] in turns("lightly") or two[1].endswith("ing")):
            return True  # `a light sanding`
        return item.end - item.start == 1 and len(two) == 2 and two in self.language.words["colors"]

    def _carton(self, item: Item, clause: Clause) -> bool:
        """`a box of screws`, `it says 80 cfm on the box`: what something came in, no box of wires."""
        if self.tokens[item.end - 1].text not in ("box", "boxes"):
            return False
        if item.end < len(self.tokens) and self.tokens[item.end].text == "of":
            return True
        words = self.tokens[max(clause.start, item.start - 8) : min(clause.stop, item.end + 2)]
        return any(self.language.has("reads", t.text) for t in words)

    def _asked_of(self, place: int, clause: Clause) -> bool:
        """`is wall behind it rotten`: what is asked of stands right behind the first word, and tells of nothing."""
        at = clause.start
        while at < place and self.tokens[at].text in ("and", "or", "but", "so"):
            at += 1
        return place == at + 1 and self.tokens[at].text in ("is", "are", "was", "were")

    def _told_of_a_body(self, item: Item) -> bool:
        """`on the bathroom wall, drywall`: what the wall is of, by itself behind a comma."""
        before = [t.text for t in self.tokens[max(0, item.start - 2) : item.start]]
        behind = self.tokens[item.end] if item.end < len(self.tokens) else None
        ends = behind is None or behind.sort in ("mark", "break")
        return ends and before[1:] == [","] and before[0] in turns("bodies")

    def _holds(self, item: Item) -> bool:
        """Whether a word only tells in what something is: `a bucket of primer`."""
        behind = self.tokens[item.end].text if item.end < len(self.tokens) else ""
        return behind == "of" and self.tokens[item.end - 1].text in turns("holders")

    def _in_brackets(self, item: Item) -> bool:
        """Whether a word stands in brackets by itself."""
        around = self.tokens[item.start - 1 : item.start] + self.tokens[item.end : item.end + 1]
        return [t.text for t in around] == ["(", ")"]

    def _prep(self, place: int, start: int) -> str:
        word = self.tokens[place - 1].text if place > start else ""
        return word if self.language.has("prepositions", word) else ""

    def _counts_rooms(self, items: list[Item], number: int) -> bool:
        """`a 2 bedroom apartment` tells of no bedroom."""
        item, before = items[number], items[number - 1] if number else None
        counted = (
            before is not None and before.end == item.start and before.amount is not None and not before.amount.unit
        )
        behind = self.tokens[item.end].text if item.end < len(self.tokens) else ""
        return counted and item.get("room") is not None and self.language.has("house words", behind)

    def _side_of(self, item: Item) -> bool:
        """`the outside of the doors`: a side of them, and no place."""
        room = item.get("room")
        behind = self.tokens[item.end].text if item.end < len(self.tokens) else ""
        if room is None or room.name not in ("outdoors", "indoors"):
            return False
        kind = self.tokens[item.end - 1].text in ("exterior", "interior")  # `exterior acrylic`
        return behind == "of" or (kind and not (item.start and self.tokens[item.start - 1].text == "the"))

    def _measured_out(self, place: int, start: int) -> bool:
        """`two coats of`, `a can of`: what follows is a product."""
        at = place - 1
        while at >= start and (
            self.language.has("articles", self.tokens[at].text) or self.language.has("adjectives", self.tokens[at].text)
        ):
            at -= 1
        if at >= start and self.tokens[at].text == "of":
            at -= 1
        return at >= start and self.tokens[at].text in turns("holders")

    def _a_person(self, item: Item, clause: Clause) -> bool:
        return item.start > clause.start and self.tokens[item.start - 1].text in (
            "my",
            "our",
            "a",
            "the",
            "with",
            "and",
            "his",
            "her",
            "two",
        )

    def _word_before(self, place: int, start: int, rooms: frozenset[int] = frozenset()) -> str:
        at = place - 1
        while at >= start and (
            self.language.has("articles", self.tokens[at].text)
            or self.language.has("adjectives", self.tokens[at].text)
            or at in rooms
            or (self.tokens[at].text == "of" and at > start and self.language.has("kind of", self.tokens[at - 1].text))
            or (self.language.has("kind of", self.tokens[at].text) and self.tokens[at + 1].text == "of")
        ):
            at -= 1
        return self.tokens[at].text if at >= start else ""

    def _part_of_name(self, place: int, floor: int, items: list[Item]) -> bool:
        """Whether an unknown word stands between an article and a name: `the dining table`."""
        token = self.tokens[place]
        if (
            token.sort != "word"
            or self.language.has("little", token.text)
            or any(i.start <= place < i.end for i in items)
        ):
            return False
        listed = any((token.text,) in group for group in self.language.words.values())
        before = self.tokens[place - 1].text if place > floor else ""
        return not listed and (self.language.has("articles", before) or self.language.has("adjectives", before))
