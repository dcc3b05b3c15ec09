"""Steps that no verb tells: what goes on with the one before, what is only named in a row, a purpose by a noun."""

from __future__ import annotations

from advisor.draft.board import MOST_CANDIDATES, Candidate, Thing, Unsure
from advisor.draft.clauses import Clause
from advisor.draft.coats import Coats
from advisor.draft.hearing import Hearing
from advisor.draft.items import Item
from advisor.draft.mentions import Mention
from advisor.draft.tokens import folded

_PUT_ON = frozenset({"on", "onto", "over", "around", "along", "in", "into", "under", "between", "at"})
_SHORT = 4  # words of `with a foam pad`


class Rows(Hearing):
    """Hears steps without verbs."""

    def offer_things(self) -> None:
        """A step whose thing is not told, or only follows: the things that it may be done to are offered."""
        for step in self.board.steps:
            if "in" in step.facts and "to" not in step.facts:
                continue
            fed = step.kind in self.language.feeds and "to" not in step.facts
            takes = self._takes_a_thing(step.kind) or step.others or fed
            usual = [] if takes or "to" in step.facts else self._usual_things(step)
            if step.called or not (takes or usual):
                continue
            told = step.members("to")
            listed = [own for own in step.others if own not in told and self.board.named(own) is not None]
            listed = listed or usual
            if not told and not listed:
                parts = sorted(
                    self.board.things["part"],
                    key=lambda t: (-self.things.likely.score(step.kind, t.kind), t.place > step.place, -t.place),
                )
                listed = [p.id for p in parts if self.things.likely.score(step.kind, p.kind) >= 0]
            if not told and self._takes_a_thing(step.kind):
                self.board.unchecked.append(step.id)
            if not told:  # what nobody named is no second choice beside what was
                most = MOST_CANDIDATES - 1
                listed = [*listed[:most], *self._not_told(step), *listed[most:]]
            ways = tuple(Candidate("step", step.id, "to", own) for own in listed[:MOST_CANDIDATES])
            if ways:
                self.board.unsure.append(Unsure(step.facts["do"].spans[0], ways, "or to?" if told else "done to what?"))

    def _not_told(self, step: Thing) -> list[str]:
        """The kind of part that such a step is usually done to, where the text names none of that kind."""
        there = {t.kind for t in self.board.things["part"]}
        kinds = self.language.usual_thing.get(step.kind, [])
        return [k for k in kinds if not there & self.things.below("part", k)]

    def _usual_things(self, step: Thing) -> list[str]:
        """The parts that such a step is usually done to, where it may also be done to none: `unplug`, `insulate`."""
        parts = [p for p in self.board.things["part"] if self.things.likely.score(step.kind, p.kind) > 0]
        return [p.id for p in sorted(parts, key=lambda t: (t.place > step.place, -t.place))]

    def _inherits(self, item: Item) -> bool:
        """Whether what is done to nothing named is done to what was worked on before."""
        return item.verb is not None and self._takes_a_thing(item.verb.name)

    def _takes_a_thing(self, name: str) -> bool:
        words = self.language.words
        if not name or folded(name) in words["inherits no"]:
            return False
        taxonomy = self.board.vocabulary.taxonomies["action"]
        return any(folded(one) in words["inherits"] for one in (name, *taxonomy.above(name)))

    def _goes_on(self, clause: Clause, items: list[Item], mentions: list[Mention]) -> bool:
        """`disconnect the hose, the supply line and the wires`: things alone behind a verb's things go on with them."""
        last, parts = self.frames.last, [m for m in mentions if m.sense.role == "part" and not m.prep]
        if (
            any(m.age == "new" for m in parts)
            and last is not None
            and last.kind not in ("install", "add", "hang", "mount")
        ):
            return False  # `scrape the wax, new wax ring`
        if last is None or last not in self.frames.sentence or last.bare or len(parts) != len(mentions) or not parts:
            return False
        inside = {p for m in mentions for p in range(m.start, m.end)}
        others = [p for p in range(clause.start, clause.stop) if p not in inside]
        joined = (
            clause.lead in (",", "and")
            and clause.start - self.row_end <= 1
            and not clause.denied
            and not clause.unknown
        )
        if not joined or any(self.tokens[p].text not in ("and", "the", "a", "my", "our", "or") for p in others):
            return False
        found = [thing for m in parts if (thing := self.things.of(m)) is not None]
        for mention, thing in zip(parts, found, strict=False):
            self.board.put(last, "to", [thing.id], self.span(mention.start, mention.end))
            self.things.modify(mention, thing, self.attacher, clause, self.span)
        self.row_end = clause.stop
        return True

    def _without_verb(self, clause: Clause, items: list[Item], mentions: list[Mention], coats: set[int]) -> bool:
        """A step that no verb tells: `before that a primer`; `the carpet comes up, then the tack strips`.

        `coats` are the places of the words that tell how many coats.
        """
        ordered = clause.lead == "then" or bool({"before it", "after it"} & set(clause.cues))
        row = clause.lead in (",", "and", ":") and clause.start - self.row_end <= 2 and bool(self.frames.sentence)
        words = [t.text for t in self.tokens[clause.start : clause.stop]]
        late = {m.sense.role for m in mentions} & {"product"} and any(
            self.language.has("order alone", w) for w in words
        )
        gets = self._gets(clause, mentions)
        ordered = ordered or row or self.listing or bool(late) or gets is not None
        plain = not (clause.denied or clause.unknown or clause.over)
        ahead = [t.text for t in self.tokens[clause.stop : clause.stop + 2]]
        ordered = ordered or (ahead[:1] == ["then"] and not self.frames.sentence)  # `primer, then paint on the walls`
        put_on = [m for m in mentions if m.sense.role == "part" and (m.prep in _PUT_ON or m is gets)]
        tools = [m for m in mentions if m.prep in ("with", "using") and m.sense.role == "tool"]
        beside = [*put_on, *tools]
        plain = plain and ("owns" not in clause.cues or gets is not None)
        if not ordered or not plain or not mentions or any(m.prep and m not in beside for m in mentions):
            return False
        mentions = [m for m in mentions if m not in beside]
        roles = {m.sense.role for m in mentions}
        if tools and roles != {"product"}:
            return False
        inside = {p for m in (*mentions, *beside) for p in range(m.start - bool(m.prep), m.end)}
        cued = {p for places in clause.cues.values() for place in places for p in range(*place)}
        inside |= {p for i in items if i.amount is not None for p in range(i.start, i.end)}
        if roles == {"product"}:
            inside |= self._tells_of_product(clause, items, mentions) | self._with_something(clause, mentions) | coats
        others = [p for p in range(clause.start, clause.stop) if p not in inside | cued]
        if any(not self._says_little(p) for p in others):
            return False
        if any(self.tokens[p].text in ("is", "are", "has", "have", "was", "were", "its") for p in others):
            return False
        found = [(m, thing) for m in mentions if (thing := self.things.of(m)) is not None]
        last = self.frames.last
        if roles == {"product"}:
            laid = Coats(self, clause, [*mentions, *put_on], [])
            if len(found) > 1 and any(laid.action(product) not in laid.coating for _, product in found):
                return False  # `construction glue and brads`: one step or two
            for mention, product in found:
                on = clause.start if gets is not None else mention.start
                step = laid.of_product(product, self.span(mention.start, mention.end), on)
                if step is not None:
                    self.in_row.append((mention.item, step))
            for tool in tools if self.in_row else []:
                self.board.put(self.in_row[-1][1], "with", [tool.sense.name], self.span(tool.start, tool.end))
            return bool(self.in_row)
        new = all(m.age == "new" for m, _ in found) and "after it" in clause.cues  # `after that new backer board`
        goes_on = self.listing or new or (last is not None and last in self.frames.sentence and not last.goal)
        if roles != {"part"} or not found or not goes_on:
            return False
        kind = self._goes_on_with(last if last in self.frames.sentence else None, found)
        if not kind or (row and not (self.listing or any(m.age == "new" for m in mentions))):
            return False
        step = self.board.add("step", kind, kind, self.span(clause.start, clause.stop), attribute="do")
        if step is None:
            return False
        self.frames.order(clause, step)
        for mention, thing in found:
            self.board.put(step, "to", [thing.id], self.span(mention.start, mention.end))
            self.things.modify(mention, thing, self.attacher, clause, self.span)
        self.board.last_to = [thing.id for _, thing in found]
        self.row_end = clause.stop
        return True

    def _tells_of_product(self, clause: Clause, items: list[Item], products: list[Mention]) -> set[int]:
        """The words of a clause that tell what a product is like: `ceiling paint flat`, `semi transparent stain`."""
        attributes = self.board.vocabulary.attributes["product"]
        found = {
            p
            for item in items
            if any(s.role == "term" and s.of in attributes for s in item.senses)
            for p in range(item.start, item.end)
        }
        for place in range(clause.start, clause.stop):
            found |= set(range(place, self.language.color_end(self.tokens, place) or place))
        for product in products:
            at = product.start - 1
            while at >= clause.start and (at in found or self._unheard_of(at)):
                found.add(at)
                at -= 1
        return found

    def _with_something(self, clause: Clause, mentions: list[Mention]) -> set[int]:
        """`stain with a pad`: what it is put on with, by a name that is not understood."""
        last = max(m.end for m in mentions)
        for place in range(last, clause.stop - 1):
            if self.tokens[place].text in ("with", "using") and clause.stop - place <= _SHORT:
                return set(range(place, clause.stop))
        return set()

    def _gets(self, clause: Clause, mentions: list[Mention]) -> Mention | None:
        """`the treads get two coats of poly`: what a product is put on."""
        first = mentions[0] if mentions else None
        if first is None or first.sense.role != "part" or first.prep or first.end >= clause.stop:
            return None
        gets = self.language.has("gets a coat", self.tokens[first.end].text)
        return first if gets and any(m.sense.role == "product" for m in mentions[1:]) else None

    def _unheard_of(self, place: int) -> bool:
        """Whether a word is none that is known."""
        token = self.tokens[place]
        known = any((token.text,) in group for group in self.language.words.values())
        phrase = self.lexicon.at(self.tokens, place, len(self.tokens))
        return token.sort == "word" and not known and phrase is None and token.text not in self.lexicon.sayings

    def _says_little(self, place: int) -> bool:
        """Whether a word beside the name of a thing tells of no work and of no other thing: `planks`, `last`."""
        words = ("little", "adverbs", "adjectives", "at the very end", "order alone")
        return any(self.language.has(group, self.tokens[place].text) for group in words)

    def _goes_on_with(self, last: Thing | None, found: list[tuple[Mention, Thing]]) -> str:
        """What is done to things that are only named in a row of steps: the same as before; what is new goes in."""
        taxonomy = self.board.vocabulary.taxonomies["action"]
        takes_out = last is not None and last.kind in taxonomy.below("remove") - taxonomy.below("install")
        if any(m.age == "new" or t.age == "new" for m, t in found):
            return "install"
        if last is None:
            return "install" if all(self.things.likely.score("lay floor", t.kind) > 0 for _, t in found) else ""
        return last.kind if takes_out or last.kind in taxonomy.below("install") else "install"

    def _purpose_noun(self, clause: Clause, mentions: list[Mention]) -> bool:
        """`toilet swap`, `bath fan replacement`: a purpose told by a noun behind the name of a thing."""
        if self.board.steps or clause.denied or clause.unknown:
            return False
        for mention in mentions:
            word = self.tokens[mention.end].text if mention.end < clause.stop else ""
            thing, action = self.things.of(mention), self.language.noun_of_doing.get(word)
            if thing is None or thing.sort != "part" or action is None or mention.prep:
                continue
            step = self.board.add("step", action, action, self.span(mention.end, mention.end + 1), attribute="do")
            if step is not None:
                self.board.put(step, "to", [thing.id], self.span(mention.start, mention.end))
                step.goal, step.place = True, mention.start
                self.board.purpose, self.board.last_to = [thing.id], [thing.id]
                self.frames.order(clause, step)
            return step is not None
        return False

    def _is_there(self, clause: Clause, mentions: list[Mention], items: list[Item]) -> None:
        """`where a light hangs now`: what is there today, and makes room for what is put in."""
        taxonomy, last = self.board.vocabulary.taxonomies["action"], self.frames.last
        for mention in mentions:
            mention.age = mention.age or "old"
        self.things.resolve(clause, mentions, items, self.span, unknown=False)
        self.board.heard.append((self.span(clause.start, clause.stop), "words: what is there today"))
        puts = last is not None and last in self.frames.sentence and last.kind in taxonomy.below("install")
        for mention in mentions if puts else []:
            thing = self.things.of(mention)
            if thing is not None and thing.sort == "part" and thing.kind not in self.things.bodies:
                self.board.put(thing, "stays", "no", self.span(mention.start, mention.end), "inferred")
                thing.idle = self.span(mention.start, mention.end)
