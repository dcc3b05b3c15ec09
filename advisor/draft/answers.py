"""A question of the advisor with its answer behind it: `How deep is the bowl of the sink? 9 in.`"""

from __future__ import annotations

from collections.abc import Iterator

from advisor.draft.board import Board, Thing
from advisor.draft.lexicon import Lexicon
from advisor.draft.tokens import Token, folded
from advisor.plan.values import BadValueError, scalar_value
from advisor.rulebase.vocabulary import Attribute, fold

_LONGEST_NAME = 8  # words between the two halves of a question


class Answers:
    """Takes questions and answers; stretches of tokens that it took are heard."""

    def __init__(self, text: str, tokens: list[Token], lexicon: Lexicon, board: Board) -> None:
        self.text, self.tokens, self.lexicon, self.board = text, tokens, lexicon, board
        self._terms: dict[str, dict[tuple[str, ...], str]] = {}
        self._until = -1  # the token up to which an answer was taken

    def take(self, start: int, stop: int, question: bool) -> bool:
        """Whether the sentence was a question with its answer, or is part of an answer that was taken."""
        if start < self._until:
            return True
        if self._introduced(start, stop):
            return True
        if not question or stop + 1 >= len(self.tokens):
            return False
        end = self._answer_end(stop + 1)
        words = [t.text for t in self.tokens[start:stop]]
        for attribute, name in self._asked(words):
            thing = self._owner(attribute, name, start)
            if thing is None:
                continue
            raw = self.text[self.tokens[stop + 1].start : self.tokens[end - 1].end].strip()
            if self._put(thing, attribute, raw, start, end):
                self._until = end + 1
                return True
        return False

    def _answer_end(self, place: int) -> int:
        while place < len(self.tokens):
            token = self.tokens[place]
            last = place + 1 == len(self.tokens) or self.tokens[place + 1].start > token.end
            if token.sort == "break" or token.text == "?" or (token.text == "." and last):
                return place
            place += 1
        return place

    def _asked(self, words: list[str]) -> Iterator[tuple[Attribute, list[str]]]:
        for length in (3, 2, 1, 0):
            for head, tail, attribute in self.lexicon.asks().get(tuple(words[:length]), ()):
                tail = tail[:-1] if tail[-1:] == ("?",) else tail
                own = head[:-1] if head[-1:] == ("?",) else head
                if tuple(words[: len(own)]) != own:
                    continue
                name = words[len(own) : len(words) - len(tail)]
                if tuple(words[len(words) - len(tail) :] if tail else ()) == tail and len(name) <= _LONGEST_NAME:
                    yield attribute, name

    def _owner(self, attribute: Attribute, name: list[str], start: int) -> Thing | None:
        if attribute.sort in ("house", "code", "crew", "budget"):
            return self.board.single(attribute.sort) if not name else None
        wanted = fold(" ".join(name).removeprefix("the "))
        things = self.board.things[attribute.sort]
        for number in range(3):
            found = [t for t in things if wanted and wanted == fold((t.id, t.words, t.kind)[number])]
            if found:
                return found[0] if len(found) == 1 else None
        return None

    def _put(self, thing: Thing, attribute: Attribute, raw: str, start: int, end: int) -> bool:
        place = (self.tokens[start].start, self.tokens[end - 1].end)
        bare = [part.strip().strip('"“”') for part in raw.split(";")]
        members = bare if attribute.many else [raw.strip('"“”')]
        if attribute.type == "profile":
            return self.board.put(thing, attribute.name, "{" + raw + "}", place, over=True)
        if attribute.type == "ref":
            ids = {fold(t.id): t.id for t in self.board.things[attribute.of]}
            found = [ids.get(fold(one), "") for one in members]
            return all(found) and self.board.put(
                thing, attribute.name, found if attribute.many else found[0], place, over=True
            )
        if fold(raw.strip('"')) in ("none", "nothing") and attribute.many:
            return self.board.put(thing, attribute.name, ["none"], place, over=True)
        try:
            read = [scalar_value(attribute, one, self.board.vocabulary, lambda a, t: "") for one in members]
        except BadValueError:
            return False
        if attribute.type in ("term", "yes_no"):
            members = [str(one) for one in read]
        return self.board.put(thing, attribute.name, members if attribute.many else members[0], place, over=True)

    def _introduced(self, start: int, stop: int) -> bool:
        """`There is a wall called "back wall".`, `The step "smooth" is to sand "casing".`: a thing with its name."""
        tokens = self.tokens[start:stop]
        words = [t.text for t in tokens]
        span = (self.tokens[start].start, self.tokens[stop - 1].end)
        if words[:2] == ["there", "is"] and "called" in words[3:] and tokens[-1].sort == "name":
            kind_words = words[3 : words.index("called")]
            sort = ""
            if kind_words[1:2] == [","] and kind_words[-1:] == [","] and kind_words[0] in ("room", "part", "product"):
                sort, kind_words = kind_words[0], kind_words[2:-1]
            for one in (sort,) if sort else ("room", "part", "product"):
                kind = self._term(f"{one}_kind", kind_words)
                if kind:
                    return self.board.add(one, kind, words[-1], span, own=words[-1], called=True) is not None
        if words[:2] == ["the", "step"] and len(words) > 5 and tokens[2].sort == "name" and words[3:5] == ["is", "to"]:
            names = [t.text for t in tokens[5:] if t.sort == "name"]
            action = self._term("action", [t.text for t in tokens[5:] if t.sort != "name" and t.text != ","])
            ids = {t.id for t in self.board.things["part"]}
            if action and set(names) <= ids:
                step = self.board.add("step", action, action, span, attribute="do", own=words[2])
                if step is not None and names:
                    self.board.put(step, "to", names, span)
                return step is not None
        return False

    def _term(self, taxonomy: str, words: list[str]) -> str:
        known = self.board.vocabulary.taxonomies[taxonomy]
        terms = self._terms.setdefault(taxonomy, {folded(t): t for t in known.terms if t not in known.groups})
        return terms.get(tuple(words), "")
