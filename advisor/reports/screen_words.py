"""The words of the first screen, and of what comes before any work."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from advisor.tables import rules_words


@lru_cache(maxsize=1)
def screen_words() -> dict[str, Any]:
    """Words of the first screen and of numbers, from `rules/report/screen.yaml`."""
    words: dict[str, Any] = rules_words("report/screen.yaml")
    return words
