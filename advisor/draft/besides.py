"""What is asked of what a text leaves out: where the work is, what goes or comes with it, what it is done with."""

from __future__ import annotations

from advisor.draft.board import MOST_CANDIDATES, Candidate, Span, Thing, Unsure
from advisor.draft.hearing import Hearing
from advisor.plan.added import added_step, comes_and_goes, other_one


class Besides(Hearing):
    """Asks of things and rooms that no word names; an answer puts them into the plan."""

    def _asked(self, sort: str, own: str, attribute: str) -> bool:
        return any(
            (c.sort, c.id, c.attribute) == (sort, own, attribute) for one in self.board.unsure for c in one.candidates
        )

    def _ask(self, thing: Thing, attribute: str, values: list[str], span: Span, why: str) -> None:
        if values and not self._asked(thing.sort, thing.id, attribute):
            ways = tuple(Candidate(thing.sort, thing.id, attribute, value) for value in values[:MOST_CANDIDATES])
            self.board.unsure.append(Unsure(span, ways, why))

    def ask_besides(self) -> None:
        """All such questions."""
        if self.board.steps:
            self._where_is_it()
            self._other_one()
            self._with_what()
            self._also_done()

    def _where_is_it(self) -> None:
        """No room is told at all: where what is worked on usually is."""
        rooms = self.board.things["room"]
        if rooms and (len(rooms) > 1 or rooms[0].facts["kind"].note != "inferred"):
            return
        worked = {own for step in self.board.steps for own in step.members("to")}
        parts = [t for t in self.board.things["part"] if "outside" not in t.facts and t.kind not in self.things.outer]
        votes: dict[str, float] = {}
        for room, kinds in self.language.inferred_rooms.items():
            told = sum(self.things.one_of(part.kind, kinds) for part in parts)
            votes |= {room: 2.0 + told} if told else {}
        for part in parts:
            row = next((r for r in self.language.usual_rooms if self.things.one_of(part.kind, r["of"])), None)
            for place, kind in enumerate(row["in"] if row is not None else []):
                votes[kind] = votes.get(kind, 0.0) + (2 if part.id in worked else 1) / (1 + place)
        ways = sorted(votes, key=lambda kind: -votes[kind])
        if rooms:  # it only follows from its things
            never = {rooms[0].kind, *self.language.not_found_in.get(rooms[0].kind, ())}  # a tub is in no study
            likely = [kind for kind in ways if kind not in never and 2 * votes[kind] > votes.get(rooms[0].kind, 0.0)]
            self._ask(rooms[0], "kind", likely, self._said(rooms[0]), "where is it?")
        elif ways:
            listed = tuple(Candidate("room", kind.replace(" ", "-"), "kind", kind) for kind in ways[:MOST_CANDIDATES])
            self.board.unsure.append(Unsure(self._said(parts[0]), listed, "where is it?"))

    def _other_one(self) -> None:
        """A new faucet: does an old one come out? An old one that goes: is a new one put in?"""
        changed = self.language.changed
        for thing in self.board.things["part"]:
            twins = [t for t in self.board.things["part"] if t is not thing and t.kind == thing.kind]
            if twins or not self.things.one_of(thing.kind, changed["things"]):
                continue
            done = [step.kind for step in self.board.steps if thing.id in step.members("to")]
            does = [comes_and_goes(action, self.board.vocabulary) for action in done]
            told = {name: str(thing.facts[name].value) for name in ("new", "stays") if name in thing.facts}
            comes = any(puts for puts, _ in does) or told.get("new") == "yes"
            goes = any(out for _, out in does) or told.get("stays") == "no"
            if comes == goes or self._replaced(done) or (goes and thing.idle is not None):
                continue
            action = changed["taken out"] if comes else changed["put in"]
            own = added_step(action, other_one(thing.kind, new=goes))
            ways = [Candidate("step", own, "do", action)]
            if goes:
                back = changed["put back"]
                ways.append(Candidate("step", added_step(back, thing.id), "do", back))
            why = "does an old one come out?" if comes else "what comes in its place?"
            self.board.unsure.append(Unsure(self._said(thing), tuple(ways), why))

    def _with_what(self) -> None:
        """`prime and paint it`: with which product; once for each sort of work."""
        asked: set[str] = set()
        for step in self.board.steps:
            kinds = self.language.done_with.get(step.kind, [])
            if not kinds or "done" in step.facts or kinds[0] in asked:
                continue
            if "using" in step.facts:
                self._which_sort(step, kinds)
                continue
            asked.add(kinds[0])
            there = [t.id for t in self.board.things["product"] if t.kind in self.things.below("product", kinds[0])]
            named = [*there, *(kind for kind in kinds if kind not in there)]
            ways = [Candidate("step", step.id, "using", own) for own in named]
            self.board.unsure.append(Unsure(step.facts["do"].spans[0], tuple(ways[:MOST_CANDIDATES]), "with what?"))

    def _which_sort(self, step: Thing, kinds: list[str]) -> None:
        """Of a product that only the verb tells: which sort of primer, of stain."""
        for product in (t for own in step.members("using") if (t := self.board.named(own)) is not None):
            closer = [k for k in kinds if k in self.things.below("product", product.kind) - {product.kind}]
            if product.kind == self.language.names_its_product.get(step.kind) == product.words:
                self._ask(product, "kind", closer, self._said(product), "with what?")

    def _also_done(self) -> None:
        """A new faucet: is it joined to its lines, too?"""
        actions = self.board.vocabulary.taxonomies["action"]
        for thing in self.board.things["part"]:
            done = [step.kind for step in self.board.steps if thing.id in step.members("to")]
            for row in self.language.also_done:
                fits = self.things.one_of(thing.kind, row["of"])
                told = any(action in actions.below(one) for action in done for one in row["when"])
                said = any(action in actions.below(one) for action in done for one in row["do"])
                if not fits or not told or said:
                    continue
                ways = tuple(Candidate("step", added_step(one, thing.id), "do", one) for one in row["do"])
                self.board.unsure.append(Unsure(self._said(thing), ways, "is more done to it?"))
                break

    def _replaced(self, done: list[str]) -> bool:
        replaced = self.board.vocabulary.taxonomies["action"].below("replace") | {"add", "reinstall"}
        return any(action in replaced for action in done)

    @staticmethod
    def _said(thing: Thing) -> Span:
        return thing.facts["kind"].spans[0]
