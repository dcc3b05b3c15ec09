"""Sentences of a text: the first, as many as there is room for, and a reason without what is beside the point."""

from __future__ import annotations

import re
from functools import lru_cache

from advisor.reports.screen_words import screen_words
from advisor.review.wording import every_sentence


def sentence(text: str) -> str:
    """The first sentence of a text."""
    return every_sentence(text)[0]


def sentences(text: str, room: int) -> str:
    """As many whole sentences as there is room for, one at the least."""
    said = sentence(text)
    if len(said) > 2 * room and ": " in said:
        return f"{said.partition(': ')[0]}."  # a list that the sentence before it names
    while rest := text[len(said) :].strip():
        longer = f"{said} {sentence(rest)}"
        if len(longer) > room:
            break
        said = longer
    return said


def harm_told(because: str) -> str:
    """A reason without what only says that a code asks for it, how a figure was got or what to have at hand."""
    every = every_sentence(because)
    kept = [one for one in every if not _aside().search(one)] or every
    return " ".join(_few_of_list(one) for one in kept)


def _few_of_list(text: str) -> str:
    """Of a long list behind a colon its first three."""
    head, colon, tail = text.partition(": ")
    every = tail.rstrip(".").split(", ")
    return f"{head}: {', '.join(every[:3])} and so on." if colon and len(every) > 4 else text


@lru_cache(maxsize=1)
def _aside() -> re.Pattern[str]:
    return re.compile("|".join(screen_words()["aside"]))
