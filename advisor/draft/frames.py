"""Doing words made steps: what is done, to what, with what, where, by whom, in which order, and whether it is over."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.draft.board import Board, Fact, Span, Thing
from advisor.draft.clauses import Clause, find
from advisor.draft.items import Item
from advisor.draft.language import Language
from advisor.draft.mentions import Mention
from advisor.draft.states import _JOINTS, States
from advisor.draft.tokens import Token


class Frames(States):
    """Makes the steps of one text."""

    def __init__(self, board: Board, tokens: list[Token], language: Language) -> None:
        super().__init__(board, tokens, language)
        self.before: Thing | None = None  # the step that the next one is to stand before
        self.last: Thing | None = None  # the step that was told last
        self.backwards = False  # the steps are told from the last to the first
        self._ordered: int = -1  # the clause whose first step was put before another
        self._put_early = False  # the last step was put before another, and what goes on with it follows it

    def begin_sentence(self) -> None:
        """Forget what the sentence before hung on."""
        self.before = None
        self.sentence = []

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
        action = item.verb.name if item.verb else ""
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
        step.opening = len(self.board.steps) == 1 and not over
        if self.sentence:
            self.sentence[0].opening = False
        if step.goal and to and not self.board.purpose:
            self.board.purpose = list(to)
        self._order(clause, step, early)
        self.last = step
        self.sentence.append(step)
        return step

    def _lead_up_to(self, known: Thing) -> None:
        """`planks in … Theo cuts, I lay`: what is told right before a step that was told already leads up to it."""
        for step in self.sentence:
            if step is not known and not step.follows:
                self._move(step, known)

    def _first_joined(self) -> Thing:
        """`he cuts and I screw them down after I pull the old ones`: all that is joined comes after."""
        row = self.sentence
        at = len(row) - 1
        while at > 0 and row[at].joined:
            at -= 1
        return row[at]

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

    def order(self, clause: Clause, step: Thing) -> None:
        """Put a step that no verb tells where the order words say, and go on from it."""
        self._order(clause, step, False)
        self.last = step
        self.sentence.append(step)

    def _order(self, clause: Clause, step: Thing, early: bool) -> None:
        """Put a step where the order words say."""
        steps = self.board.steps
        self._tell_place(clause, step)
        lead = self._lead(clause) if self._lead(clause) in _JOINTS else clause.lead
        if early and lead == "before":
            if not self.sentence or self.sentence == [step]:
                self.before = step  # `before painting, sand`
            else:
                self._move(next(s for s in reversed(self.sentence) if s is not step), step)  # `test before i scrape`
            return
        if early and lead in ("after", "once", "when") and self.sentence and self.sentence[-1] is not step:
            self._move(step, self._first_joined())  # `paint after sanding`
            return
        if self.before is not None and self.before is not step:
            self._move(step, self.before)
            return
        first = clause.cues.get("first", [])
        if self._makes_safe(step) and step in steps[1:] and (first or self.tokens[clause.stop - 1].text == "before"):
            steps.remove(step)  # `breaker off first!`, told last
            steps.insert(0, step)
            return
        late_first = bool(first) and first[0][0] > clause.start + 3 and len(steps) > 1 and not self._goes_on(clause)
        trails = self._trails(clause) and clause.lead not in ("then", "and") and not clause.over
        if (trails or self._told_late(clause)) and step in steps[1:] and "done" not in step.facts:
            self._to_the_front(step)  # `carpet out, planks in. Baseboards off first`; `i shoulda said that first`
            return
        early = "before it" in clause.cues or late_first or self._alone_before(clause)
        early = early or (bool(first) and self._put_early)  # `… and first of all`, told from the last to the first
        goes_on = clause.lead in ("and", "or") or clause.start == self._ordered
        early = early or (self.backwards and not goes_on and "after it" not in clause.cues)
        if self.last is None or self.last is step:
            return
        if early and clause.start != self._ordered:
            self._move(step, self.last)
            self._ordered, self._put_early = clause.start, True
        elif self._put_early and goes_on and self.last in self.sentence and self.last in steps[:-1]:
            steps.remove(step)  # `before that, take them down and number them`
            steps.insert(steps.index(self.last) + 1, step)
        else:
            self._put_early = False

    def _tell_place(self, clause: Clause, step: Thing) -> None:
        """`goes in last`, `then`: what is to be kept when steps that were told late are moved."""
        end, first = self.tokens[clause.stop - 1].text, self.tokens[clause.start].text
        behind = self.tokens[clause.stop].text if clause.stop < len(self.tokens) else ""
        alone = first in self.language.order["at the very end"] and clause.stop - clause.start == 1 and behind == ","
        step.final = step.final or end in self.language.order["at the very end"] or alone
        step.joined = clause.lead == "and" and not step.follows
        step.follows = step.follows or "after it" in clause.cues or clause.lead == "then" or self.backwards
        told = [t.text for t in self.tokens[max(clause.start, clause.stop - 2) : clause.stop]] == ["in", "between"]
        if told and self.last is not None and self.last is not step:
            self._move(step, self.last)

    def _told_late(self, clause: Clause) -> bool:
        """Whether the words say that a step comes before all that was told so far."""
        end = next(
            (
                p
                for p in range(clause.stop, len(self.tokens))
                if self.tokens[p].sort == "break" or self.tokens[p].text in ".;!?"
            ),
            len(self.tokens),
        )
        return bool(find(self.tokens, clause.start, min(end, clause.stop + 8), self.language.words["told late"]))

    def _trails(self, clause: Clause) -> bool:
        """Whether `first` or `before` ends a clause whose sentence told nothing else, and nothing goes on from it."""
        last = self.tokens[clause.stop - 1].text
        ends = last in ("first", "before", "beforehand") and clause.stop - clause.start > 1
        return ends and not self.sentence and not self._goes_on(clause)

    def _goes_on(self, clause: Clause) -> bool:
        """`take the doors off first, then sand them`: `first` begins a row."""
        behind = [t.text for t in self.tokens[clause.stop : clause.stop + 2]]
        return "then" in behind or behind[1:] == ["and"] or behind[:1] == ["and"]

    def _to_the_front(self, step: Thing) -> None:
        """Put a step before all that were told, but behind what makes safe."""
        steps = self.board.steps
        steps.remove(step)
        at = next((n for n, other in enumerate(steps) if not self._makes_safe(other)), len(steps))
        steps.insert(at, step)

    def _makes_safe(self, step: Thing) -> bool:
        taxonomy = self.board.vocabulary.taxonomies["action"]
        return step.kind in taxonomy.below("isolate")

    def _alone_before(self, clause: Clause) -> bool:
        """`Before, hang the light`, `Before that, hang it`: the words by themselves, at the head of a sentence."""
        at = clause.start - 1
        if at < 1 or self.tokens[at].text != ",":
            return False
        head = next((p + 1 for p in range(at - 1, max(-1, at - 7), -1) if self.tokens[p].sort in ("mark", "break")), 0)
        words = tuple(t.text for t in self.tokens[head:at])
        return words in (("before",), ("beforehand",)) or words in self.language.words["before it"]

    def _move(self, step: Thing, before: Thing) -> None:
        steps = self.board.steps
        if step in steps and before in steps and steps.index(step) > steps.index(before):
            steps.remove(step)
            steps.insert(steps.index(before), step)


def objects(mentions: Iterable[Mention], start: int, stop: int) -> tuple[list[Mention], list[Mention]]:
    """Things between two places: those that a verb takes straight, and those behind a preposition."""
    inside = [m for m in mentions if start <= m.start and m.end <= stop]
    return [m for m in inside if not m.prep], [m for m in inside if m.prep]
