"""Text on lines of a width, between words only. What a screen is tried with in several ways is wrapped once."""

from __future__ import annotations

import textwrap
from functools import lru_cache


def wrapped(text: str, width: int, first: str = "", rest: str = "") -> list[str]:
    """The lines; `first` begins the first of them, `rest` each other one."""
    return list(_wrapped(text, width, first, rest))


@lru_cache(maxsize=1024)
def _wrapped(text: str, width: int, first: str, rest: str) -> tuple[str, ...]:
    return tuple(textwrap.wrap(text, width, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False))
