"""Text on lines of a width, between words only: as `textwrap` does it, at once where words stand one space apart."""

from __future__ import annotations

import textwrap
from functools import lru_cache


def wrapped(text: str, width: int, first: str = "", rest: str = "") -> list[str]:
    """The lines; `first` begins the first of them, `rest` each other one."""
    return list(_wrapped(text, width, first, rest))


@lru_cache(maxsize=1024)  # a screen is tried in several ways
def _wrapped(text: str, width: int, first: str, rest: str) -> tuple[str, ...]:
    words = text.split(" ")
    if text.split() != words or max(map(len, words)) > width - max(len(first), len(rest)):
        return tuple(textwrap.wrap(text, width, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False))
    lines: list[str] = []
    line = first + words[0]
    for word in words[1:]:
        if len(line) + len(word) < width:
            line = f"{line} {word}"
        else:
            lines.append(line)
            line = rest + word
    return (*lines, line)
