"""What is told as moving rather than as done: `old sink out, new sink in`, `the carpet comes up first`."""

from __future__ import annotations

from advisor.draft.items import Item
from advisor.draft.lexicon import Lexicon, Sense
from advisor.draft.tokens import Token

_GONE = frozenset({"came", "went"})
_GOING = frozenset({"comes", "come", "goes", "go", "gets", "get", "coming", "going"}) | _GONE
_OUT = frozenset({"off", "out", "away"})
_IN = frozenset({"in", "on", "down", "up"})
_SUBJECTS = frozenset({"it", "they", "one", "ones", "them", "those"})
_AND_THEN = frozenset({"and", "then", "but", "after", "before", "once", "when", "so"})


class Moved:
    """Finds the particles of a text that stand for a verb."""

    def __init__(self, lexicon: Lexicon, tokens: list[Token]) -> None:
        self.lexicon, self.tokens, self.language = lexicon, tokens, lexicon.language
        kinds = lexicon.vocabulary.taxonomies["part_kind"]
        # of these `off` and `on` say how they are switched
        self.switched = frozenset(
            kind
            for one in ("electrical", "appliance", "shutoff valve", "water main", "water heater", "heater", "furnace")
            if one in kinds.terms
            for kind in kinds.below(one)
        )
        self.coverings = frozenset(
            kind for one in ("floor covering", "underlayment") if one in kinds.terms for kind in kinds.below(one)
        )

    def find(self, items: list[Item], start: int, stop: int) -> list[Item]:
        """The items of a sentence with a verb for each thing that is told as moving, in their order."""
        found: list[Item] = []
        begin = start
        for place in range(start, stop + 1):
            if place < stop and not self._parts_clauses(place) and not self._ends_here(items, place):
                continue
            own = [i for i in items if begin <= i.start and i.end <= place]
            if begin < place and not any(i.verb is not None for i in own):
                moved = self._moves(own, begin, place)
                if moved is not None:
                    found.append(moved)
            begin = place if place < stop and not self._parts_clauses(place) else place + 1
        if not found:
            return items
        taken = {p for item in found for p in range(item.start, item.end)}
        rest = [i for i in items if not taken & set(range(i.start, i.end))]
        return sorted([*rest, *found], key=lambda i: i.start)

    def _ends_here(self, items: list[Item], place: int) -> bool:
        """`traps off old sink out new sink in`: behind a particle that goes with the thing before it."""
        word = self.tokens[place - 1].text if place > 1 else ""
        if word not in _OUT | _IN or not any(i.end == place - 1 and i.get("part") for i in items):
            return False
        here = self.tokens[place].text
        named = any(i.start == place and (i.verb is not None or i.roles() & {"part", "product"}) for i in items)
        return named or here in ("old", "new", "existing")

    def _parts_clauses(self, place: int) -> bool:
        token = self.tokens[place]
        return token.sort in ("mark", "break") or token.text in _AND_THEN

    def _moves(self, own: list[Item], start: int, stop: int) -> Item | None:
        """The particle of a clause, with what goes before it, where a thing stands right before that."""
        end = stop
        while end > start and (behind := self._past_behind(start, end) or int(self._by_the_way(end - 1))):
            end -= behind
        gone = self._has_to_go(own, start, end) or self._is_out(own, start, end)
        if (gone := gone or self._elsewhere(own, start, end)) is not None:
            return gone
        at = end - 1
        word = self.tokens[at].text if at > start else ""
        if word not in _OUT | _IN:
            return None
        if at == start + 1 and self.tokens[start].text == "back" and word in _IN:
            sense = Sense("action", "reinstall", "moved")  # `baseboards off, back on last`
            return Item(start, end, (sense,), verb=sense)
        first = at
        while first - 1 > start and (
            self.tokens[first - 1].text in _GOING
            or self.tokens[first - 1].text in ("back", "can", "will", "then", "right")
        ):
            first -= 1
        between = {self.tokens[p].text for p in range(first, at)}
        going = bool(between & _GOING)
        thing = next((i for i in own if i.end == first and i.get("part")), None)
        subject = self.tokens[first - 1].text
        told_apart = subject in ("old", "new", "existing")
        if thing is None and not told_apart and not (subject in _SUBJECTS and (going or subject in ("one", "ones"))):
            return None
        if thing is not None and not going and not self._opens(own, thing, start):
            return None
        if thing is not None and "come" in between and not subject.endswith("s") and "will" not in between:
            return None  # `the rod come down`: by itself
        action = self._action(word, thing, going=going, back="back" in between)
        if thing is None and told_apart and "back" not in between:
            action = "install" if subject == "new" else "remove"  # `old down, new up`
        if not action:
            return None
        sense = Sense("action", action, "done" if between & _GONE else "moved")
        return Item(first, end, (sense,), verb=sense)

    def _is_out(self, own: list[Item], start: int, end: int) -> Item | None:
        """`the carpet is already out`, `the old vanity is gone`, `I have the doors off`: done."""
        at = end - 1
        word = self.tokens[at].text if at > start else ""
        if word != "gone" and word not in _OUT | _IN:
            return None
        first = at
        while first - 1 > start and self._by_the_way(first - 1):
            first -= 1
        thing = next((i for i in own if i.get("part") and i.start >= start and i.end in (first, first - 1)), None)
        if thing is None or (sense := thing.get("part")) is None:
            return None
        is_so = thing.end == first - 1 and self.language.has("is so", self.tokens[first - 1].text)
        before = [t.text for t in self.tokens[max(start, thing.start - 4) : thing.start]]
        has = thing.end == first and any(self.language.has("has it", w) for w in before)
        if not (is_so or has) or (sense.name in self.switched and word not in ("out", "gone")):
            return None
        plain = "out" if word == "gone" else word
        action = self._action(plain, thing, going=False, back=False)
        if not action:
            return None
        done = Sense("action", action, "done")
        return Item(thing.end, end, (done,), verb=done)

    def _has_to_go(self, own: list[Item], start: int, end: int) -> Item | None:
        """`the carpet has to go`, `old tub is going`: out, for good."""
        for words in sorted(self.language.words["has to go"], key=len, reverse=True):
            first = end - len(words)
            thing = next((i for i in own if i.end == first and i.get("part")), None)
            if thing is not None and first > start and tuple(t.text for t in self.tokens[first:end]) == words:
                sense = Sense("action", "remove", "moved")
                return Item(first, end, (sense,), verb=sense)
        return None

    def _elsewhere(self, own: list[Item], start: int, end: int) -> Item | None:
        """`the microwave on the counter moves to a shelf`: what the clause begins with; not `the fan moves air`."""
        thing = next((i for i in own if i.get("part")), None)
        if thing is None or not self._opens(own, thing, start):
            return None
        for words in sorted(self.language.words["gets another place"], key=len, reverse=True):
            for first in range(thing.end, end - len(words) + 1):
                behind = self.tokens[first + len(words)] if first + len(words) < end else None
                where = behind is not None and (
                    behind.sort == "number" or self.language.has("prepositions", behind.text) or behind.text in _IN
                )
                if where and tuple(t.text for t in self.tokens[first : first + len(words)]) == words:
                    sense = Sense("action", "move", "moved")
                    return Item(first, first + len(words), (sense,), verb=sense)
        return None

    def _past_behind(self, start: int, end: int) -> int:
        """How many words before a place tell that it was some time ago: `last week`, `yesterday`."""
        past = self.language.words["past"]
        return next((n for n in (3, 2, 1) if end - n > start and tuple(
            t.text for t in self.tokens[end - n : end]) in past), 0)  # fmt: skip

    def _by_the_way(self, place: int) -> bool:
        words = self.language.words
        text = (self.tokens[place].text,)
        return text in words["adverbs"] or text[0] in (
            "last",
            "next",
            "today",
            "tomorrow",
            "again",
            "too",
            "afterwards",
            "first",
            "saturday",
            "sunday",
        )

    def _opens(self, own: list[Item], thing: Item, start: int) -> bool:
        """Whether nothing but little words and its own values stand before the thing."""
        inside = {p for i in own if i.end <= thing.start and not i.get("action") for p in range(i.start, i.end)}
        language = self.language
        return all(
            p in inside
            or any(language.has(group, self.tokens[p].text) for group in ("articles", "adjectives", "adverbs"))
            for p in range(start, thing.start)
        )

    def _action(self, word: str, thing: Item | None, *, going: bool, back: bool) -> str:
        sense = thing.get("part") if thing is not None else None
        kind = sense.name if sense is not None else ""
        if kind in self.switched and word in ("off", "on") and not going:
            return ""
        if back and word in _IN:
            return "reinstall"
        if word in _OUT or (word in ("up", "down") and self._comes(thing, going, word)):
            return "remove"
        if word in ("up", "down") and not going and sense is not None:
            return (
                "remove" if (kind in self.coverings) == (word == "up") else "install"
            )  # `carpet up`, `old light down`
        return "install" if word in _IN else ""

    def _comes(self, thing: Item | None, going: bool, word: str) -> bool:
        if not going:
            return False
        first = thing.end if thing is not None else 0
        return any(t.text in ("comes", "come", "coming") for t in self.tokens[first : first + 3]) if thing else False
