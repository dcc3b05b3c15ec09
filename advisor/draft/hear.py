"""From a text to what it says: sentence by sentence, clause by clause, each word accounted for."""

from __future__ import annotations

from advisor.draft.answers import Answers
from advisor.draft.arranging import arrange
from advisor.draft.asking import Offering
from advisor.draft.board import Board
from advisor.draft.clauses import OPENER, THERE, Clause, asked_from, clauses, find, scope, sentences
from advisor.draft.closer import Closer
from advisor.draft.doing import Doing
from advisor.draft.items import Item, Match
from advisor.draft.meant import Meant
from advisor.draft.mentions import Mention
from advisor.draft.named import names_of
from advisor.draft.owning import _LISTING, Owning
from advisor.draft.relating import Relating
from advisor.draft.summing import made_of_others, put_back
from advisor.draft.valuing import Valuing

_TELLS = frozenset({"is", "are", "was", "has", "said"})  # something is told of the trade, not who does the step


class Hearer(Doing, Valuing, Relating, Owning, Meant, Offering):
    """Hears one text. `board` holds what came of it."""

    def hear(self) -> Board:
        """All of the text."""
        self.names = self.finder.names = names_of(self.text, self.tokens, self.lexicon)
        answers = Answers(self.text, self.tokens, self.lexicon, self.board)
        for start, stop, question in sentences(self.tokens):
            if answers.take(start, stop, question):
                continue
            self._sentence(start, stop, question)
        self.frames.begin_sentence()  # the last one is over
        made_of_others(self.board, self.language.purposes)
        self.things.fill_in()
        put_back(self.board)
        crew = self.board.single("crew").facts
        if "people" in crew and crew["people"].value == "1" and "works_alone" not in crew:
            begin, end = crew["people"].spans[0]
            if not any(letter.isdigit() for letter in self.text[begin:end]):  # `by myself`, `just me`
                self.board.put(self.board.single("crew"), "works_alone", "yes", (begin, end), "inferred")
        self.offer_things()
        self.things.untouched()
        self.things.settle_rooms()
        self.color_wanted()
        self.settle()
        arrange(self.board, self.language)
        Closer(self.board, self.tokens, self.language).tell()
        self.things.leave_out_aside()
        self.ask_open()
        return self.board

    def _sentence(self, start: int, stop: int, question: bool) -> None:
        items = self.worked.find(self.finder.items(start, stop), start, stop)
        items = self._with_names(self.moved.find(items, start, stop), start, stop)
        self.frames.begin_sentence()
        self.things.begin_sentence()
        self.waiting = []
        self.told, self.begin = None, start
        first = next((t.text for t in self.tokens[start:stop] if t.text not in ("and", "but", "so", "then")), "")
        if first in ("it", "its", "they", "theyre", "itll", "theyll") and self.subject is not None:
            self.board.talk_of(self.subject)  # what the sentence before was about
        self.subject = self.things.subject = None
        self.condition = self.listing = False
        self.label, self.ahead = "", []
        if find(self.tokens, start, stop, self.language.words["backwards"]):
            self.frames.backwards = True
        self.board.heard.extend(
            (self.span(p, p + 1), "words: a person's name")
            for p in range(start, stop)
            if self.tokens[p].text in self.finder.names
        )
        self.board.heard.extend(
            (self.span(p, p + 1), "words: said anew") for p in sorted(self.finder.again) if start <= p < stop
        )
        listed = clauses(self.tokens, start, stop, items, self.language, self.finder.again)
        asked = asked_from(self.tokens, listed, self.language) if question else len(listed)
        for number, clause in enumerate(listed):
            own = [item for item in items if clause.start <= item.start and item.end <= clause.stop]
            matches = self.finder.sayings(own, clause.start, clause.stop)
            said = {p for m in matches for p in range(m.start, m.end) if m.saying.value} | self.finder.again
            asked_before = self._asked_and_unknown(clause, listed[number + 1 : number + 3])
            asked_before = asked_before or self._left_open(clause, own, listed[number + 1 : number + 2])
            if clause.lead == OPENER:
                self.begin, self.told = clause.start, None
            scope(clause, self.tokens, self.language, question and number >= asked, said, self.finder.names)
            if asked_before:  # `is the pipe leaking i dont know`
                clause.unknown, clause.conditional, clause.asked, clause.denied = True, False, False, False
            self._clause(clause, own, matches, listed[number - 1] if number else None)

    def _clause(self, clause: Clause, items: list[Item], matches: list[Match], before: Clause | None) -> None:
        for group, places in clause.cues.items():
            self.board.heard.extend((self.span(*place), f"words: {group}") for place in places)
        if clause.asked:
            self.board.heard.append((self.span(clause.start, clause.stop), "question"))
            self._named_in_passing(clause, items)
            return
        first = self.tokens[clause.start].text
        if (
            before is not None
            and before.unknown
            and (clause.lead in ("if", "or") or first in ("if", "or", "does", "do", "is", "will"))
        ):
            clause.unknown, clause.conditional = True, False  # `i dont know | if the wires are old`
        if before is not None and before.unknown and clause.lead in (",", "or") and self._guesses(clause):
            clause.unknown = True  # `I don't know what is under it, could be boards`
        if self._hangs_on_a_condition(clause, items, before):
            from advisor.draft.board import Unsure

            self.board.unsure.append(Unsure(self.span(clause.start, clause.stop), (), "only if"))
            return
        if before is not None and self._goes_on_with_goal(clause, items, before):
            clause.goal = True
        if before is not None and before.lead == "" and clause.lead == "," and not any(i.verb for i in items):
            clause.denied = clause.denied or False
        self.latest = self.told
        self._plain(clause, items, matches)
        self.told = self.latest

    def _plain(self, clause: Clause, items: list[Item], matches: list[Match]) -> None:
        self.strange, self.in_row = False, []
        chosen = [
            group
            for group in self._chosen(matches, items)
            if not self._names_a_part(group, items)
            and not self._names_itself(group, items)
            and not self._worked_on(group, items)
            and not self._of_coats(group)
        ]
        covered = {p for group in chosen for p in range(group[0].start, group[0].end)}
        words = {p for group in chosen for p in range(group[0].start, group[0].end)
                 if group[0].value is None or not group[0].value.start <= p < group[0].value.end}  # fmt: skip
        for besides in (self._also_named(group, items) for group in chosen):
            covered, words = covered - besides, words - besides
        groups = ("second thought", "unknown", "question", "hedge")
        cued = {p for g in groups for places in clause.cues.get(g, ()) for p in range(*places)}
        ways = {p for g in chosen if all((m.saying.sort, m.saying.attribute) == ("step", "by") for m in g)
                for p in range(g[0].start, g[0].end)}  # fmt: skip
        for item in items:
            does = item.start in ways and item.verb is not None and item.verb.of == "base"  # `brush on the stain`
            if item.verb is not None and ((item.start in covered and not does) or item.start in cued):
                item.verb = None
            if item.verb is not None and (
                "as it is" in clause.cues  # `right now i run a cord out the window`
                or self.frames.is_state(item, clause)
                or not self.frames.supported(item, clause, self._somebody(items, item))
            ):
                item.verb = None
        self._only_tells(clause, items)
        things = [t for listed in self.board.things.values() for t in listed]
        if self._heading(clause):
            return
        if self.owning and clause.lead in _LISTING:
            for item in items:
                if item.verb is not None and item.get("tool") and self._named(item, clause):
                    item.verb = None  # `I own a brush, a saw`
        known = {(t.sort, t.kind) for t in things} | {(t.sort, t.words) for t in things}
        names = {t.id: t.sort for s in ("room", "part", "product") for t in self.board.things[s]}
        mentions = self.namer.mentions(
            clause,
            items,
            words | covered,
            known,
            names,
            self.owning and clause.lead in _LISTING,
            self._words_of_names(),
        )
        mentions = self.things.with_ones(clause, mentions, items)
        if not clause.denied and not clause.unknown:
            inside = {p for m in mentions for p in range(m.start, m.end)}
            self.tools_said += [(self.span(m.start, m.end), m.sense.name) for m in mentions if m.sense.role == "tool"]
            self.tools_said += [
                (self.span(i.start, i.end), tool.name)  # `the box fan blows out`: no name of a thing of the clause
                for i in items
                if i.verb is None and i.start not in inside and (tool := i.get("tool")) is not None
            ]
            self.workers_said += [(self.span(m.start, m.end), m.sense.name) for m in mentions if m.sense.role == "who"]
        self.latest = mentions[-1] if mentions else self.told
        told = any(m.saying.attribute == "children_under_6" for group in chosen for m in group)
        self.people.taken = {p for i in items for p in range(i.start, i.end) if not i.get("who")}
        self.people.hear(clause, mentions, self.span, told)
        if clause.lead == THERE:
            self._is_there(clause, mentions, items)
            return
        self.things.resolve(clause, mentions, items, self.span, unknown=clause.unknown)
        self.things.wanted(clause, mentions, items)
        verbs: list[Item] = []
        parts = (self.things.of(m) for m in mentions if m.sense.role == "part" and not m.prep)
        before, self.subject = self.subject, self.subject or next((t for t in parts if t is not None), None)
        if before is None and not any(item.verb is not None for item in items):
            self.things.subject = self.subject  # `the drain is off center so the plumber moves it`
        self._bought(clause, mentions)
        verbs = [item for item in items if item.verb is not None]
        if self._owns(clause, mentions, items):
            owned = clause.cues.get("owns", [(clause.start, clause.start)])[-1][0]
            carried = "owns" not in clause.cues
            verbs = [
                i for i in verbs if not carried and (i.start < owned - 2 or i.start >= self.reach)
            ]  # what is done before it is told who has what
        if not verbs and self._goes_on(clause, items, mentions):
            return
        if not verbs and not clause.denied:
            self._trade(clause, mentions)
        if not verbs and clause.stop < len(self.tokens) and self.tokens[clause.stop].text == ":":
            named = [t for m in mentions if m.sense.role == "part" and (t := self.things.of(m)) is not None]
            self.board.last_to = [t.id for t in named] or self.board.last_to  # `walls: patch, sand, paint`
        label = len(verbs) == 1 and clause.stop < len(self.tokens) and self.tokens[clause.stop].text == ":"
        if label and verbs[0].start == clause.start and verbs[0].end == clause.stop:
            self.board.heard.append((self.span(clause.start, clause.stop), "words: a heading"))
            verbs[0].verb, verbs = None, []  # `Rough-in: not measured`
        coats = {
            p for g in chosen for p in range(g[0].start, g[0].end) if any(m.saying.attribute == "coats" for m in g)
        }
        if not verbs and self._without_verb(clause, items, mentions, coats):
            if self.in_row:  # what else is told of the products and of their coats
                self._values(clause, items, chosen, covered, mentions, self.in_row)
            return
        if not verbs:
            self._purpose_noun(clause, mentions)
        steps = self._steps(clause, verbs, mentions, items)
        self._who_does(clause, steps, mentions)
        self._label(clause, mentions)
        self._relate(clause, mentions, steps)
        self._stands_ahead(clause, mentions, bool(verbs))
        if not verbs and self._grits(clause, items, steps):
            return
        self._values(clause, items, chosen, covered, mentions, steps)

    def _of_coats(self, group: list[Match]) -> bool:
        """`three coats of poly on the floor`: what is put on it, and not what it is of."""
        first = group[0].start
        words = [t.text for t in self.tokens[max(0, first - 2) : first]]
        coats = len(words) == 2 and words[1] == "of" and words[0] in ("coat", "coats", "layer", "layers")
        return coats and group[0].value is not None and group[0].value.get("product") is not None

    def _stands_ahead(self, clause: Clause, mentions: list[Mention], does: bool) -> None:
        """Keep the parts that are only named, each between commas: what follows may be done to all of them."""
        inside = {p for m in mentions for p in range(m.start, m.end)}
        bare = all(
            p in inside or self.language.has("articles", self.tokens[p].text) for p in range(clause.start, clause.stop)
        )
        parts = [
            t.id for m in mentions if m.sense.role == "part" and not m.prep and (t := self.things.of(m)) is not None
        ]
        alone = bare and not does and parts and len(parts) == len(mentions) and not clause.denied and not clause.unknown
        self.ahead = [*self.ahead, *parts] if alone else []

    def _trade(self, clause: Clause, mentions: list[Mention]) -> None:
        """`add two outlets, electrician for that`: a trade by itself does the step before it."""
        words = {t.text for t in self.tokens[clause.start : clause.stop]}
        step = self.frames.last
        trades = self.board.vocabulary.taxonomies["who"].below("hired firm")
        told = [m for m in mentions if m.sense.role == "who" and m.sense.name in trades]
        if told and step is not None and step in self.frames.sentence and not words & _TELLS:
            self.board.put(step, "who", told[0].sense.name, self.span(told[0].start, told[0].end))
