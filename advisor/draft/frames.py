"""Doing words made steps: what is done, to what, with what, where, by whom, in which order, and whether it is over."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.draft.board import Fact, Span, Thing
from advisor.draft.clauses import Clause
from advisor.draft.items import Item
from advisor.draft.mentions import Mention
from advisor.draft.ordering import Ordering


class Frames(Ordering):
    """Makes the steps of one text."""

    def step(
        self,
        clause: Clause,
        item: Item,
        to: list[str],
        span: Span,
        *,
        over: bool,
        bare: bool,
        first: bool = True,
        told_who: bool = False,
    ) -> Thing | None:
        """The step that a verb tells: an earlier one told again, or a new one in its place."""
        action, self.form = (item.verb.name, item.verb.of) if item.verb else ("", "")
        early = self.hangs(clause) and first
        if told_who and bare and not early and (named := self._done_by(action)) is not None:
            named.facts["do"].spans.append(span)
            self._lead_up_to(named)
            return named
        known = self._told(action, to, early or bare)
        if known is not None and known.kind != action and not early:
            known = None  # to remove is a part of what was to be replaced, not the purpose told again
        again = known is not None and bare and known.moved and known.kind == action  # `planks in … I lay`
        if known is not None and (
            early or known.goal or again or (clause.start, item.start) == (known.place, known.place)
        ):
            known.facts["do"].spans.append(span)
            if known.goal and not early:
                self.board.steps.remove(known)
                self.board.steps.append(known)
                known.goal = False
            if to and "to" not in known.facts:
                self.board.put(known, "to", to, span)
            if again:
                self._lead_up_to(known)
            self._order(clause, known, early)
            self.last = known
            return known
        step = self.board.add("step", action, action, span, attribute="do")
        if step is None:
            return None
        if to:
            step.facts["to"] = Fact(list(dict.fromkeys(to)), [span])
        if over:
            step.facts["done"] = Fact("yes", [span])
        begins = item.verb is not None and item.verb.of == "gerund" and len(self.board.steps) == 1
        begins = begins or (action == "replace" and len(self.board.steps) == 1)
        step.goal = (clause.goal or begins) and len(self.board.steps) <= 2
        step.place = item.start
        step.ahead = self.language.has("comes early", self.tokens[item.start].text)
        step.opening = len(self.board.steps) == 1 and not over
        if self.sentence:
            self.sentence[0].opening = False
        if step.goal and to and not self.board.purpose:
            self.board.purpose = list(to)
        self._order(clause, step, early)
        self.last = step
        self.sentence.append(step)
        return step

    def _done_by(self, action: str) -> Thing | None:
        """`sand, prime, paint … Theo sands, I paint`: a step told before, of which it is told who does it."""
        taxonomy = self.board.vocabulary.taxonomies["action"]
        for step in self.board.steps:
            same = step.kind == action or action in taxonomy.above(step.kind)
            if same and step not in self.sentence and "who" not in step.facts and "done" not in step.facts:
                return step
        return None

    def told(self, item: Item) -> bool:
        """Whether a step does what the verb says, whatever it is done to."""
        return item.verb is not None and self._told(item.verb.name, [], True) is not None

    def _told(self, action: str, to: list[str], loose: bool) -> Thing | None:
        taxonomy = self.board.vocabulary.taxonomies["action"]
        for step in reversed(self.board.steps):
            mine = step.facts.get("to")
            same = step.kind == action or (loose and action in taxonomy.above(step.kind))
            overlap = not to or mine is None or set(to) & set(mine.value)
            if same and overlap and (step.goal or loose):
                return step
        return None


def objects(mentions: Iterable[Mention], start: int, stop: int) -> tuple[list[Mention], list[Mention]]:
    """Things between two places: those that a verb takes straight, and those behind a preposition."""
    inside = [m for m in mentions if start <= m.start and m.end <= stop]
    return [m for m in inside if not m.prep], [m for m in inside if m.prep]
