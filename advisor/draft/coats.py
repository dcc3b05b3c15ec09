"""Coats and what they are of: `two coats of primer` is a step though no verb tells it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from advisor.draft.board import Candidate, Span, Thing, Unsure
from advisor.draft.clauses import Clause
from advisor.draft.items import Item, Match
from advisor.draft.mentions import Mention

if TYPE_CHECKING:
    from advisor.draft.hearing import Hearing


_MANY = 5  # nobody puts on so many


class Coats:
    """The coats of one clause."""

    def __init__(
        self, hearer: Hearing, clause: Clause, mentions: list[Mention], steps: list[tuple[Item, Thing]]
    ) -> None:
        self.hearer, self.clause, self.mentions, self.steps = hearer, clause, mentions, steps
        self.board, self.language = hearer.board, hearer.language
        actions = self.board.vocabulary.taxonomies["action"]
        self.coating, self.filling = actions.below("coat"), actions.below("fill")
        self.made: list[Thing] = []

    def take(self, group: list[Match]) -> bool:
        """Whether a saying told coats, which are then a step's: of the verb before it, or of one that they make."""
        match = next((m for m in group if (m.saying.sort, m.saying.attribute) == ("step", "coats")), None)
        if (
            match is None
            or match.value is None
            or match.value.amount is None
            or match.value.amount.sort not in ("number", "range")
        ):
            return False
        span = self.hearer.span(match.start, match.end)
        if self._there_already(match):
            return True
        named = self._product(match.end)
        unnamed = "" if named is not None else self._unnamed(match)
        product = named if named is not None or unnamed else self._just_told(match.end)
        action = self.action(product) or unnamed
        step = self._step(match.start, action, product)
        if step is None and action:
            step = self._put_on(match.start, action) or self._make(action, span, self._on(match.end))
        if step is None:
            return self._in_a_row(match, span)
        if product is not None and (used := step.facts.get("using")) is not None and product.id not in used.value:
            step = self._make(action or step.kind, span) or step
        if match.value.amount.sort == "range":
            ways = tuple(Candidate("step", step.id, "coats", part.text) for part in match.value.amount.parts)
            self.board.unsure.append(Unsure(span, ways, "how many?"))
        else:
            self.board.put(step, "coats", match.value.amount.text, span, "hedged" if self.clause.hedged else "")
        if product is not None:
            for _, other in self.steps:
                used = other.facts.get("using")
                if other is not step and used is not None and isinstance(used.value, list) and len(used.value) > 1:
                    used.value = [own for own in used.value if own != product.id]
            self.board.put(step, "using", [product.id], span)
        self.board.talk_of(step)
        return True

    def _there_already(self, match: Match) -> bool:
        """`ten coats of paint on the frame`, `theres two coats on it`: layers of what is there, and no work."""
        assert match.value is not None
        assert match.value.amount is not None
        tokens, amount = self.hearer.tokens, match.value.amount
        words = [t.text for t in tokens[max(self.clause.start, match.start - 3) : match.start]]
        behind = [t.text for t in tokens[match.end : match.end + 4]]
        there = any(self.language.has("already there", w) for w in words) and "on" in behind and not self.steps
        if amount.sort != "number" or not (amount.number >= _MANY or there):
            return False
        after = [m for m in self.mentions if m.start >= match.end and m.prep == "on" and m.sense.role == "part"]
        part = self.hearer.things.of(after[0]) if after else None
        part = part or next((t for t in self.board.focus if t.sort == "part"), None)
        if part is None or self.hearer.things.table.score("part", part.kind, "layers") < 0:
            return False
        span = self.hearer.span(match.start, match.end)
        self.board.put(part, "layers", amount.text, span, "hedged" if self.clause.hedged else "")
        self.board.put(part, "coating", "paint", span, "inferred")
        return True

    def _product(self, end: int) -> Thing | None:
        mention = next((m for m in self.mentions if m.sense.role == "product" and 0 <= m.start - end <= 2), None)
        return self.hearer.things.of(mention) if mention is not None else None

    def _just_told(self, end: int) -> Thing | None:
        near = next((t for t in self.board.focus if t.sort == "product"), None)  # `mineral oil, 3 coats`
        return near if near is not None and not self.steps and 0 <= end - near.place <= 8 else None

    def action(self, product: Thing | None) -> str:
        """What is done with a product."""
        return "" if product is None else self.hearer.lexicon.done_with(product.kind)

    def _step(self, start: int, action: str, product: Thing | None) -> Thing | None:
        """The step that the coats belong to: the verb before them, or one told before that still has none."""
        earlier = [
            step
            for item, step in self.steps
            if item.start < start and step.kind in self.coating and "coats" not in step.facts
        ]
        if earlier and (not action or self._alike(earlier[-1].kind, action)):
            return earlier[-1]
        for step in reversed(self.board.steps):
            if (
                step.kind in self.coating
                and "coats" not in step.facts
                and (not action or self._alike(step.kind, action))
                and not (step.goal and action and step.kind != action)
            ):
                used = step.facts.get("using")
                if product is None or used is None or product.id in used.value:
                    if step.goal:
                        self.board.steps.remove(step)
                        self.board.steps.append(step)
                        step.goal = False
                    return step
        return None

    def _unnamed(self, match: Match) -> str:
        """`prime, 2 coats white`, `fill the holes, 2 coats semi gloss`: coats of a color or a gloss are paint."""
        last = self.board.steps[-1] if self.board.steps else None
        primed = last is not None and last.kind == "prime"
        goes_on = primed or (last is not None and last in self.hearer.frames.sentence)
        if not goes_on or any(item.start < match.start for item, _ in self.steps):
            return ""
        if primed and self.clause.lead == "then" and not self.mentions:
            return "paint"  # `use a primer, then two coats`
        tokens, lexicon = self.hearer.tokens, self.hearer.lexicon
        for place in range(match.end, min(len(tokens), match.end + 3)):  # `of exterior acrylic`
            phrase = lexicon.at(tokens, place, min(len(tokens), place + 2))
            told = phrase is not None and any(s.of in ("sheen", "binder") for s in phrase[1])
            if told or self.language.has("colors", tokens[place].text):
                return "paint"
        return ""

    def _in_a_row(self, match: Match, span: Span) -> bool:
        """`spackle 2 coats`, `sand it, two coats`: in a row of work no layers that were there before."""
        words = [t.text for t in self.hearer.tokens[self.clause.start : self.clause.stop]]
        filled = [step for item, step in self.steps if item.start < match.start and step.kind in self.filling]
        if filled and match.value is not None and match.value.amount is not None:
            return self.board.put(filled[-1], "coats", match.value.amount.text, span)
        there = any(self.language.has(group, w) for group in ("already there", "old ones") for w in words)
        if there or not self.hearer.frames.sentence:
            return False
        self.board.unsure.append(Unsure(span, (), "coats of what?"))
        return True

    def _alike(self, one: str, other: str) -> bool:
        taxonomy = self.board.vocabulary.taxonomies["action"]
        return one == other or one in taxonomy.above(other) or other in taxonomy.above(one)

    def _put_on(self, start: int, action: str) -> Thing | None:
        """`put down three coats of varnish`: the verb that only puts something on is the coating itself."""
        for item, step in reversed(self.steps):
            if item.start < start and step.kind in ("install", "fasten", "add", "use", "lay floor") and step.bare:
                step.facts["do"].value = action
                to, step.others = self.hearer.things.inherited(action)
                if to:
                    self.board.put(step, "to", to, step.facts["do"].spans[0], "inferred", over=True)
                return step
        return None

    def _on(self, start: int) -> list[str]:
        """What the coats are put on, where the words say it: `two coats of paint on the doors`."""
        put_on = [
            thing.id
            for m in self.mentions
            if m.sense.role == "part"
            and m.prep in ("", "on", "onto", "over", "for", "to", "at", "around", "along")
            and m.start >= start
            if (thing := self.hearer.things.of(m)) is not None
        ]
        if put_on:
            self.board.last_to = put_on[:1]
        return put_on[:1]

    def of_product(self, product: Thing, span: Span, start: int) -> Thing | None:
        """`before that a primer`: a product alone, where order words tell that it is a step."""
        action = self.action(product)
        step = self._make(action, span, self._on(start)) if action else None
        if step is not None:
            self.board.put(step, "using", [product.id], span)
        return step

    def _make(self, action: str, span: Span, on: list[str] | None = None) -> Thing | None:
        step = self.board.add("step", action, action, span, attribute="do")
        if step is not None:
            frames = self.hearer.frames
            frames.order(self.clause, step)
            to = on
            if not to:
                to, step.others = self.hearer.things.inherited(action)
            if to:
                self.board.put(step, "to", to, span, "" if on else "inferred")
            self.made.append(step)
            self.hearer.row_end = self.clause.stop
        return step

    # --- what is said of a product that has no name: `paint it white`, `flat latex` ------------------------

    def implied(self, step: Thing | None, span: Span) -> Thing | None:
        """The product that a step puts on, made where none was named."""
        if step is None or step.kind not in self.language.product_of:
            return None
        used = step.facts.get("using")
        if used is not None:
            return self.board.named(str(used.value[0]))
        kind = self.language.product_of[step.kind]
        product = self.board.find("product", kind, kind, "") or self.board.add("product", kind, kind, span)
        if product is not None:
            product.facts["kind"].note = product.facts["kind"].note or "inferred"
            self.board.put(step, "using", [product.id], span, "inferred")
            self.board.talk_of(product)
        return product

    def says(self, item: Item) -> bool:
        """Whether a word for gloss or for what dries was taken for the product of a step that puts a coat on."""
        if self._shade_of_stain(item):
            return True
        sense = item.get("term", "sheen") or item.get("term", "binder")
        if (
            sense is None
            or item.get("product")
            or any(m.sense.role == "product" for m in self.mentions)
            or self.clause.unknown
            or self.clause.denied
        ):
            return False
        behind = [step for i, step in self.steps if i.start < item.start] or self.made
        last = behind[-1] if behind else self.board.steps[-1] if self.board.steps and not self.mentions else None
        span = self.hearer.span(item.start, item.end)
        product = self.implied(last, span) if last is not None and last.kind in self.coating else None
        if product is None:
            return False
        done = False
        for name in ("sheen", "binder"):
            term = item.get("term", name)
            if term is not None and name not in product.facts:
                done = self.board.put(product, name, term.name, span) or done
        return done

    def _shade_of_stain(self, item: Item) -> bool:
        """`stain the treads dark walnut`: the color of the stain, not what the treads are of."""
        behind = [step for i, step in self.steps if i.start < item.start]
        material = item.get("term", "material")
        if material is None or not behind or behind[-1].kind != "stain" or self.clause.unknown or self.clause.denied:
            return False
        tokens = self.hearer.tokens
        before = tokens[item.start - 1].text
        if before in ("of", "on", "to", "is", "are"):
            return False
        start = item.start - (before in ("dark", "light", "golden", "medium", "special", "red", "honey"))
        span = self.hearer.span(start, item.end)
        product = self.implied(behind[-1], span)
        if product is None or "color" in product.facts:
            return False
        return self.board.put(product, "color", " ".join(t.text for t in tokens[start : item.end]), span)

    def colors(self, items: list[Item]) -> None:
        """A color behind a verb that puts a coat on is the coat's."""
        tokens = self.hearer.tokens
        for item, step in self.steps:
            if step.kind not in ("paint", "stain", "coat"):
                continue
            for place in range(item.end, min(self.clause.stop, item.end + 6)):
                inside = any(m.start <= place < m.end for m in self.mentions)
                end = self.language.color_end(tokens, place)
                if not inside and end:
                    span = self.hearer.span(place, end)
                    product = self.implied(step, span)
                    if product is not None:
                        self.board.put(product, "color", " ".join(t.text for t in tokens[place:end]), span)
                    break
