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
            raw = self.text[self.tokens[stop + 1].start : self.tokens[end - 1].end].strip().strip("\"“”")
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
        for thing in self.board.things[attribute.sort]:
            if wanted and wanted in (fold(thing.id), fold(thing.words), fold(thing.kind)):
                return thing
        return None

    def _put(self, thing: Thing, attribute: Attribute, raw: str, start: int, end: int) -> bool:
        place = (self.tokens[start].start, self.tokens[end - 1].end)
        members = [part.strip().strip("\"“”") for part in raw.split(";")] if attribute.many else [raw]
        if attribute.type == "profile":
            return self.board.put(thing, attribute.name, raw, place, over=True)
        if attribute.type == "ref":
            ids = {fold(t.id): t.id for t in self.board.things[attribute.of]}
            found = [ids.get(fold(one), "") for one in members]
            return all(found) and self.board.put(thing, attribute.name, found if attribute.many else found[0], place, over=True)
        if fold(raw) in ("none", "nothing") and attribute.many:
            return self.board.put(thing, attribute.name, ["none"], place, over=True)
        try:
            for one in members:
                scalar_value(attribute, one, self.board.vocabulary, lambda a, t: "")
        except BadValueError:
            return False
        return self.board.put(thing, attribute.name, members if attribute.many else members[0], place, over=True)

    def _introduced(self, start: int, stop: int) -> bool:
        """`There is a wall called "back wall".`, `The first step, "smooth", is to sand.`: a thing with its name."""
        words = [t.text for t in self.tokens[start:stop]]
        if words[:2] == ["there", "is"] and "called" in words and self.tokens[stop - 1].sort == "name":
            at = words.index("called")
            sort = next((s for s in ("room", "part", "product") if words[2:5] == ["a", s, "called"] or words[2:6] == ["a", s, "of", "the"]), "")
            kind_words = words[3:at]
            if sort and len(kind_words) > 1 and kind_words[0] == sort:
                kind_words = kind_words[1:]
            return self._introduce(sort, kind_words, self.tokens[stop - 1].text, start, stop)
        if words[:2] == ["the", "step"] and stop - start > 5 and self.tokens[start + 2].sort == "name" and words[3:5] == ["is", "to"]:
            span = (self.tokens[start].start, self.tokens[stop - 1].end)
            action = self._term("action", words[5:])
            if action:
                self.board.add("step", action, action, span, attribute="do", own=self.tokens[start + 2].text)
                return True
        return False

    def _introduce(self, sort: str, kind_words: list[str], own: str, start: int, stop: int) -> bool:
        span = (self.tokens[start].start, self.tokens[stop - 1].end)
        for one in (sort,) if sort else ("room", "part", "product"):
            kind = self._term(f"{one}_kind", kind_words)
            if kind:
                self.board.add(one, kind, own, span, own=own)
                return True
        return False

    def _term(self, taxonomy: str, words: list[str]) -> str:
        for term in self.board.vocabulary.taxonomies[taxonomy].terms:
            if list(folded(term)) == words and self.board.vocabulary.taxonomies[taxonomy].said(term):
                return term
        return ""
