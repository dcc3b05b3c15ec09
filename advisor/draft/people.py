"""Who is in the house and who does the work: children by their age, helpers, animals."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from advisor.draft.board import Board, Candidate, Span, Unsure
from advisor.draft.clauses import Clause
from advisor.draft.language import Language
from advisor.draft.mentions import Mention
from advisor.draft.tokens import Token

Spans = Callable[[int, int], Span]


class People:
    """Hears of people; what stays unclear is offered."""

    def __init__(self, board: Board, tokens: list[Token], language: Language) -> None:
        self.board, self.tokens, self.language = board, tokens, language
        self.taken: set[int] = set()  # places of words that are known
        self.helping: set[str] = set()  # who helps, as they are called
        self.counted = False  # how many are at work was not told but counted

    def hear(self, clause: Clause, mentions: list[Mention], span: Spans, told: bool = False) -> None:
        """The people of a clause that tells something."""
        if clause.unknown:
            return
        self._helpers(clause, mentions, span)
        helping = any((t.text,) in self.language.words["helping"] for t in self.tokens[clause.start : clause.stop])
        if not clause.denied and not told and not helping and not self._is_so_old(clause, span):
            self._children(clause, span)
            self._named_child(clause, span)

    def _helpers(self, clause: Clause, mentions: list[Mention], span: Spans) -> None:
        crew = self.board.single("crew")
        helping = [
            p for p in range(clause.start, clause.stop) if (self.tokens[p].text,) in self.language.words["helping"]
        ]
        for mention in mentions:
            if mention.sense.role != "who" or mention.sense.name != "helper" or clause.denied:
                continue
            place = span(mention.start, mention.end)
            self.board.heard.append((place, "words: a person"))
            with_me = self._with_me(clause, mention)
            if (helping or with_me) and "conditional" not in clause.cues:
                one = not mention.before and not mention.words.endswith("s")
                if one and not self._called(mention, mentions):
                    self.helping.add(mention.words)
                if "people" not in crew.facts and one:
                    self.board.put(crew, "people", "2", place)
                    self.counted = True
                elif mention.before and mention.before[0].amount is not None and mention.before[0].amount.number < 20:
                    self.board.put(crew, "people", str(int(mention.before[0].amount.number) + 1), place)
                for p in helping:
                    self.board.heard.append((span(p, p + 1), "words: helps"))

    def _is_so_old(self, clause: Clause, span: Spans) -> bool:
        """`my sons room … he is 4`: the age of a child that was spoken of."""
        words = [t.text for t in self.tokens[clause.start : clause.stop]]
        head = 1 if words[:1] and words[0] in ("hes", "shes") else 2
        if head == 2 and words[:2] not in (["he", "is"], ["she", "is"]):
            return False
        place = clause.start + head
        number = self.tokens[place] if place < clause.stop else None
        if number is None or number.value is None or number.value.denominator != 1 or number.value > 18:
            return False
        ends = place + 1 >= clause.stop or self.tokens[place + 1].text in ("and", "so", "now", "years", "yrs")
        near = self.tokens[max(0, clause.start - 25) : clause.start]
        if not ends or not any(self.language.has("kids", t.text) for t in near):
            return False
        house, under = self.board.single("house"), number.value < 6
        if under:
            self.board.put(house, "children_under_6", "1", span(clause.start, place + 1))
        else:
            ways = (Candidate("house", "house", "children_under_6", "0"),)
            self.board.unsure.append(Unsure(span(clause.start, place + 1), ways, "none younger?"))
        return True

    @staticmethod
    def _called(mention: Mention, mentions: list[Mention]) -> bool:
        """`my neighbor Greg`: the name behind tells who that is."""
        return any(m.start == mention.end and m.sense.role == "who" for m in mentions)

    def _named_child(self, clause: Clause, span: Spans) -> None:
        """`(Ollie, 3)`, `Ollie 3 climbs them`: a name with a small number behind it may be a child of that age."""
        for place in range(clause.start, clause.stop):
            token = self.tokens[place]
            if not token.capital or token.sort != "word" or self.language.has("little", token.text):
                continue
            if token.text in self.language.ordinary or any((token.text,) in g for g in self.language.words.values()):
                continue
            at = place + 1 + (place + 1 < len(self.tokens) and self.tokens[place + 1].text == ",")
            number = self.tokens[at] if at < len(self.tokens) else None
            behind = self.tokens[at + 1].text if at + 1 < len(self.tokens) else "."
            if number is None or number.value is None or number.value.denominator != 1 or number.value > 5:
                continue
            if (
                (
                    behind in (")", ".", ",", "\n", ";")
                    or (behind.isalpha() and not self.language.measures.units.get((behind,)))
                )
                and (place == clause.start or self.tokens[place - 1].text in ("(", ",", "and", "with", "our", "my"))
                and (place not in self.taken)
            ):
                ways = tuple(Candidate("house", "house", "children_under_6", n) for n in ("1", "0"))
                if "children_under_6" not in self.board.single("house").facts:
                    self.board.unsure.append(Unsure(span(place, at + 1), ways, "a child of that age?"))

    def _with_me(self, clause: Clause, who: Mention) -> bool:
        """`me and my nephew`, `my sister and i`: who works is told, and nothing else."""
        before = [t.text for t in self.tokens[max(clause.start - 2, 0) : who.start]]
        behind = [t.text for t in self.tokens[who.end : who.end + 2]]
        first = [w for w in before if w not in ("my", "our", "the")][-2:]
        return first in (["me", "and"], ["i", "and"], ["myself", "and"]) or behind in (
            ["and", "i"],
            ["and", "me"],
            ["and", "myself"],
        )

    def _children(self, clause: Clause, span: Spans) -> None:
        """`two kids, 3 and 5`, `a 4 year old`: those under six are counted; where no age is told it is offered."""
        stop = clause.stop
        if any(self.language.has("kids", t.text) for t in self.tokens[clause.start : stop]):
            stop = self._with_ages(stop)  # `two kids, 3 and 7`
        words = [t.text for t in self.tokens[clause.start : stop]]
        kids = [
            p for p, w in enumerate(words) if self.language.has("kids", w) and words[p + 1 : p + 3] != ["in", "law"]
        ]
        olds = [
            p
            for p in range(len(words) - 2)
            if words[p + 1] in ("year", "yr", "years") and words[p + 2] in ("old", "olds")
        ]
        if not kids and not (olds and self._a_child(words, olds[0])):
            return
        start = clause.start
        ages: list[tuple[Fraction, int, int]] = []
        last = 0
        for p in range(len(words)):
            found = self.language.measures.number(self.tokens[:stop], start + p)
            if found is None or p < last:
                continue
            last = found[1] - start
            follows = words[last] if last < len(words) else ""
            is_age = (
                p in olds
                or words[max(0, p - 1)] in ("aged", "age", "ages")
                or (kids and p > kids[0])
                or follows in ("year", "yr")
                or (words[max(0, p - 1)] == "and" and ages)
            )
            of_months = follows in ("month", "months", "mos", "mo", "week", "weeks", "days")
            if is_age and (of_months or found[0] < 19):
                ages.append((Fraction(0) if of_months else found[0], p, last))
        if not ages:
            months = "months" in words or "month" in words
            young = [p for p, w in enumerate(words) if self.language.has("young", w)]
            if months or young:
                self.board.put(
                    self.board.single("house"),
                    "children_under_6",
                    str(max(1, len(young))),
                    span(start + (young or kids)[0], start + (young or kids)[0] + 1),
                )
            elif kids:
                place = span(start + kids[0], start + kids[0] + 1)
                count = self._how_many(kids[0], start)
                ways = tuple(Candidate("house", "house", "children_under_6", n) for n in dict.fromkeys((count, "0")))
                if "children_under_6" not in self.board.single("house").facts:
                    self.board.unsure.append(Unsure(place, ways, "how old?"))
            return
        under = sum(age < 6 for age, _, _ in ages)
        first, end = start + min(p for _, p, _ in ages), start + max(e for _, _, e in ages)
        end = min(stop, end + 2) if olds else end
        place = span(min([first, *(start + k for k in kids)]), max([end, *(start + k + 1 for k in kids)]))
        if (
            not under
            and len(ages) == 1
            and not any(words[k].endswith(("s", "ren")) or words[k] in ("son", "daughter", "child") for k in kids)
        ):
            ways = (Candidate("house", "house", "children_under_6", "0"),)
            self.board.unsure.append(
                Unsure(place, ways, "none younger?")
            )  # one is told of, not that there are no others
            return
        self.board.put(self.board.single("house"), "children_under_6", str(under), place)

    def _with_ages(self, stop: int) -> int:
        place, last = stop, stop
        while place < len(self.tokens) and self.tokens[place].sort in ("mark", "word", "number"):
            found = self.language.measures.number(self.tokens[: place + 1], place)
            word = self.tokens[place].text
            if found is not None or word in ("months", "month", "old"):
                last = place + 1
            elif word not in (
                ",",
                "and",
                "age",
                "ages",
                "aged",
                "(",
                "theyre",
                "she",
                "he",
                "shes",
                "hes",
                "who",
                "whos",
                "just",
                "turned",
                "almost",
                "only",
                "about",
                "they",
                "are",
                "year",
                "years",
                "the",
                "other",
                "one",
                "is",
            ):
                break
            place += 1
        return last

    def _a_child(self, words: list[str], place: int) -> bool:
        following = words[place + 3] if place + 3 < len(words) else ""
        before = words[max(0, place - 2) : place]
        noun = following.isalpha() and (
            self.language.has("house words", following) or not self.language.has("little", following)
        )
        return any(w in ("a", "my", "our", "and", "with", "have") for w in before) and not noun

    def _how_many(self, kid: int, start: int) -> str:
        if kid:
            for back in (1, 2):
                found = (
                    self.language.measures.number(self.tokens[: start + kid], start + kid - back)
                    if kid >= back
                    else None
                )
                if found:
                    return str(int(found[0]))
        token = self.tokens[start + kid]
        owner = token.end - token.start > len(token.text)  # `my daughter's bedroom`
        return "2" if token.text.endswith(("s", "ren")) and not owner else "1"
