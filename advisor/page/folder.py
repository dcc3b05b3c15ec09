"""Plans in a folder: read with a mark of what was read, saved only where nobody changed the file meanwhile."""

from __future__ import annotations

import hashlib
import os
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from msgspec import Struct

from advisor.document import file_bytes
from advisor.errors import InputError, Problem
from advisor.writing import write_whole

try:
    import fcntl
except ImportError:  # not a POSIX system
    fcntl = None  # type: ignore[assignment]

_ENDINGS = (".yaml", ".yml")
_saving = threading.Lock()


class PlanFile(Struct, frozen=True):
    """A plan as it stands in its file."""

    name: str
    text: str
    mark: str  # of the bytes that were read


class ChangedMeanwhileError(Exception):
    """The file is no longer the one that was read; holds what stands there now."""

    def __init__(self, now: PlanFile) -> None:
        self.now = now
        super().__init__(now.name)


class Folder:
    """A folder of plans, or one plan. A request names a plan that was found, never a path."""

    def __init__(self, place: Path) -> None:
        self._only: str | None = None  # the one plan, where one is named
        if place.is_file():
            self._root, self._only = place.resolve().parent, place.name
        elif place.is_dir():
            self._root = place.resolve()
        else:
            raise InputError([Problem(str(place), 0, 0, "is not there. Expected a plan or a folder of plans.")])

    def names(self) -> list[str]:
        """The plans there are now, by name. Links that lead out of the folder are none."""
        if self._only is not None:
            return [self._only]
        found = [path for path in self._root.iterdir() if path.suffix in _ENDINGS and path.is_file()]
        return sorted(path.name for path in found if path.resolve().parent == self._root)

    def read(self, name: str) -> PlanFile:
        """A plan of the folder; KeyError where there is none of that name."""
        path = self._path(name)
        data = file_bytes(path)
        return PlanFile(name, data.decode("utf-8", "replace"), _mark(data))

    def save(self, name: str, text: str, mark: str) -> PlanFile:
        """Write a plan whole or not at all; ChangedMeanwhileError where its mark is another."""
        with self._alone():
            now = self.read(name)
            if now.mark != mark:
                raise ChangedMeanwhileError(now)
            data = text.encode("utf-8", "replace")
            write_whole(self._path(name), data)
        return PlanFile(name, text, _mark(data))

    @contextmanager
    def _alone(self) -> Iterator[None]:
        """One save at a time in this folder, of all servers that look at it, where the system can say so."""
        with _saving:
            if fcntl is None:
                yield
                return
            handle = os.open(self._root, os.O_RDONLY)
            try:
                fcntl.flock(handle, fcntl.LOCK_EX)
                yield
            finally:
                os.close(handle)

    def _path(self, name: str) -> Path:
        if name not in self.names():
            raise KeyError(name)
        return self._root / name


def _mark(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()
