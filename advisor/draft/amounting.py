"""What a verb amounts to with its thing: `run a duct`, `put the screws in`, `take the mugs out of it`."""

from __future__ import annotations

from advisor.draft.board import Thing
from advisor.draft.clauses import Clause
from advisor.draft.hearing import Hearing
from advisor.draft.items import Item
from advisor.draft.mentions import Mention

_SOON = 20  # words behind which `that` is something else


class Amounting(Hearing):
    """Judges verbs by what they are done to."""

    def _take_away(self, step: Thing, to: list[str]) -> None:
        """Coverings and old things that are taken off are gone: what follows is not done to them."""
        taxonomy = self.board.vocabulary.taxonomies["action"]
        out = step.kind in taxonomy.below("remove") and step.kind not in taxonomy.below("install")
        for thing in (t for own in to if (t := self.board.named(own)) is not None):
            thing.removed = out or (thing.removed and step.kind not in taxonomy.below("install"))
        if step.kind in taxonomy.below("remove") - taxonomy.below("install") or step.kind in taxonomy.below("demolish"):
            for thing in (t for own in to if (t := self.board.named(own)) is not None):
                thing.gone = thing.gone or thing.age == "old" or thing.kind in self.things.coverings

    def _with_its_thing(self, item: Item, to: list[str], held: list[Mention]) -> bool:
        """`run a duct` is to install it, `run a cable` is work of its own; `run a bath` is none."""
        if self._puts_on(item, to, held) or self._carries_off(item, to):
            return True
        known = self.language.by_thing.get(self.tokens[item.start].text)
        particle = [self.tokens[p].text for p in (*range(item.start + 1, item.end), *item.also)]
        if known is None or item.verb is None or (particle and particle not in (["down"], ["out"], ["up"], ["in"])):
            return True
        things = [t for own in to if (t := self.board.named(own)) is not None]
        things += [t for m in held if not m.prep and (t := self.things.of(m)) is not None and t.sort == "product"]
        for kind, action in known.items():
            if any(t.kind in self.things.below(t.sort, kind) for t in things):
                item.verb = item.verb._replace(name=action)
                return True
        if particle:
            return True
        return not self.language.has("needs its thing", self.tokens[item.start].text)  # `run the water`: no work

    def _says_nothing_alone(self, item: Item, held: list[Mention]) -> bool:
        """`he drills, I hold`: no work of its own where nothing is named."""
        word = self.tokens[item.start].text
        named = any(m.start >= item.end and m.sense.role == "product" and not m.prep for m in held)
        alone = item.end - item.start == 1 and not item.also and not named
        return alone and self.language.has("bare of work", word[:-1] if word.endswith("s") else word)

    def _not_mine(self, clause: Clause, item: Item, mentions: list[Mention], stop: int) -> None:
        """`i aint hooking it up`: somebody else may do it."""
        to, _ = self.things.objects(clause, item, mentions, item.start, stop, passive=False)
        self.left = (item.verb.name, to, item.start) if item.verb is not None else self.left

    def _left_to_others(self, item: Item, mentions: list[Mention]) -> list[str] | None:
        """`… a licensed man does that`: what the one before was not to do, and to what."""
        word = self.tokens[item.start].text
        behind = self.tokens[item.end].text if item.end < len(self.tokens) else ""
        does = self.language.has("bare of work", word) or word == "does"
        if not does or self.left is None or item.start - self.left[2] > _SOON or item.verb is None:
            return None
        if not self.language.has("pronouns", behind) or not any(
            m.sense.role == "who" and m.sense.name != "owner" and 0 <= item.start - m.end < 3 for m in mentions
        ):
            return None
        item.verb = item.verb._replace(name=self.left[0])
        self.board.heard.append((self.span(item.start, item.end + 1), "words: what was told before"))
        return self.left[1]

    def _handles(self, item: Item, held: list[Mention]) -> bool:
        """`my son drills and i hold the vacuum`, `he runs the saw`: a tool that is used for the step beside it."""
        word = self.tokens[item.start].text
        first = next((m for m in held if m.start >= item.end and not m.prep), None)
        behind = self.tokens[first.end].text if first is not None and first.end < len(self.tokens) else ""
        if first is None or behind == "of" or first.sense.role != "tool" or not self.language.has("handles", word):
            return False
        step = self.frames.last
        if step is not None and step in self.frames.sentence:
            self.board.put(step, "with", [first.sense.name], self.span(first.start, first.end))
        else:
            self.board.put(self.board.single("crew"), "owns", [first.sense.name], self.span(first.start, first.end))
        self.board.heard.append((self.span(item.start, item.end), "words: handles a tool"))
        return True

    def _carries_off(self, item: Item, to: list[str]) -> bool:
        """`my nephews carry the radiator out`: what nothing has taken off so far is taken out."""
        if item.verb is None or item.verb.name != "carry" or not to:
            return False
        words = [self.tokens[p].text for p in (*range(item.start, item.end), *item.also)]
        things = [t for own in to if (t := self.board.named(own)) is not None]
        fixed = all(t.sort == "part" and t.age != "new" and not t.removed for t in things)
        if not fixed or not any(self.language.has("outward", word) for word in words):
            return False
        item.verb = item.verb._replace(name="remove")
        return True

    def _takes_out(self, item: Item, stop: int, held: list[Mention]) -> bool:
        """`the caulk is moldy, cut it out`: what is taken out is the caulk, and not what it is around."""
        last = self.board.focus[0] if self.board.focus else None
        reach = [t.text for t in self.tokens[item.start : stop][:4]]
        first = next((m for m in held if m.start >= item.end and not m.prep), None)
        if first is not None and first.sense.role == "product" and (own := self.things.of(first)) is not None:
            last, reach = own, ["it"]  # `pull off the old caulk`
        if item.verb is None or last is None or last.sort != "product" or "it" not in reach:
            return False
        taxonomy = self.board.vocabulary.taxonomies
        taken = any(item.verb.name in taxonomy["action"].below(one) for one in ("cut", "remove", "cut out", "scrape"))
        kinds = (last.kind, *taxonomy["product_kind"].above(last.kind))
        action = next((self.language.taken_out[k] for k in kinds if k in self.language.taken_out), "")
        if taken and action:
            item.verb = item.verb._replace(name=action)
        return taken and bool(action)

    def _puts_on(self, item: Item, to: list[str], held: list[Mention]) -> bool:
        """`put the screws in`, `put some caulk around it`: what is put in tells what is done."""
        if item.verb is None or item.verb.name not in ("install", "add"):
            return False
        first = next((m for m in held if m.start >= item.end and not m.prep), None)
        thing = self.things.of(first) if first is not None and first.sense.role == "product" else None
        if thing is None:
            return False
        action = self.lexicon.done_with(thing.kind)
        if action and self.board.vocabulary.taxonomies["action"].terms.get(action) is not None:
            item.verb = item.verb._replace(name=action)
        return bool(action)

    def _empties(self, item: Item, held: list[Mention]) -> bool:
        """`take the mugs out of the cupboard`: what is taken out is no part of the house."""
        if item.verb is None or item.verb.name not in ("remove", "move") or not item.also:
            return False
        first, last = item.also[0], item.also[-1]
        kept = [p for p in range(item.end, first) if self.language.has("contents", self.tokens[p].text)]
        if kept:
            self.board.heard += [(self.span(p, p + 1), "words: kept in it") for p in kept]
            item.verb = item.verb._replace(name="empty")
            return True
        behind = [t.text for t in self.tokens[last : last + 2]]
        inside = any(item.end <= m.start < last for m in held)
        if behind != ["out", "of"] or inside or not any(m.sense.role == "part" and m.start > last for m in held):
            return False
        item.verb = item.verb._replace(name="empty")
        return True

    def _emptied(self, item: Item, held: list[Mention]) -> list[str]:
        """What is emptied: what the words name behind `out of`, else the last thing told that holds things."""
        named = [t.id for m in held if m.start >= item.end and m.sense.role == "part" and (t := self.things.of(m))]
        holds = {k for one in self.language.containers for k in self.things.below("part", one)}
        known = [t.id for t in self.board.focus if t.sort == "part" and t.kind in holds]
        return named[:1] or known[:1]

    def _covers(self, item: Item, stop: int) -> str:
        """The tool of `put a sheet over the sofa`, `lay a tarp on the floor`: what it lies on is kept clean."""
        place = item.end
        while place < stop and any(self.language.has(g, self.tokens[place].text) for g in ("articles", "adjectives")):
            place += 1
        found = self.lexicon.at(self.tokens, place, stop) if place < stop else None
        tool = (
            next((s.name for s in found[1] if s.role == "tool" and s.name in self.language.covers), "") if found else ""
        )
        over = found is not None and found[0] < stop and self.language.has("over it", self.tokens[found[0]].text)
        if not (tool and over) or item.verb is None or item.verb.name not in ("install", "hang", "add", "mount"):
            return ""
        item.verb = item.verb._replace(name="protect")
        self.laid |= set(range(place, found[0] if found else place))
        self.board.heard.append((self.span(place, found[0] if found else place + 1), "words: laid over it"))
        return tool
