"""Words that turn a sentence and words that are written short, from `rules/language/turns.yaml`."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from advisor.document import read_file
from advisor.tables import rules_folder


@lru_cache(maxsize=1)
def _read() -> dict[str, Any]:
    return dict(read_file(rules_folder() / "language" / "turns.yaml").plain())


@lru_cache(maxsize=32)
def turns(group: str) -> frozenset[str]:
    """The words of a group."""
    return frozenset(_read()["turns"][group])


@lru_cache(maxsize=2)
def short_words(name: str) -> dict[str, str]:
    """What words that are written short are, by the name of their list."""
    return {str(short): str(word) for short, word in _read()[name].items()}
