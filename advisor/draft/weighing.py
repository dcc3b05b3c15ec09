"""Whether a value is told of a thing of the plan at all, by what stands around it."""

from __future__ import annotations

from advisor.draft.board import Candidate, Span, Thing, Unsure
from advisor.draft.clauses import Clause
from advisor.draft.hearing import Hearing
from advisor.draft.items import Item, Match
from advisor.draft.mentions import Mention


class Weighing(Hearing):
    """Weighs the values of a clause."""

    def _only_a_place(self, item: Item, span: Span) -> bool:
        """`tiles from Spain`, `a German house`: a country that no saying puts the house in is offered, not written."""
        found = next((s for s in item.senses if s.role == "term" and s.of in self.lexicon.places), None)
        if found is None:
            return False
        known = self.board.vocabulary.attributes["house"].values()
        name = next(a.name for a in known if a.type == "term" and a.of == found.of)
        way = Candidate("house", "house", name, found.name)
        self.board.unsure.append(Unsure(span, (way,), "does the house stand there?"))
        return True

    def _of_no_part(self, group: list[Match], mentions: list[Mention], steps: list[tuple[Item, Thing]]) -> bool:
        """`the stud finder doesnt work`, `check the floor for rot`: nothing that is told of a part."""
        start, value = group[0].start, group[0].value
        before = next((m for m in reversed(mentions) if m.end <= start), None)
        answers = all(m.saying.value in ("yes", "no") for m in group)
        if answers and before is not None and before.end == start and before.sense.role == "tool":
            return True
        return value is not None and self._looked_for(value, steps)

    def _looked_for(self, item: Item, steps: list[tuple[Item, Thing]]) -> bool:
        """`check the floor for rot`: whether it is there is not known yet."""
        if not item.get("term", "condition"):
            return False
        at = item.start - 1
        while at > 0 and (
            self.language.has("articles", self.tokens[at].text) or self.language.has("adjectives", self.tokens[at].text)
        ):
            at -= 1
        looks = self.board.vocabulary.taxonomies["action"].below("inspect")
        return self.tokens[at].text in ("for", "or") and any(s.kind in looks and i.start < item.start for i, s in steps)

    @staticmethod
    def _counted_pieces(item: Item, items: list[Item]) -> bool:
        """`16 ft sticks`: pieces so long, not how a thing is."""
        return bool(item.get("term", "condition")) and any(
            i.amount is not None and i.amount.sort == "measure" and i.end == item.start for i in items
        )

    def _times(self, item: Item, mentions: list[Mention], span: Span) -> bool:
        """`drawers x5`: how many there are."""
        amount = item.amount
        if amount is None or amount.unit or amount.sort != "number" or amount.number.denominator != 1:
            return False
        before = next((m for m in mentions if m.end == item.start - 1), None)
        thing = self.things.of(before) if before is not None and self.tokens[item.start - 1].text == "x" else None
        return (
            thing is not None
            and thing.sort in ("part", "product")
            and self.board.put(thing, "count", amount.text, span)
        )

    def _is_used(self, clause: Clause, item: Item) -> bool:
        """`insulate with fiberglass batts`: what is behind `with` is used, and says nothing of the thing."""
        if not any(item.get("term", of) for of in ("material", "coating", "condition")):
            return False
        if item.start > clause.start and self.tokens[item.start - 1].text == "in":
            return True
        before = [t.text for t in self.tokens[max(clause.start, item.start - 4) : item.start]]
        return bool(clause.cues.get("future")) and any(word in ("with", "using") for word in before)

    def _of_another(self, clause: Clause, item: Item, mentions: list[Mention]) -> bool:
        """`a stepladder, wooden`; `the house is from 1958, brick`: what was named last is no thing of the plan."""
        last = max((m for m in mentions if m.end <= item.start), key=lambda m: m.start, default=self.told)
        if last is not None and last.start >= self.begin:
            return last.sense.role in ("tool", "who")
        if any(m.start > item.start for m in mentions):
            return False
        return any(self.language.has("house words", t.text) for t in self.tokens[self.begin : item.start])

    def _unknown_name(self, place: int) -> bool:
        token = self.tokens[place]
        known = self.language.has("little", token.text) or any((token.text,) in g for g in self.language.words.values())
        phrase = token.text in self.lexicon.phrases and (token.text,) in self.lexicon.phrases[token.text]
        number = self.language.measures.number(self.tokens, place) is not None  # `its oak fourteen foot long`
        return token.sort == "word" and not (known or phrase or number) and token.text not in self.language.ordinary

    def _stands_alone(self, clause: Clause, item: Item) -> bool:
        """`the old vinyl has to come up`: a thing called by what it is made of, not a word about another thing."""
        told = item.get("term", "material") or item.get("term", "condition")
        behind = self.tokens[item.end].text if item.end < clause.stop else ""
        if (
            item.get("term", "material")
            and self.language.has("wholes", behind)
            and behind not in ("both", "inside", "outside")
        ):
            return True  # `with a marble top`
        if told and item.end < clause.stop and self._unknown_name(item.end):
            return True  # `a pine strip`
        if item.end < clause.stop and item.start == clause.start and not item.get("part"):
            return item.get("term") is not None and self.tokens[item.end].text in ("is", "are")
        if item.get("term", "material") is None or item.start == clause.start or item.end >= clause.stop:
            return False
        before, behind = self.tokens[item.start - 1].text, self.tokens[item.end].text
        named = before in ("the", "old", "existing", "that", "this", "new", "our", "my")
        return named and behind in ("is", "has", "was", "comes", "goes", "needs", "will", "gets", "that", "which")

    def _names(self, items: list[Item], item: Item) -> list[tuple[str, str]]:
        """The attributes named beside a value, with nothing but little words between."""
        found: list[tuple[str, str]] = []
        for other in items:
            if other is item or other.verb is not None or not other.get("attr"):
                continue
            first, second = (other, item) if other.start < item.start else (item, other)
            between = self.tokens[first.end : second.start]
            if len(between) <= 4 and all(
                self.language.has("little", t.text) or t.text in (":", "=", "-") for t in between
            ):
                found += [(s.of, s.name) for s in other.senses if s.role == "attr"]
        return found

    def _is_under(self, mention: Mention, clause: Clause) -> bool:
        """`under the carpet is concrete`: what is told is there, and not what the carpet is of."""
        behind = self.tokens[mention.end].text if mention.end < clause.stop else ""
        where = mention.prep in (
            "under",
            "beneath",
            "underneath",
            "behind",
            "below",
            "above",
            "over",
            "between",
            "inside",
        )
        return where and behind in ("is", "are", "was", "there", "theres", "we", "i")
