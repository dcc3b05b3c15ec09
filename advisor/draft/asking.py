"""What is offered at the end of a text: readings that its words leave open, each among two or three."""

from __future__ import annotations

from advisor.draft.besides import Besides
from advisor.draft.board import MOST_CANDIDATES, Candidate, Thing, Unsure
from advisor.plan.added import added_step, comes_and_goes

MOST_ASKED = 12  # questions of what is left out, however long the text
_MOST_IDLE = 3  # parts that are asked about where no work was heard at all
_YEARS = range(1780, 2040)


class Offering(Besides):
    """Sets down what may be meant where nothing tells it, and only where there is such a reading."""

    def ask_open(self) -> None:
        """All offers of the end; a plan that was told says all of it."""
        if any(t.called for listed in self.board.things.values() for t in listed):
            return
        before = len(self.board.unsure)
        self._owner_works()
        self._how_many_work()
        self._which_year()
        self.ask_besides()  # what weighs most first: nobody answers more than so many
        self._nothing_done()
        self._either_kind()
        self._where_at_all()
        self._others_work()
        self._tools_named()
        self._stands_usually()
        del self.board.unsure[before + MOST_ASKED :]

    def _taken_at(self) -> set[int]:
        return {p for s, e in (span for things in self.board.things.values() for t in things
                               for f in t.facts.values() for span in f.spans) for p in range(s, e)}  # fmt: skip

    # --- what it is, and what is done ---------------------------------------------------------------------

    def _either_kind(self) -> None:
        """`the fan`, `the post`: a name of two or three kinds; the commoner is written."""
        for thing in self.board.things["part"]:
            row = self.language.either_kind.get(thing.words, [])
            if thing.kind in row:
                others = [kind for kind in row if kind != thing.kind]
                self._ask(thing, "kind", others, thing.facts["kind"].spans[0], "or is it?")

    # --- who ----------------------------------------------------------------------------------------------

    def _how_many_work(self) -> None:
        """`I`, `we`: alone or with somebody, where no words tell how many work."""
        crew = self.board.single("crew")
        asked = self._asked("crew", "crew", "people") or self._asked("crew", "crew", "helpers")
        if "people" in crew.facts or "helpers" in crew.facts or asked:
            return
        many = next((t for t in self.tokens if t.text in ("we", "weve", "ourselves")), None)
        one = next((t for t in self.tokens if t.text in ("i", "im", "ill", "ive", "me", "my", "id")), None)
        token = many or one
        if token is None or not self.board.steps:
            return
        told = [("people", "2"), ("people", "3")] if many else [("people", "1"), ("people", "2")]
        told = [*(row for row in told if row[0] not in crew.facts), ("helpers", "1")]
        ways = [Candidate("crew", "crew", name, value) for name, value in told]
        self.board.unsure.append(Unsure((token.start, token.end), tuple(ways), "how many work on it?"))

    def _owner_works(self) -> None:
        """`I take it off`: whoever tells it does the work, where nobody else is told of."""
        crew = self.board.single("crew")
        doing = [s for s in self.board.steps if "done" not in s.facts]
        if "who" in crew.facts or not doing or any("who" in s.facts for s in doing):
            return
        one = next((t for t in self.tokens if t.text in ("i", "im", "ill", "me", "myself", "we", "were", "well")), None)
        if one is not None:
            self.board.put(crew, "who", ["owner"], (one.start, one.end), "inferred")

    def _others_work(self) -> None:
        """A trade or a friend that is named and does no step: whether some of the work is theirs."""
        crew, taxonomy = self.board.single("crew"), self.board.vocabulary.taxonomies["who"]
        told = crew.facts.get("who")
        known = {*(told.value if told is not None else ()), *(str(s.facts["who"].value) for s in self.board.steps
                                                               if "who" in s.facts)}  # fmt: skip
        for span, who in self.workers_said if self.board.steps else []:
            if who in known or not (who == "helper" or who in taxonomy.below("hired firm")):
                continue
            known.add(who)
            ways = [Candidate("crew", "crew", "who", who)]
            asked = self._asked("crew", "crew", "helpers")
            if who == "helper" and not asked and not {"helpers", "people"} & set(crew.facts):
                ways.append(Candidate("crew", "crew", "helpers", "1"))
            self.board.unsure.append(Unsure(span, tuple(ways), "does some of the work?"))

    # --- where --------------------------------------------------------------------------------------------

    def _where_at_all(self) -> None:
        """A part of which no word tells the room, where there are several."""
        rooms = [room for room in self.board.things["room"] if not room.drop]
        for thing in self.board.things["part"] if rooms else []:
            if "room" not in thing.facts and "outside" not in thing.facts:
                self._ask(thing, "room", [room.id for room in rooms], thing.facts["kind"].spans[0], "in which room?")

    def _stands_usually(self) -> None:
        """A sink and a top, a fan and a ceiling: whether the one is in, on or against the other."""
        parts = self.board.things["part"]
        for thing in parts:
            near = {name for name in ("in", "on", "against", "above") if name in thing.facts}
            for kind, rows in self.language.stands.items():
                if near or thing.kind not in self.things.below("part", kind):
                    continue
                ways = [
                    Candidate("part", thing.id, name, other.id)
                    for row in rows for name, bearer in [row.split(" ", 1)]
                    for other in parts if other is not thing and other.kind in self.things.below("part", bearer)
                ]  # fmt: skip
                asked = any(self._asked("part", thing.id, name) for name in ("in", "on", "against", "above"))
                if ways and not asked:
                    span = thing.facts["kind"].spans[0]
                    self.board.unsure.append(Unsure(span, tuple(ways[:MOST_CANDIDATES]), "does it stand so?"))
                break

    # --- with what ----------------------------------------------------------------------------------------

    def _tools_named(self) -> None:
        """A tool that is named and in no fact: whether it is at hand."""
        crew, taken = self.board.single("crew"), self._taken_at()
        owned = crew.facts.get("owns")
        known = set(owned.value) if owned is not None else set()
        for span, tool in self.tools_said:
            asked = any(
                c.attribute in ("owns", "with") and c.value == tool for one in self.board.unsure for c in one.candidates
            )
            if tool not in known and not asked and span[0] not in taken:
                known.add(tool)
                ways = (Candidate("crew", "crew", "owns", tool),)
                self.board.unsure.append(Unsure(span, ways, "at hand?"))

    # --- what is done -------------------------------------------------------------------------------------

    def _nothing_done(self) -> None:
        """A part that is named and that no step touches: whether it is put in, taken out, or what is usual with it."""
        touched = {own for step in self.board.steps for own in step.members("to")}
        touched |= {u.candidates[0].value for u in self.board.unsure if u.why == "done to what?" and u.candidates}
        for thing in self.board.things["part"] if self.board.steps else self.board.things["part"][:_MOST_IDLE]:
            if thing.id in touched or thing.drop or thing.put_in:
                continue
            ways = tuple(
                Candidate("step", added_step(action, thing.id), "do", action) for action in self._usually_done(thing)
            )
            if ways:
                span = thing.idle or thing.facts["kind"].spans[0]
                self.board.unsure.append(Unsure(span, ways, "nothing is done with it: what do you do with it?"))

    def _usually_done(self, thing: Thing) -> list[str]:
        """What is usually done to such a thing, as far as its age allows it."""
        row = next((r for r in self.language.usual_work if self.things.one_of(thing.kind, r["of"])), None)
        told = {name: str(thing.facts[name].value) for name in ("new", "stays") if name in thing.facts}
        new = thing.age == "new" or told.get("new") == "yes"
        stays = told.get("stays") == "yes" or told.get("new") == "no"
        found = []
        for action in row["do"] if row is not None else []:
            puts_in, takes_out = comes_and_goes(action, self.board.vocabulary)
            if not (takes_out and (new or stays)) and not (puts_in and (stays or thing.age == "old")):
                found.append(action)
        return found[:MOST_CANDIDATES]

    # --- to what ------------------------------------------------------------------------------------------

    def _which_year(self) -> None:
        """A year that is told of nothing: whether the house is of it."""
        house, taken = self.board.single("house"), self._taken_at()
        if "built" in house.facts or self._asked("house", "house", "built"):
            return
        for token in self.tokens:
            year = token.text.isdigit() and len(token.text) == 4 and int(token.text) in _YEARS
            if year and token.start not in taken:
                self._ask(house, "built", [token.text], (token.start, token.end), "built then?")
                return
