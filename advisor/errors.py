"""The one way in which bad input is reported: every mistake with file, line and what was expected."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple


class Problem(NamedTuple):
    """One mistake in an input file. `line` and `column` count from 1; 0 where the file as a whole is meant."""

    file: str
    line: int
    column: int
    message: str

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}" if self.line else self.file
        return f"{place}: {self.message}"


class InputError(Exception):
    """Input that cannot be used; carries all its problems, in order of place."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = sorted(set(problems))
        super().__init__("\n".join(map(str, self.problems)))


def nearest(word: str, choices: Iterable[str], least: float = 60) -> str | None:
    """The choice that looks most like `word`, or None where none comes near."""
    from rapidfuzz import fuzz, process  # only a mistake needs it, and importing costs
    from rapidfuzz.distance import OSA

    known = sorted(choices)
    # One slip of the finger, two letters swapped included, comes before any likeness of the whole.
    slip = process.extractOne(word.lower(), known, scorer=OSA.distance, score_cutoff=1) if len(word) > 2 else None
    found = slip or process.extractOne(word.lower(), known, scorer=fuzz.WRatio, score_cutoff=least)
    return str(found[0]) if found else None


def did_you_mean(word: str, choices: Iterable[str]) -> str:
    """` Did you mean 'x'?` for the nearest choice, or nothing where none is truly near."""
    near = nearest(word, choices, least=70)
    return f" Did you mean '{near}'?" if near else ""


def clip(text: str, length: int = 60) -> str:
    """Text of the input shortened for a message, with control characters made visible."""
    clean = "".join(c if c.isprintable() else "�" for c in text)
    return clean if len(clean) <= length else clean[: length - 1] + "…"
