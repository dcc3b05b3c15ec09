"""What somebody wants or bought for the work: a step is to touch it; where none does, it is put in."""

from __future__ import annotations

from advisor.draft.board import Span, Thing
from advisor.draft.clauses import Clause
from advisor.draft.items import Item
from advisor.draft.mentions import Mention
from advisor.draft.rooms import Rooms


class Wanting(Rooms):
    """Hears wishes."""

    def wanted(self, clause: Clause, mentions: list[Mention], items: list[Item]) -> None:
        """`I want a bath fan`, `with new hoses`: things that a step is to touch."""
        words = self.tokens[clause.start : clause.stop]
        wants = any(self.language.has("wants", t.text) for t in words)
        alone = wants and not any(item.verb is not None for item in items)
        for mention in mentions:
            thing = self.of(mention)
            if thing is None or thing.sort != "part" or clause.denied or clause.unknown:
                continue
            new = mention.age == "new"
            if "owns" in clause.cues and not (alone or new):
                continue
            if (alone and not mention.prep) or new:
                thing.idle = thing.idle or self._span_of(mention)
                asked = (alone and (new or self._one_more(mention))) or (new and not self.only_accessories([thing.id]))
                thing.wanted = thing.wanted or (asked and not mention.prep)

    def _one_more(self, mention: Mention) -> bool:
        """`a shelf`, `three hooks`: not those that are there."""
        before = self.tokens[mention.start - 1].text if mention.start else ""
        counted = any(i.amount is not None and i.amount.sort == "number" for i in mention.before)
        return counted or self.language.has("one more", before)

    def _span_of(self, mention: Mention) -> Span:
        return self.tokens[mention.start].start, self.tokens[mention.end - 1].end

    def untouched(self) -> None:
        """What is wanted and in no step is put in; of the rest it is asked at the end (`asking.py`)."""
        touched = {own for step in self.board.steps for own in step.members("to")}
        if any(t.called for listed in self.board.things.values() for t in listed):
            return
        for thing in self.board.things["part"]:
            if thing.idle is None or thing.id in touched or thing.put_in or self._replaces(thing):
                continue
            if thing.wanted and not self._put_in_already(thing, touched):
                step = self.board.add("step", "install", "install", thing.idle, attribute="do")
                if step is not None:
                    step.facts["do"].note = "inferred"
                    self.board.put(step, "to", [thing.id], thing.idle, "inferred")
                if "new" not in thing.facts:
                    self.board.put(thing, "new", "yes", thing.idle, "inferred")
                continue

    def _replaces(self, thing: Thing) -> bool:
        """Whether one of its kind is replaced, which puts the new one in."""
        gone = {own for step in self.board.steps if step.kind == "replace" for own in step.members("to")}
        return thing.age == "new" and any(t.kind == thing.kind and t.id in gone for t in self.board.things["part"])

    def _put_in_already(self, thing: Thing, touched: set[str]) -> bool:
        """Whether a step puts in one of its kind, or one of which it is not known what it puts in."""
        puts = self.board.vocabulary.taxonomies["action"].below("install")
        if thing.kind in self.bodies:
            return True
        for step in self.board.steps:
            if step.kind in puts and (not step.members("to") or thing.id in step.others):
                return True
        return any(t.kind == thing.kind and t.id in touched for t in self.board.things["part"])
