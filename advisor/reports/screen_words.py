"""The words of the first screen, and of what comes before any work."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from advisor.document import read_file
from advisor.tables import rules_folder


@lru_cache(maxsize=1)
def screen_words() -> dict[str, Any]:
    """Words of the first screen and of numbers, from `rules/report/screen.yaml`."""
    words: dict[str, Any] = read_file(rules_folder() / "report" / "screen.yaml").plain()
    return words
