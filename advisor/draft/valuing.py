"""The values of a clause: each put to the thing and the attribute that it belongs to."""

from __future__ import annotations

from advisor.draft.board import Span, Thing, Unsure
from advisor.draft.clauses import Clause
from advisor.draft.coats import Coats
from advisor.draft.coloring import Coloring
from advisor.draft.context import Context
from advisor.draft.items import Item, Match
from advisor.draft.mentions import Mention
from advisor.draft.weighing import Weighing


class Valuing(Coloring, Weighing):
    """Hears values."""

    def _values(
        self, clause: Clause, items: list[Item], chosen: list[list[Match]], covered: set[int],
        mentions: list[Mention], steps: list[tuple[Item, Thing]],
    ) -> None:  # fmt: skip
        taken = {p for m in mentions for p in range(m.item.start, m.item.end)}
        for mention in mentions:
            thing = self.things.of(mention)
            if thing is None:
                for item in mention.before:
                    taken.update(range(item.start, item.end))
                    self.board.heard.append((self.span(item.start, item.end), "words: part of a name"))
            if thing is not None:
                self.things.modify(mention, thing, self.attacher, clause, self.span)
                taken.update(p for item in mention.before for p in range(item.start, item.end))
        if "if" not in clause.cues and not clause.asked:
            self._old_coats(items, mentions)
        coats = Coats(self, clause, mentions, steps)
        for group in chosen:
            start, end = group[0].start, group[0].end
            if self._of_no_part(group, mentions, steps):
                self.board.heard.append((self.span(start, end), "words: of a tool, or looked for"))
                continue
            if not clause.unknown and not clause.denied and coats.take(group):
                continue
            context = self._context(clause, mentions, steps, start, end)
            span = self.span(start, end)
            if clause.unknown:
                self._leave_unknown(group[0].saying.sort, group[0].saying.attribute, context, span)
                continue
            if not all(p in taken for p in range(start, end)):
                if self.things.of_house_body(group[0], context, span):
                    continue
                if not self.attacher.saying(group, context, span) and group[0].value is not None:
                    self._bare(clause, group[0].value, items, mentions, steps)
        for item in items:
            places = set(range(item.start, item.end))
            if item.verb is not None or places & covered or places & taken or places & self.laid:
                continue
            if coats.says(item):
                continue
            if self._looked_for(item, steps) or self._counted_pieces(item, items):
                self.board.heard.append((self.span(item.start, item.end), "words: looked for, or a piece"))
                continue
            if item.amount is not None and any(m.sense.role == "tool" and m.start == item.end for m in mentions):
                span = self.span(item.start, item.end)
                sized = [s for _, s in steps if s.kind in self.language.work_sized and item.amount.unit]
                if sized and "length" in item.amount.dimensions:  # `drill it with a 3/8 in bit`
                    name = self.language.work_sized[sized[-1].kind][0]
                    self.attacher.offer([(sized[-1], name, item.amount.text)], span)
                else:
                    self.board.heard.append((span, "words: size of a tool"))
                continue  # `a 9 inch roller`
            self._bare(clause, item, items, mentions, steps)
        if not clause.unknown and not clause.denied:
            coats.colors(items)
            self._colors(clause, mentions, [i.start for i, s in steps if s.kind in coats.coating])

    def _bare(
        self, clause: Clause, item: Item, items: list[Item], mentions: list[Mention], steps: list[tuple[Item, Thing]]
    ) -> None:
        span = self.span(item.start, item.end)
        names = self._names(items, item)
        context = self._context(clause, mentions, steps, item.start, item.end)
        context.names = names
        if clause.unknown:
            owners = {t.sort for t, _ in context.near} or {"house"}
            asked = [s for s in item.senses if s.role == "attr" and s.of in (*owners, "house")]
            for sense in sorted(asked, key=lambda s: s.name not in self.language.never_guessed)[:1]:
                self._leave_unknown(sense.of, sense.name, context, span)
            self.board.heard.append((span, "unknown"))
        elif (
            self._only_a_place(item, span)
            or not (item.amount or item.get("term") or item.get("tool") or item.get("who"))
            or self._times(item, mentions, span)
        ):
            return
        elif item.amount is not None and item.amount.sort == "age":
            child = self.board.single("house").facts.get("children_under_6")
            if child is not None and any(a <= span[0] and span[1] <= b for a, b in child.spans):
                return  # `a 3 year old`: counted among the children
            self.board.unsure.append(Unsure(span, (), "in which year?"))
        elif (
            item.amount is not None
            and self.tokens[item.start].text == "one"
            and item.end == item.start + 1
            and not names
        ):
            return
        elif clause.denied and item.start >= clause.denied_from:
            self.board.heard.append((span, "denied"))
        elif item.amount is not None and item.amount.sort == "pair":
            self.things.pair(item, context, self.attacher, span)
        elif item.start and self.tokens[item.start - 1].text in ("sounds", "sound", "feels", "smells", "seems"):
            self.board.unsure.append(Unsure(span, (), "only seems so?"))
        elif not names and item.amount is None and self._is_used(clause, item):
            self.board.unsure.append(Unsure(span, (), "used for the work?"))
        elif (not names and item.amount is None) and (
            self._stands_alone(clause, item) or self._of_another(clause, item, mentions)
        ):
            self.board.unsure.append(Unsure(span, (), "which thing is it?"))
        elif self.attacher.bare(item, context, span):
            for other in items:
                if names and other.get("attr") and any((s.of, s.name) in names for s in other.senses):
                    self.board.heard.append((self.span(other.start, other.end), "words: name of what is said"))

    def _context(
        self, clause: Clause, mentions: list[Mention], steps: list[tuple[Item, Thing]], start: int, end: int
    ) -> Context:
        near: dict[int, tuple[Thing, float]] = {}
        inside = [(m, t) for m in mentions if (t := self.things.of(m)) is not None]
        fronted = next((m for m, _ in inside if m.end <= start and self._is_under(m, clause)), None)
        for number, (mention, thing) in enumerate(inside):
            if mention is fronted:
                continue
            distance = min(abs(mention.start - end), abs(start - mention.end))
            nearness = (
                2.2
                - 0.06 * min(distance, 12)
                + (0.6 if number == 0 and mention.end <= start else 0)
                + (0.6 if distance == 0 else 0)
            )
            if mention.prep in ("on", "over", "under", "in", "onto", "with") and mention.start >= end:
                nearness -= 1.5
            if mention.sense.of == "name":
                nearness += 3.0
            if mention.prep in ("with", "using", "on", "in", "under", "from", "behind") and mention.end <= start:
                nearness -= 1.0 if thing.sort == "room" else 0.3
            if id(thing) not in near or near[id(thing)][1] < nearness:
                near[id(thing)] = (thing, nearness)
        ahead = self.told if not inside and clause.lead == "," else None
        at = ahead.start if ahead is not None and ahead.end == clause.start - 1 else -1
        body = next((t for t in self.board.things["part"] if t.place == at), None)
        if body is not None and body.kind in self.things.bodies:
            near[id(body)] = (body, 1.9)  # `on the living room wall, plaster`
        weight = 1.3 if not near else 0.3
        focus = sorted(self.board.focus[:6], key=lambda t: t.sort == "part" and self.things.only_accessories([t.id]))
        if self.tokens[clause.start - 1].text == "(" and clause.start:  # `the exterior wall (brick)`
            told = [t for s in ("room", "part", "product") for t in self.board.things[s] if t.place < clause.start]
            last = max(told, key=lambda t: t.place, default=None)
            if last is None or clause.start - last.place > 5:
                focus = [t for own in self.board.last_to if (t := self.board.named(own)) is not None]
            elif not near:
                near[id(last)] = (last, 2.4)
        if (self.strange or fronted is not None) and not near:
            focus = []
        pointed = not inside and self.language.has("points", self.tokens[clause.start].text)
        for thing in focus[:4]:
            if thing.sort != "step" and id(thing) not in near:
                near[id(thing)] = (thing, weight + (0.7 if pointed and thing is focus[0] else 0.0))
                weight -= 0.6
        words = {t.text for t in self.tokens[clause.start : clause.stop]}
        house = any(self.language.has("house words", word) for word in words)
        begin = next(
            (p for p in range(clause.start, max(0, clause.start - 15), -1) if self.tokens[p].text == "."), clause.start
        )
        told_of = {t.text for t in self.tokens[begin : clause.stop]}
        named = {"he", "she", "wife", "husband"} & told_of or any(self.language.has("kids", word) for word in told_of)
        people = bool(named) and not any(t.sort == "part" for _, t in inside)
        behind = [step for item, step in steps if item.start <= start] or [step for _, step in steps]
        step = behind[-1] if behind else self.board.steps[-1] if self.board.steps and not inside else None
        return Context(
            list(near.values()),
            step,
            self.board.room,
            clause.hedged,
            clause.denied and start >= clause.denied_from,
            people=people,
            far=frozenset() if self._goes_on_of_it() else frozenset(id(t) for t in focus if t.place < self.begin),
            house=house,
        )

    def _goes_on_of_it(self) -> bool:
        """Whether the sentence speaks of what the one before spoke of: `it is cast iron`."""
        first = [t.text for t in self.tokens[self.begin : self.begin + 4]]
        return any(
            w in ("it", "its", "they", "theyre", "one", "ones", "both", "all", "itll", "them", "that", "this")
            for w in first
        )

    def _leave_unknown(self, sort: str, attribute: str, context: Context, span: Span) -> None:
        table = self.attacher.table
        fit = [(nearness + table.score(sort, t.kind, attribute), t) for t, nearness in context.near if t.sort == sort]
        fit = [(score, t) for score, t in fit if table.score(sort, t.kind, attribute) >= 0]
        room = context.room.id if sort == "room" and context.room else sort
        own = max(fit, key=lambda row: row[0])[1].id if fit else room
        self.board.unknown.append((sort, own, attribute, span))
        self.board.heard.append((span, "unknown"))
