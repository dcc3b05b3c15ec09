"""Regular expressions that are compiled when they are first used: most of a program's are not needed for one plan."""

from __future__ import annotations

import re
from typing import Any, cast


class _Later:
    """Stands for a compiled pattern; each of its methods is kept once it has been asked for."""

    def __init__(self, pattern: Any, flags: int) -> None:
        self._asked = (pattern, flags)

    def __getattr__(self, name: str) -> Any:
        found = getattr(re.compile(*self._asked), name)  # `re` keeps what it compiled
        setattr(self, name, found)
        return found


def pattern(text: str, flags: int = 0) -> re.Pattern[str]:
    """The pattern, compiled at its first use; what is wrong with it is said then."""
    return cast("re.Pattern[str]", _Later(text, flags))
