"""Colors, and the coats that are there: of what is spoken of, or of what is put on."""

from __future__ import annotations

from advisor.draft.board import Thing
from advisor.draft.clauses import Clause
from advisor.draft.hearing import Hearing
from advisor.draft.items import Item
from advisor.draft.mentions import Mention


class Coloring(Hearing):
    """Hears of colors and of old paint."""

    def _old_coats(self, items: list[Item], mentions: list[Mention]) -> None:
        """`the old paint`, whatever is said of it: what is spoken of is painted."""
        for item in items:
            coat = item.get("term", "coating")
            before = self.tokens[item.start - 1].text if item.start else ""
            if coat is None or not item.get("product") or not self.language.has("old ones", before):
                continue
            told = [t for m in mentions if m.sense.role == "part" and (t := self.things.of(m)) is not None]
            carry = [t for t in [*told, *self.board.focus] if t.sort == "part" and self._may_be_coated(t)]
            if carry and "coating" not in carry[0].facts:
                self.board.put(carry[0], "coating", coat.name, self.span(item.start, item.end), "inferred")

    def _may_be_coated(self, thing: Thing) -> bool:
        return self.attacher.table.score("part", thing.kind, "coating") > 0

    def _colors(self, clause: Clause, mentions: list[Mention], coated: list[int]) -> None:
        """`the walls are white`, `enamel, the color is navy`: of what stands before it, or of what is put on."""
        inside = {p for m in mentions for p in range(m.start, m.end)}
        place = clause.start
        while place < clause.stop:
            end = self.language.color_end(self.tokens, place)
            if place in inside or not end:
                place += 1
                continue
            put_on = any(at < place for at in coated)  # `paint the risers white`: they become so
            thing = self._colored(clause, mentions, place) if not put_on else None
            said, span = " ".join(t.text for t in self.tokens[place:end]), self.span(place, end)
            if thing is not None and "color" not in thing.facts:
                self.board.put(thing, "color", said, span)
            elif not put_on and thing is None and self._wants_before(clause, place):
                self.wanted_color = (said, span)
            place = end

    def _wants_before(self, clause: Clause, place: int) -> bool:
        return any(self.language.has("wants", t.text) for t in self.tokens[clause.start : place])

    def _colored(self, clause: Clause, mentions: list[Mention], place: int) -> Thing | None:
        before = [m for m in mentions if m.end <= place and m.sense.role in ("part", "product")]
        ahead = [t.text for t in self.tokens[clause.start : place] if not self.language.has("articles", t.text)]
        if not before and ahead[-1:] and ahead[-1] in ("currently", "now", "painted"):
            return next((t for t in self.board.focus if t.sort == "part"), None)
        words = [t.text for t in self.tokens[before[-1].end if before else clause.start : place]]
        told = len(words) < 7 and bool(words) and words[0] in ("is", "are", "was", "were", "currently")
        if before and told and any(word in ("currently", "now", "painted") for word in words):
            return self.things.of(before[-1])  # `the walls are drywall and currently a dark purple`
        if (
            before
            and len(words) <= 3
            and (not words or words[-1] in ("is", "are", "painted", "in", "was", ",", "all", "currently"))
        ):
            return self.things.of(before[-1])
        if {"color", "colour"} & {t.text for t in self.tokens[clause.start : clause.stop]}:
            return max(self.board.things["product"], key=lambda t: t.place, default=None)
        if not before and ahead and len(ahead) <= 2 and self.language.has("points", ahead[0]):  # `theyre white ones`
            return next((t for t in self.board.focus if t.sort == "part"), None)
        last = self.told if self.told is not None and self.told.start >= self.begin else None
        return (
            self.things.last_of(last) if last is not None and not before and clause.lead == "," and not words else None
        )

    def color_wanted(self) -> None:
        """`she wants a pale yellow`: the color of the paint that is put on, where none is told of it."""
        if self.wanted_color is None:
            return
        for step in self.board.steps:
            used = step.facts.get("using") if step.kind == "paint" else None
            if "done" in step.facts or step.kind != "paint":
                continue
            product = self.board.named(str(used.value[0])) if used is not None else None
            if product is None:
                product = self.board.add("product", "paint", "paint", self.wanted_color[1])
                if product is None:
                    return
                product.facts["kind"].note = "inferred"
                self.board.put(step, "using", [product.id], self.wanted_color[1], "inferred")
            if "color" not in product.facts:
                self.board.put(product, "color", self.wanted_color[0], self.wanted_color[1])
            return
