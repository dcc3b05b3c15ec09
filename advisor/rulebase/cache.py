"""The read and checked rule base, kept in the user's cache folder so that the next review starts sooner.

The file is MessagePack of a few known classes: reading it runs nothing. Its name is a hash of every rule file's
bytes and of the code that reads them, so a stale one is simply not found. A file that is malformed, that
its hash does not fit, or that belongs to somebody else is ignored, and the rules are read afresh.
"""

from __future__ import annotations

import hashlib
import os
import stat
import sys
import time
from collections.abc import Iterable, Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

from msgspec import MsgspecError, msgpack

from advisor.rulebase.packed import LONG, decode, encode

_KEEP, _STAMPS = 4, 16  # older files are removed
_ENDING, _STAMP = ".rules", ".stamp"
_LATELY = 2_000_000_000  # nanoseconds: within them two changes of a file may bear one time
_PIECE = 1 << 16  # bytes that are read at a time
_HASH = 32  # bytes, at the beginning of the file


def folder() -> Path | None:
    """The cache folder; None where caching is turned off or there is no home."""
    if os.environ.get("ADVISOR_NO_CACHE"):
        return None
    base = os.environ.get("XDG_CACHE_HOME")
    try:
        return (Path(base) if base else Path.home() / ".cache") / "prework-advisor"
    except RuntimeError:
        return None


def fingerprint(files: Iterable[Path]) -> str:
    """A hash of the files' names and bytes and of the code that reads them.

    It is remembered by when and where they were written, till one of them is written again. Of a file that was written
    just now nothing is remembered: written once more, it could bear the same time.
    """
    code = Path(__file__).parent
    others = [code.parent / f"{name}.py" for name in ("units", "unit_table", "document", "tables")]
    names = [str(path) for path in (*sorted(code.glob("*.py")), *others, *files)]
    place = folder()
    if place is None or os.name != "posix":
        return _hashed(names)
    note = place / f"{_stamp(names)}{_STAMP}"
    known = _own_bytes(note)
    if known is not None and len(known) == 2 * _HASH:
        return known.decode("ascii", "replace")
    found = _hashed(names)
    if time.time_ns() - max(map(_changed, names)) > _LATELY:
        _put(note, found.encode())
        _thin(place, (_STAMP,), _STAMPS)
    return found


def _stamp(names: Iterable[str]) -> str:
    """A hash of where files lie, how long they are and when they were last changed."""
    said = [f"{sys.byteorder} {LONG}"]
    for name in names:
        info = os.stat(name)
        said.append(f"{name} {info.st_size} {info.st_mtime_ns} {info.st_ctime_ns} {info.st_ino} {info.st_dev}")
    return hashlib.sha256("\0".join(said).encode("utf-8", "surrogateescape")).hexdigest()


def _changed(name: str) -> int:
    """When the system last noted a change, which nobody can set back."""
    return os.stat(name).st_ctime_ns


def _hashed(names: Iterable[str]) -> str:
    reading = os.O_RDONLY | getattr(os, "O_BINARY", 0)
    digest = hashlib.sha256(f"{sys.byteorder} {LONG}".encode())  # the columns are kept as they lie here
    for name in names:
        digest.update(f"\0{name}\0".encode("utf-8", "surrogateescape"))
        file = os.open(name, reading)  # hundreds of small files: each is read at one go
        try:
            while True:
                piece = os.read(file, _PIECE)
                digest.update(piece)
                if len(piece) < _PIECE:
                    break
        finally:
            os.close(file)
    return digest.hexdigest()


def digest(files: Iterable[Path]) -> str:
    """A short hash of what the files say, whatever they are called and wherever they lie: twelve letters."""
    import json  # only as rules are read afresh

    said = sorted(hashlib.sha256(path.read_bytes()).hexdigest() for path in files)
    return hashlib.sha256(json.dumps(said).encode()).hexdigest()[:12]


def read(name: str) -> dict[str, Any] | None:
    """What was kept under the fingerprint, or None where there is nothing that can be trusted."""
    place = folder()
    if place is None:
        return None
    held = _own_bytes(place / f"{name}{_ENDING}")
    if held is None:
        return None
    try:
        text = memoryview(held)
        body = text[_HASH:]
        if text[:_HASH] != hashlib.sha256(body).digest():
            return None
        kept = decode(msgpack.decode(body))
    except (ValueError, TypeError, LookupError, AttributeError, RecursionError, MsgspecError):
        return None
    return dict(kept) if isinstance(kept, Mapping) else None


def _own_bytes(path: Path) -> bytes | None:
    """What a file of the folder says, unless it is not there or others could have written it."""
    try:
        info = path.lstat()
        if not stat.S_ISREG(info.st_mode) or info.st_mode & 0o022:
            return None
        if hasattr(os, "getuid") and info.st_uid != os.getuid():
            return None
        return path.read_bytes()
    except OSError:
        return None


def write(name: str, what: Mapping[str, Any]) -> None:
    """Keep it under the fingerprint; a folder that cannot be written to is no mistake."""
    place = folder()
    if place is None:
        return
    try:
        body = msgpack.encode(encode(dict(what)))
    except OverflowError:  # a number of a pack that is longer than 64 bits
        return
    _put(place / f"{name}{_ENDING}", hashlib.sha256(body).digest() + body)
    _thin(place, (_ENDING, ".json"), _KEEP)


def _put(path: Path, data: bytes) -> None:
    """Write a file of the folder at one go."""
    import tempfile  # what is kept is read without it

    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=".new-")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(data)
            os.replace(temporary, path)
        except BaseException:
            os.unlink(temporary)
            raise
    except OSError:
        return


def _thin(place: Path, endings: tuple[str, ...], most: int) -> None:
    """Remove the oldest files of the folder with one of these endings."""
    with suppress(OSError):
        old = [path for path in place.iterdir() if path.name.endswith(endings)]
        for path in sorted(old, key=lambda p: p.stat().st_mtime, reverse=True)[most:]:
            path.unlink(missing_ok=True)
