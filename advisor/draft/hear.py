"""From a text to what it says: sentence by sentence, clause by clause, each word accounted for."""

from __future__ import annotations

from advisor.draft.answers import Answers
from advisor.draft.attach import Attacher, Context
from advisor.draft.board import Board, Span, Thing
from advisor.draft.carries import Carries
from advisor.draft.clauses import Clause, asked_from, clauses, scope, sentences
from advisor.draft.coats import Coats
from advisor.draft.frames import Frames, made_of_others
from advisor.draft.items import Finder, Item, Match
from advisor.draft.lexicon import Lexicon
from advisor.draft.mentions import Mention, Namer
from advisor.draft.people import People
from advisor.draft.things import Things
from advisor.draft.tokens import Token, tokens_of

MOST_TOKENS = 6_000


class Hearer:
    """Hears one text. `board` holds what came of it."""

    def __init__(self, text: str, lexicon: Lexicon, table: Carries, board: Board) -> None:
        self.text, self.lexicon, self.board = text, lexicon, board
        self.language = lexicon.language
        self.tokens: list[Token] = tokens_of(text)[:MOST_TOKENS]
        self.finder = Finder(lexicon, self.tokens)
        self.namer = Namer(self.tokens, self.language)
        self.attacher = Attacher(board, lexicon, table)
        self.frames = Frames(board, self.tokens, self.language)
        self.things = Things(board, self.tokens, lexicon)
        self.people = People(board, self.tokens, self.language)
        self.condition = False
        self.owning = False

    def hear(self) -> Board:
        """All of the text."""
        answers = Answers(self.text, self.tokens, self.lexicon, self.board)
        for start, stop, question in sentences(self.tokens):
            if answers.take(start, stop, question):
                continue
            self._sentence(start, stop, question)
        made_of_others(self.board)
        self.things.fill_in()
        self.things.settle_rooms()
        return self.board

    def span(self, start: int, end: int) -> Span:
        """The letters of a stretch of tokens."""
        return self.tokens[start].start, self.tokens[max(start, end - 1)].end

    def _sentence(self, start: int, stop: int, question: bool) -> None:
        items = self.finder.items(start, stop)
        self.frames.begin_sentence()
        self.condition = False
        listed = clauses(self.tokens, start, stop, items, self.language)
        asked = asked_from(self.tokens, listed, self.language) if question else len(listed)
        for number, clause in enumerate(listed):
            own = [item for item in items if clause.start <= item.start and item.end <= clause.stop]
            matches = self.finder.sayings(own, clause.start, clause.stop)
            said = {p for m in matches for p in range(m.start, m.end) if m.saying.value}
            scope(clause, self.tokens, self.language, question and number >= asked, said)
            self._clause(clause, own, matches, listed[number - 1] if number else None)

    def _clause(self, clause: Clause, items: list[Item], matches: list[Match], before: Clause | None) -> None:
        for group, places in clause.cues.items():
            self.board.heard.extend((self.span(*place), f"words: {group}") for place in places)
        if clause.asked:
            self.board.heard.append((self.span(clause.start, clause.stop), "question"))
            return
        if clause.conditional or self.condition:
            self.condition = True
            if clause.conditional and not items:
                self.condition = clause.lead == "if"
            from advisor.draft.board import Unsure

            self.board.unsure.append(Unsure(self.span(clause.start, clause.stop), (), "only if"))
            return
        if before is not None and before.lead == "" and clause.lead == "," and not any(i.verb for i in items):
            clause.denied = clause.denied or False
        self._plain(clause, items, matches)

    # --- a clause that tells something ---------------------------------------------------------------------

    def _plain(self, clause: Clause, items: list[Item], matches: list[Match]) -> None:
        chosen = [group for group in self._chosen(matches, items) if not self._names_a_part(group, items)]
        covered = {p for group in chosen for p in range(group[0].start, group[0].end)}
        words = {p for group in chosen for p in range(group[0].start, group[0].end)
                 if group[0].value is None or not group[0].value.start <= p < group[0].value.end}  # fmt: skip
        for item in items:
            if item.verb is not None and item.start in covered:
                item.verb = None
            if item.verb is not None and (
                self.frames.is_state(item, clause)
                or not self.frames.supported(item, clause, self._somebody(items, item))
            ):
                item.verb = None
        known = {(t.sort, t.kind) for listed in self.board.things.values() for t in listed}
        names = {t.id: t.sort for s in ("room", "part", "product") for t in self.board.things[s]}
        mentions = self.namer.mentions(clause, items, words | covered, known, names, self.owning and clause.lead in (",", "and"))
        mentions = self.things.with_ones(clause, mentions)
        told = any(m.saying.attribute == "children_under_6" for group in chosen for m in group)
        self.people.hear(clause, mentions, self.span, told)
        self.things.resolve(clause, mentions, self.span, unknown=clause.unknown)
        if self._owns(clause, mentions):
            verbs: list[Item] = []
        else:
            verbs = [item for item in items if item.verb is not None]
        steps = self._steps(clause, verbs, mentions, items)
        if not verbs and self._grits(clause, items, steps):
            return
        self._values(clause, items, chosen, covered, mentions, steps)

    @staticmethod
    def _names_a_part(group: list[Match], items: list[Item]) -> bool:
        """`the hall has wallpaper`: a thing of the room, not what is on a part, where no part is named before it."""
        value = group[0].value
        if (
            value is None
            or not value.get("part")
            or any(m.saying.attribute not in ("has", "coating", "material", "core") for m in group)
        ):
            return False
        return not any(i.get("part") and i.end <= group[0].start for i in items) and any(
            i.get("room") and i.end <= group[0].start for i in items
        )

    def _chosen(self, matches: list[Match], items: list[Item]) -> list[list[Match]]:
        """Sayings grouped by their words, the longest first, none over another."""
        groups: dict[tuple[int, int], list[Match]] = {}
        for match in matches:
            groups.setdefault((match.start, match.end), []).append(match)
        found: list[list[Match]] = []
        taken: set[int] = set()
        for (start, end), group in sorted(groups.items(), key=lambda g: (g[0][0] - g[0][1], g[0])):
            places = set(range(start, end))
            cut = any(i.start in places and i.end > end and i.end - i.start > 1 and not i.amount for i in items) or any(
                i.start < start < i.end and i is not group[0].value for i in items
            )
            if places & taken or cut:
                continue
            taken |= places
            found.append(group)
        return sorted(found, key=lambda g: g[0].start)

    def _owns(self, clause: Clause, mentions: list[Mention]) -> bool:
        """Things that somebody has or is to get: tools are the crew's, products are entries, no step is made."""
        tools = [m for m in mentions if m.sense.role == "tool"]
        bare = not any(m.prep for m in tools)
        owning = "owns" in clause.cues and "not owned" not in clause.cues and not clause.denied
        carried = (
            self.owning
            and clause.lead in (",", "and")
            and bare
            and "not owned" not in clause.cues
            and not clause.denied
        )
        if "wearing" in clause.cues and tools and self.board.steps:
            for mention in tools:
                self.board.put(
                    self.board.steps[-1], "wearing", [mention.sense.name], self.span(mention.start, mention.end)
                )
            self.owning = False
            return False
        if (owning or carried) and tools and bare and not clause.unknown:
            for mention in tools:
                self.board.put(
                    self.board.single("crew"), "owns", [mention.sense.name], self.span(mention.start, mention.end)
                )
            self.owning = True
            return True
        self.owning = False
        if "not owned" in clause.cues or clause.denied:
            self.board.heard.extend((self.span(m.start, m.end), "not there") for m in tools)
        return (
            "owns" in clause.cues
            and "future" not in clause.cues
            and any(m.sense.role in ("product", "tool") for m in mentions)
        )

    # --- steps --------------------------------------------------------------------------------------------

    def _steps(
        self, clause: Clause, verbs: list[Item], mentions: list[Mention], items: list[Item]
    ) -> list[tuple[Item, Thing]]:
        made: list[tuple[Item, Thing]] = []
        waiting: list[
            tuple[Item, Thing]
        ] = []  # verbs whose object comes with a later one: `sand, prime and paint the doors`
        for number, item in enumerate(verbs):
            start = verbs[number - 1].end if number else clause.start
            stop = verbs[number + 1].start if number + 1 < len(verbs) else clause.stop
            span = self.span(item.start, item.end)
            for place in item.also:
                self.board.heard.append((self.span(place, place + 1), "words: part of the verb"))
            if clause.unknown or clause.denied:
                self.board.heard.append((span, "not to be done" if clause.denied else "unknown"))
                continue
            to, held = self.things.objects(
                clause,
                item,
                mentions,
                start,
                stop,
                passive=self.frames.passive(item, clause) or not self._follows(mentions, item, stop),
            )
            bare = not to
            inherited = False
            if not to and self.things.inner(item):
                pass
            elif not to and self._inherits(item) and not (self.frames.hangs(clause) and self.frames.told(item)):
                to, inherited = self.things.inherited(), True
            over = self.frames.is_over(clause, item)
            step = self.frames.step(clause, item, to, span, over=over, bare=bare)
            if step is None:
                continue
            step.bare = bare
            made.append((item, step))
            self.board.talk_of(step)
            for earlier, one in waiting if not bare else []:
                if one in self.board.steps and not one.drop:
                    self.board.put(one, "to", to, self.span(earlier.start, earlier.end), over=True)
            if (bare and item.end == stop) or inherited:
                waiting.append((item, step))
            elif not bare:
                waiting = []
            if to:
                self.board.last_to = to
            self.things.equip(step, held, self.span, clause)
            self._besides(step, item, span)
            self.things.embedded(step, item, self.span)
        return made

    @staticmethod
    def _somebody(items: list[Item], verb: Item) -> bool:
        """Whether a person who does it is named before a verb."""
        return any(i.get("who") and i.end <= verb.start and verb.start - i.end < 3 for i in items)

    def _grits(self, clause: Clause, items: list[Item], steps: list[tuple[Item, Thing]]) -> bool:
        """`36 grit, then 60, then 100`: numbers alone behind a grit go on with it; the finest counts."""
        step = self.board.steps[-1] if self.board.steps else None
        numbers = [i for i in items if i.amount is not None and i.amount.sort == "number" and not i.amount.unit]
        alone = numbers and len(numbers) == len(items) and clause.lead in (",", "and", "then", "or")
        if not alone or step is None or "grit" not in step.facts or self.frames.last is not step:
            return False
        first = step.facts.get("grits") or step.facts["grit"]
        listed = list(first.value) if isinstance(first.value, list) else [str(first.value)]
        for item in numbers:
            assert item.amount is not None
            listed.append(item.amount.text)
            span = self.span(item.start, item.end)
            self.board.put(step, "grits", listed, span, over=True)
            self.board.put(step, "grit", max(listed, key=int), span, over=True)
        return True

    def _besides(self, step: Thing, item: Item, span: Span) -> None:
        """What a verb says besides: to steam wallpaper off is to remove it by steam."""
        words = tuple(t.text for t in self.tokens[item.start : item.end])
        for name, value in self.lexicon.extras.get((words, "action"), ()):
            if name in self.board.vocabulary.attributes["step"]:
                self.board.put(step, name, value, span)

    @staticmethod
    def _follows(mentions: list[Mention], item: Item, stop: int) -> bool:
        return any(item.end <= m.start < stop and m.sense.role == "part" for m in mentions)

    def _inherits(self, item: Item) -> bool:
        words = self.language.words["inherits"]
        from advisor.draft.tokens import folded

        return item.verb is not None and folded(item.verb.name) in words

    # --- values -------------------------------------------------------------------------------------------

    def _values(
        self, clause: Clause, items: list[Item], chosen: list[list[Match]], covered: set[int],
        mentions: list[Mention], steps: list[tuple[Item, Thing]],
    ) -> None:  # fmt: skip
        taken = {p for m in mentions for p in range(m.item.start, m.item.end)}
        for mention in mentions:
            thing = self.things.of(mention)
            if thing is not None:
                self.things.modify(mention, thing, self.attacher, clause, self.span)
                taken.update(p for item in mention.before for p in range(item.start, item.end))
        coats = Coats(self, clause, mentions, steps)
        for group in chosen:
            start, end = group[0].start, group[0].end
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
            if item.verb is not None or places & covered or places & taken:
                continue
            if coats.says(item):
                continue
            self._bare(clause, item, items, mentions, steps)
        if not clause.unknown and not clause.denied:
            coats.colors(items)

    def _bare(
        self, clause: Clause, item: Item, items: list[Item], mentions: list[Mention], steps: list[tuple[Item, Thing]]
    ) -> None:
        span = self.span(item.start, item.end)
        names = self._names(items, item)
        context = self._context(clause, mentions, steps, item.start, item.end)
        context.names = names
        if clause.unknown:
            owners = {t.sort for t, _ in context.near} or {"house"}
            names = [s for s in item.senses if s.role == "attr" and s.of in (*owners, "house")]
            for sense in sorted(names, key=lambda s: s.name not in self.language.never_guessed)[:1]:
                self._leave_unknown(sense.of, sense.name, context, span)
            self.board.heard.append((span, "unknown"))
        elif not (item.amount or item.get("term") or item.get("tool") or item.get("who")):
            return
        elif clause.denied:
            self.board.heard.append((span, "denied"))
        elif item.amount is not None and item.amount.sort == "pair":
            self.things.pair(item, context, self.attacher, span)
        elif self.attacher.bare(item, context, span):
            for other in items:
                if names and other.get("attr") and any((s.of, s.name) in names for s in other.senses):
                    self.board.heard.append((self.span(other.start, other.end), "words: name of what is said"))

    def _names(self, items: list[Item], item: Item) -> list[tuple[str, str]]:
        """The attributes named beside a value, with nothing but little words between."""
        found: list[tuple[str, str]] = []
        for other in items:
            if other is item or other.verb is not None or not other.get("attr"):
                continue
            first, second = (other, item) if other.start < item.start else (item, other)
            between = self.tokens[first.end : second.start]
            if len(between) <= 4 and all(
                self.language.has("little", t.text) or t.text in (":", "=", "-") for t in between
            ):
                found += [(s.of, s.name) for s in other.senses if s.role == "attr"]
        return found

    def _context(
        self, clause: Clause, mentions: list[Mention], steps: list[tuple[Item, Thing]], start: int, end: int
    ) -> Context:
        near: dict[int, tuple[Thing, float]] = {}
        inside = [(m, t) for m in mentions if (t := self.things.of(m)) is not None]
        for number, (mention, thing) in enumerate(inside):
            distance = min(abs(mention.start - end), abs(start - mention.end))
            nearness = (
                1.5
                - 0.06 * min(distance, 12)
                + (0.6 if number == 0 and mention.end <= start else 0)
                + (0.6 if distance == 0 else 0)
            )
            if mention.sense.of == "name":
                nearness += 3.0
            if mention.prep in ("with", "using", "on", "in", "under", "from", "behind") and mention.end <= start:
                nearness -= 1.0 if thing.sort == "room" else 0.3
            if id(thing) not in near or near[id(thing)][1] < nearness:
                near[id(thing)] = (thing, nearness)
        weight = 1.3 if not near else 0.3
        for thing in self.board.focus[:4]:
            if thing.sort != "step" and id(thing) not in near:
                near[id(thing)] = (thing, weight)
                weight -= 0.5
        words = {t.text for t in self.tokens[clause.start : clause.stop]}
        house = any(self.language.has("house words", word) for word in words)
        behind = [step for item, step in steps if item.start <= start] or [step for _, step in steps]
        step = behind[-1] if behind else self.board.steps[-1] if self.board.steps and not inside else None
        return Context(list(near.values()), step, self.board.room, clause.hedged, clause.denied, house=house)

    def _leave_unknown(self, sort: str, attribute: str, context: Context, span: Span) -> None:
        owners = [t for t, _ in sorted(context.near, key=lambda o: -o[1]) if t.sort == sort]
        own = owners[0].id if owners else context.room.id if sort == "room" and context.room else sort
        self.board.unknown.append((sort, own, attribute, span))
        self.board.heard.append((span, "unknown"))
