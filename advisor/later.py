"""What is made when it is first used: patterns, and rows of which most are never looked into."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from typing import Any, TypeVar, cast, overload

# The command line has `pattern` in its place while it imports.
_compile = re.compile
T = TypeVar("T")


class _Later:
    """Stands for a compiled pattern; each of its methods is kept once it has been asked for."""

    def __init__(self, pattern: Any, flags: int) -> None:
        self._asked = (pattern, flags)
        self.pattern = pattern

    def __getattr__(self, name: str) -> Any:
        found = getattr(_compile(*self._asked), name)  # `re` keeps what it compiled
        setattr(self, name, found)
        return found


def pattern(text: str, flags: int = 0) -> re.Pattern[str]:
    """The pattern, compiled at its first use; what is wrong with it is said then."""
    return cast("re.Pattern[str]", _Later(text, flags))


class LaterRow(Sequence[T]):
    """A row that is made when somebody first looks into it. It is equal to a tuple of the same, and pickled as one."""

    __slots__ = ("_made",)

    def __init__(self, make: Callable[[], Iterable[T]]) -> None:
        self._made: tuple[T, ...] | Callable[[], Iterable[T]] = make

    def _row(self) -> tuple[T, ...]:
        made = self._made
        if not isinstance(made, tuple):
            made = self._made = tuple(made())  # what it is made of is let go
        return made

    @overload
    def __getitem__(self, place: int) -> T: ...

    @overload
    def __getitem__(self, place: slice) -> tuple[T, ...]: ...

    def __getitem__(self, place: int | slice) -> T | tuple[T, ...]:
        return self._row()[place]

    def __len__(self) -> int:
        return len(self._row())

    def __eq__(self, other: object) -> bool:
        return self._row() == (other._row() if isinstance(other, LaterRow) else other)

    def __hash__(self) -> int:
        return hash(self._row())

    def __repr__(self) -> str:
        return repr(self._row())

    def __reduce__(self) -> tuple[type, tuple[tuple[T, ...]]]:
        return tuple, (self._row(),)
