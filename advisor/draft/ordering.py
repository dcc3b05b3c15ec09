"""The place of a step among the others, as the order words say."""

from __future__ import annotations

from advisor.draft.board import Board, Thing
from advisor.draft.clauses import Clause, find
from advisor.draft.language import Language
from advisor.draft.states import _JOINTS, States
from advisor.draft.tokens import Token


class Ordering(States):
    """Orders the steps of one text."""

    def __init__(self, board: Board, tokens: list[Token], language: Language) -> None:
        super().__init__(board, tokens, language)
        self.before: Thing | None = None  # the step that the next one is to stand before
        self.last: Thing | None = None  # the step that was told last
        self.backwards = False  # the steps are told from the last to the first
        self._ordered: int = -1  # the clause whose first step was put before another
        self._put_early = False  # the last step was put before another, and what goes on with it follows it
        self.form = ""  # the form of the verb of this step
        self._waits: Thing | None = None  # what comes after the step of a clause that hangs on it
        self._hung, self._hung_at = "", -1  # the form of the verb of that clause, and where it begins
        self._told_first: Thing | None = None  # the step of this sentence at whose head `first` stands
        self._fronted: Thing | None = None  # the last of those that a `first` behind them puts to the front

    def begin_sentence(self) -> None:
        """Forget what the sentence before hung on."""
        self._leads_up()
        self.before = self._waits = self._fronted = None
        self.sentence = []
        self._told_first = None

    def _leads_up(self) -> None:
        """`We put up wallpaper. First wash the wall, let it dry`: what was told at the head of all comes after that."""
        steps, row = self.board.steps, [step for step in self.sentence if step in self.board.steps]
        if row and row[0] is self._told_first and steps.index(row[0]) == 1 and (steps[0].opening or steps[0].goal):
            self.board.led_up.append((steps[0], max(row, key=steps.index)))

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

    def order(self, clause: Clause, step: Thing) -> None:
        """Put a step that no verb tells where the order words say, and go on from it."""
        self._order(clause, step, False)
        self.last = step
        self.sentence.append(step)

    def _order(self, clause: Clause, step: Thing, early: bool) -> None:
        """Put a step where the order words say."""
        steps = self.board.steps
        self._tell_place(clause, step)
        if not self.sentence and clause.cues.get("first", [(-1, -1)])[0][0] == clause.start:
            self._told_first = step
        lead = self._lead(clause) if self._lead(clause) in _JOINTS else clause.lead
        if early and lead == "before":
            if not self.sentence or self.sentence == [step]:
                self.before = step  # `before painting, sand`
            else:
                self._move(next(s for s in reversed(self.sentence) if s is not step), step)  # `test before i scrape`
            return
        if early and lead in ("after", "once", "when") and self.sentence and self.sentence[-1] is not step:
            self._waits, self._hung, self._hung_at = self._first_joined(), self.form, clause.start
            self._move(step, self._waits)  # `paint after sanding`
            return
        joined = clause.lead in ("and", "or") or clause.start == self._hung_at
        if self._waits is not None and joined and self.form == self._hung != "base":
            self._move(step, self._waits)  # `paint after they are sanded and primed`
            return
        if (named := self._before_what(clause, step)) is not None:
            self._move(step, named)  # `sand before the primer`
            return
        if self.before is not None and self.before is not step:
            self._move(step, self.before)
            return
        first = clause.cues.get("first", [])
        if self._fronted is not None and self._makes_safe(step) and clause.lead in ("and", ","):
            self._move(step, self._fronted)  # `the fan comes down first, power off at the breaker`
            return
        if self._makes_safe(step) and step in steps[1:] and (first or self.tokens[clause.stop - 1].text == "before"):
            if clause.lead == "(" and self.last in self.sentence:
                self._move(step, self.last)  # `wash it, take off the plates (breaker off first)`
            else:
                self._to_the_front(step)  # `breaker off first!`, told last
            return
        if self._fronted is not None and clause.lead == "and" and step in steps[1:]:
            steps.remove(step)  # `wash and sand it first`
            steps.insert(steps.index(self._fronted) + 1, step)
            self._fronted = step if self._ends_with_first(clause) else None
            return
        late_first = bool(first) and first[0][0] > clause.start + 3 and len(steps) > 1 and not self._goes_on(clause)
        trails = self._trails(clause) and clause.lead not in ("then", "and") and not clause.over
        if (trails or self._told_late(clause)) and step in steps and "done" not in step.facts:
            self._fronted = step
            if step in steps[1:]:
                self._to_the_front(step)  # `carpet out, planks in. Baseboards off first`; `i shoulda said that first`
                return
        late_first = late_first or (bool(first) and clause.lead == "but" and first[0][0] == clause.start)
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
        behind = self.tokens[clause.stop].text if clause.stop < len(self.tokens) else ""
        last = find(self.tokens, clause.start, clause.stop, self.language.words["at the very end"])
        ends = bool(last) and last[-1][1] == clause.stop
        alone = bool(last) and last[0] == (clause.start, clause.stop) and behind == ","
        step.final = step.final or ends or alone
        step.weekday = step.weekday or self._weekday(clause)
        step.joined = clause.lead == "and" and not step.follows
        step.follows = step.follows or "after it" in clause.cues or clause.lead == "then" or self.backwards
        told = [t.text for t in self.tokens[max(clause.start, clause.stop - 2) : clause.stop]] == ["in", "between"]
        if told and self.last is not None and self.last is not step:
            self._move(step, self.last)

    def _weekday(self, clause: Clause) -> int:
        """The day of the week that a clause names, 1 to 7; 0 where it names none or more."""
        days = [
            n + 1
            for token in self.tokens[clause.start : clause.stop]
            for n, day in enumerate(self.language.order["days"])
            if token.text == day
        ]
        return days[0] if len(set(days)) == 1 else 0

    def _told_late(self, clause: Clause) -> bool:
        """Whether the words say that a step comes before all that was told so far."""
        reach = min(clause.stop + 8, len(self.tokens))
        end = next(
            (p for p in range(clause.stop, reach) if self.tokens[p].sort == "break" or self.tokens[p].text in ".;!?"),
            reach,
        )
        return bool(find(self.tokens, clause.start, end, self.language.words["told late"]))

    def _trails(self, clause: Clause) -> bool:
        """Whether `first` or `before` ends a clause whose sentence told nothing else, and nothing goes on from it."""
        here = "first" in {t.text for t in self.tokens[clause.start : clause.stop]}
        return self._ends_with_first(clause) and not self.sentence and not (here and self._goes_on(clause))

    def _ends_with_first(self, clause: Clause) -> bool:
        """`wash it first`, `that comes first obviously`; also where `first` ends what `and` joins to it."""
        stop = clause.stop
        if stop < len(self.tokens) and self.tokens[stop].text == "and":
            marks = (p for p in range(stop, len(self.tokens)) if self.tokens[p].sort in ("mark", "break"))
            stop = next(marks, len(self.tokens))
        ends = ("first", "before", "beforehand")
        while stop - 1 > clause.start and self.tokens[stop - 1].text not in ends:
            if not self.language.has("adverbs", self.tokens[stop - 1].text):
                return False
            stop -= 1
        return self.tokens[stop - 1].text in ends and stop - clause.start > 1

    def _before_what(self, clause: Clause, step: Thing) -> Thing | None:
        """`sand before the primer`, `that goes down before the tile`: the step that puts on or in what is named."""
        places = [p for p in range(clause.start + 1, clause.stop - 1) if self.tokens[p].text == "before"]
        ahead = find(self.tokens, clause.start, clause.stop - 1, self.language.words["before what"])
        start = places[-1] + 1 if places else ahead[-1][1] if ahead else clause.stop
        named = [t.text for t in self.tokens[start : min(clause.stop, start + 4)]]
        if not named or not self.language.has("articles", named[0]):
            return None
        things = [
            t.id
            for sort in ("part", "product")
            for t in self.board.things[sort]
            if t.words.split()[-1:] and t.words.split()[-1] in named
        ]
        for other in self.board.steps:
            uses = [own for name in ("to", "using") if (f := other.facts.get(name)) is not None for own in f.value]
            puts = "using" in other.facts or other.kind in self.board.vocabulary.taxonomies["action"].below("install")
            by_name = any(word.startswith(other.kind) for word in named)  # `before the primer`
            if other is not step and (by_name or (puts and set(uses) & set(things))):
                return other
        return None

    def _goes_on(self, clause: Clause) -> bool:
        """`take the doors off first, then sand them`: `first` begins a row."""
        behind = [t.text for t in self.tokens[clause.stop : clause.stop + 2]]
        return "then" in behind or behind[1:] == ["and"] or behind[:1] == ["and"]

    def _to_the_front(self, step: Thing) -> None:
        """Put a step before all that are to be done, but behind what makes safe."""
        steps = self.board.steps
        steps.remove(step)
        safe = self._makes_safe(step)
        ahead = (n for n, o in enumerate(steps) if "done" not in o.facts and (safe or not self._makes_safe(o)))
        at = next(ahead, len(steps))
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
