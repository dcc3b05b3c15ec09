"""Wide names told closer by what is said beside them: a floor of concrete is a slab, testing an alarm is its test."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from advisor.draft.board import Board, Thing
from advisor.draft.language import Language
from advisor.draft.tokens import Token

_NEAR = 8  # words on either side of a name that tell of it


class Closer:
    """Reads the rows of `rules/language/closer.yaml` against what is on the board at the end."""

    def __init__(self, board: Board, tokens: Sequence[Token], language: Language) -> None:
        self.board, self.tokens, self.language = board, tokens, language

    def tell(self) -> None:
        """Narrow each part, product and step of which more is told than its name says."""
        wide = {row["kind"] for row in self.language.closer_kinds if "kind" in row}
        names = {name for row in self.language.closer_kinds for name in row.get("name", ())}
        things = [t for sort in ("part", "product") for t in self.board.things[sort]]
        for thing in [t for t in things if t.kind in wide or t.words in names]:
            row = next((r for r in self.language.closer_kinds if self._fits(thing, r)), None)
            if row is not None:
                thing.facts["kind"].value = row["is"]
        verbs = {row["do"] for row in self.language.closer_verbs}
        for step in [s for s in self.board.steps if s.kind in verbs]:
            row = next((r for r in self.language.closer_verbs if self._does(step, r)), None)
            if row is not None:
                step.facts["do"].value = row["is"]

    def _fits(self, thing: Thing, row: dict[str, Any]) -> bool:
        either = self.language.either_kind.get(thing.words, [])
        named = thing.words in row.get("name", ()) and thing.kind in either
        if (thing.kind != row["kind"] if "kind" in row else not named) or thing.called or thing.kind == row["is"]:
            return False
        if "kind" in row and "name" in row and thing.words not in row["name"]:
            return False
        room = self._named(thing, "room")
        told = {str(thing.facts["material"].value)} if "material" in thing.facts else set()
        stuff = self.board.vocabulary.taxonomies["material"]
        return (
            ("room" not in row or (bool(room) and room[0].kind == row["room"]))
            and ("material" not in row or any(told & set(stuff.below(m)) for m in row["material"]))
            and ("has" not in row or row["has"] in thing.facts)
            and ("said" not in row or bool(self._said_beside(thing) & set(row["said"])))
            and ("with" not in row or self._beside(thing, row["with"]))
        )

    def _does(self, step: Thing, row: dict[str, Any]) -> bool:
        if step.kind != row["do"]:
            return False
        steps, actions = self.board.steps, self.board.vocabulary.taxonomies["action"]
        at = steps.index(step)
        before = steps[at - 1].kind if at else ""
        word = {t.text for s, e in step.facts["do"].spans for t in self.tokens if s <= t.start < e}
        to, using = self._named(step, "to"), self._named(step, "using")
        if any(t.called for t in to):
            return False  # a plan that was said: its verbs are as they stand
        return (
            ("to" not in row or (bool(to) and all(self._is_one(t, row["to"]) for t in to)))
            and ("using" not in row or any(self._is_one(t, row["using"]) for t in using))
            and ("word" not in row or bool(word & set(row["word"])))
            and ("after" not in row or any(before in actions.below(one) for one in row["after"]))
        )

    def _named(self, thing: Thing, name: str) -> list[Thing]:
        fact = thing.facts.get(name)
        own = fact.value if fact is not None else []
        return [t for one in ([own] if isinstance(own, str) else own) if (t := self.board.named(one)) is not None]

    def _is_one(self, thing: Thing, kinds: list[str]) -> bool:
        taxonomy = self.board.vocabulary.taxonomies[f"{thing.sort}_kind"]
        return any(thing.kind in taxonomy.below(one) for one in kinds if one in taxonomy.terms)

    def _said_beside(self, thing: Thing) -> set[str]:
        """The words of the clause around each place where it is named."""
        found: set[str] = set()
        for at in self._places(thing):
            for step in (-1, 1):
                for p in range(at, at + step * _NEAR, step):
                    if not 0 <= p < len(self.tokens) or self.tokens[p].sort == "break" or self.tokens[p].text in ".;!?":
                        break
                    found.add(self.tokens[p].text)
        return found

    def _places(self, thing: Thing) -> list[int]:
        starts = {start for start, _ in thing.facts["kind"].spans}
        return [p for p, token in enumerate(self.tokens) if token.start in starts]

    def _beside(self, thing: Thing, kinds: list[str]) -> bool:
        """Whether another part of one of these kinds is named close by."""
        mine = self._places(thing)
        others = [t for t in self.board.things["part"] if t is not thing and self._is_one(t, kinds)]
        return any(abs(a - b) <= 2 * _NEAR for a in mine for other in others for b in self._places(other))
