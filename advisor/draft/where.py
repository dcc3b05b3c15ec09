"""Money and measures that a text counts in: where they speak against the country of the rules, none is presumed."""

from __future__ import annotations

from collections.abc import Sequence

from advisor.draft.board import Board
from advisor.draft.language import Language
from advisor.draft.tokens import Token

_FEW = 2  # metric measures that say something, as in a plan (`plan/place.py`)


def counted_elsewhere(tokens: Sequence[Token], language: Language) -> bool:
    """Whether it counts in foreign money, or in measures that are not those of the country of the rules.

    A word that nobody there writes (`°C`, `mm2`) tells it where no measure of that country stands beside.
    """
    sure = metric = home = 0
    for place, token in enumerate(tokens):
        if language.has("money of elsewhere", token.text):
            return True
        sure += any(_words(tokens, place, n) in language.words["measures of elsewhere"] for n in (1, 2, 3))
        if place and tokens[place - 1].text[:1].isdigit():
            metric += language.has("metric units", token.text)
            home += language.has("units of home", token.text)
    return bool(sure and not home) or (metric >= _FEW and metric > home)


def placed_there(board: Board, tokens: Sequence[Token], language: Language) -> bool:
    """Whether a country was offered that may be the house's, and not where some goods come from."""
    before = {token.start: tokens[place - 1].text for place, token in enumerate(tokens) if place}
    return any(
        any((way.sort, way.attribute) == ("house", "country") for way in one.candidates)
        and not language.has("come from", before.get(one.span[0], ""))
        for one in board.unsure
    )


def _words(tokens: Sequence[Token], place: int, length: int) -> tuple[str, ...]:
    return tuple(token.text for token in tokens[place : place + length])
