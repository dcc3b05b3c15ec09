"""The one way in which bad input is reported: every mistake with file, line and what was expected."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import NamedTuple


class Problem(NamedTuple):
    """One mistake in an input file. `line` and `column` count from 1; 0 where the file as a whole is meant."""

    file: str
    line: int
    column: int
    message: str

    def __str__(self) -> str:
        file = clip(self.file, _LONGEST_NAME)  # a file may have any name
        place = f"{file}:{self.line}" if self.line else file
        return f"{place}: {self.message}"


class InputError(Exception):
    """Input that cannot be used; carries all its problems, in order of place."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = sorted(set(problems))
        super().__init__("\n".join(map(str, self.problems)))


_LONGEST_NAME = 1_000  # letters


def nearest(word: str, choices: Iterable[str]) -> str | None:
    """The choice that `word` may be a slip of, or shares a whole word with; None where none is truly near.

    A guess that is far off leads astray: 'shovel' is no slip of 'shoe covers'.
    """
    from rapidfuzz import fuzz, process  # only a mistake needs it, and importing costs
    from rapidfuzz.distance import OSA

    known, text = sorted(choices), word.lower()
    # One slip of the finger, two letters swapped included, comes before any likeness of the whole.
    if len(text) > 2 and (slip := process.extractOne(text, known, scorer=OSA.distance, score_cutoff=1)):
        return str(slip[0])
    if like := process.extractOne(text, known, scorer=fuzz.ratio, score_cutoff=_LIKE):
        return str(like[0])
    # 'sink bowl' and 'sink', 'gipsum' and 'gypsum board', 'sledgehammer' and 'hammer'
    shortest_last = sorted(known, key=lambda one: (-len(one), one))
    owners = {part: choice for choice in shortest_last for part in (choice, *_words(choice.lower()))}
    parts = sorted(part for part in owners if len(part) >= _WORD)
    for own in (text, *_words(text)) if len(text) >= _WORD else ():
        if found := process.extractOne(own, parts, scorer=fuzz.ratio, score_cutoff=_LIKE_WORD):
            return owners[str(found[0])]
    ending = max((part for part in parts if len(part) > _WORD and text.endswith(part)), key=len, default="")
    return owners[ending] if ending else None


def _words(text: str) -> list[str]:
    return re.split("[ _@]+", text)


_LIKE, _LIKE_WORD = 76, 82  # percent of letters in common: of the whole, and of a single word in it
_WORD = 4  # letters: shorter words are alike by chance


def did_you_mean(word: str, choices: Iterable[str]) -> str:
    """` Did you mean 'x'?` for the nearest choice, or nothing where none is truly near."""
    near = nearest(word, choices)
    return f" Did you mean '{near}'?" if near else ""


_LISTED = 24  # names that a message lists; more are found where it says


def allowed(word: str, choices: Iterable[str], where: str = "") -> str:
    """The nearest choice, and all that may stand there; where they are very many, `where` to look for them."""
    known = list(choices)
    listed = f" Expected one of: {', '.join(clip(one) for one in known)}." if 0 < len(known) <= _LISTED else ""
    return did_you_mean(word, known) + (listed or (f" {where}" if where else ""))


def clip(text: str, length: int = 60) -> str:
    """Text of the input shortened for a message, with control characters made visible."""
    clean = "".join(c if c.isprintable() else "�" for c in text)
    return clean if len(clean) <= length else clean[: length - 1] + "…"
