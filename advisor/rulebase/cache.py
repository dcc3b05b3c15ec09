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
from array import array
from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress
from itertools import groupby
from operator import itemgetter
from pathlib import Path
from typing import Any

from msgspec import MsgspecError, msgpack

from advisor.rulebase import model, split
from advisor.rulebase.instead import Instead
from advisor.rulebase.meanings import Clue, Meaning
from advisor.rulebase.vocabulary import Attribute, Presumption, Taxonomy, Term, Vocabulary
from advisor.tables import Row, Source, Table

_KEEP, _STAMPS = 4, 16  # older files are removed
_ENDING, _STAMP = ".rules", ".stamp"
_LATELY = 2_000_000_000  # nanoseconds: within them two changes of a file may bear one time
_LONG = array("I").itemsize
_PIECE = 1 << 16  # bytes that are read at a time
_HASH = 32  # bytes, at the beginning of the file
_TUPLE, _SET, _MAP, _COUNTS = -1, -2, -3, -4  # rows that are no class; the last are tuples of numbers up to `_MOST`
_MOST = 2**31 - 1
_CLASSES: dict[str, Any] = {
    c.__name__: c
    for c in (
        model.AnyOf, model.Advice, model.Change, model.Citation, model.Collect, model.Compute, model.Conclusion,
        model.Given, model.Goal, model.Kind, model.Lookup, model.Not, model.Pattern, model.Rule, model.SourceRef,
        model.State, model.Test, model.Var, model.Window, split.AskedPattern, split.Later, split.Variant, Attribute,
        Clue, Instead, Meaning, Presumption, Row, Source, Table, Taxonomy, Term, Vocabulary,
    )
}  # fmt: skip
_FIELDS = {name: tuple(c._fields if hasattr(c, "_fields") else c.__struct_fields__) for name, c in _CLASSES.items()}

_NUMBERS = {name: number for number, name in enumerate(_CLASSES)}


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
    note = place / f"{_stamp(names)}{_STAMP}" if place is not None and os.name == "posix" else None
    known = _own_bytes(note) if note is not None else None
    if known is not None and len(known) == 2 * _HASH:
        return known.decode("ascii", "replace")
    found = _hashed(names)
    if place is not None and note is not None and time.time_ns() - max(map(_changed, names)) > _LATELY:
        _put(note, found.encode())
        _thin(place, (_STAMP,), _STAMPS)
    return found


def _stamp(names: Iterable[str]) -> str:
    """A hash of where files lie, how long they are and when they were last changed."""
    said = [f"{sys.byteorder} {_LONG}"]
    for name in names:
        info = os.stat(name)
        said.append(f"{name} {info.st_size} {info.st_mtime_ns} {info.st_ctime_ns} {info.st_ino} {info.st_dev}")
    return hashlib.sha256("\0".join(said).encode("utf-8", "surrogateescape")).hexdigest()


def _changed(name: str) -> int:
    """When the system last noted a change, which nobody can set back."""
    return os.stat(name).st_ctime_ns


def _hashed(names: Iterable[str]) -> str:
    reading = os.O_RDONLY | getattr(os, "O_BINARY", 0)
    digest = hashlib.sha256(f"{sys.byteorder} {_LONG}".encode())  # the columns are kept as they lie here
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
        kept = _decode(msgpack.decode(body))
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
        body = msgpack.encode(_encode(dict(what)))
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


def _encode(what: Any) -> dict[str, Any]:
    """Plain values, then groups of equal make, each built from earlier ones, column by column.

    Equal parts of rules stand once, and a whole group is made by one call: so reading is short.
    """
    table = _Table()
    table.place(what)
    rows = table.rows
    depth: list[int] = []
    kinds: list[tuple[int, int, int]] = []
    for row in rows:
        inner = row[1:] if type(row) is list else ()
        depth.append(1 + max([depth[n] for n in inner], default=0) if type(row) is list else 0)
        kinds.append((depth[-1], row[0], len(row)) if type(row) is list else (0, 0, 0))
    order = sorted(range(len(rows)), key=lambda n: (kinds[n], n))
    number = {old: new for new, old in enumerate(order)}
    plain = [rows[n] for n in order if not kinds[n][0]]
    groups = []
    for kind, group in groupby(order[len(plain) :], key=kinds.__getitem__):
        cells = [[number[cell] for cell in rows[n][1:]] for n in group]
        if kind[1] < 0:  # all that is in them, one after another
            every = [cell for row in cells for cell in row]
            columns = [every[::2], every[1::2]] if kind[1] == _MAP else [every]
        else:
            columns = [[*column[:1]] if len(set(column)) == 1 else [*column] for column in zip(*cells, strict=True)]
        groups.append([kind[1], len(cells), [*map(_packed, columns)]])
    return {"classes": list(_CLASSES), "plain": plain, "groups": groups}


def _packed(column: Sequence[int]) -> bytes:
    """The numbers as they lie in memory, with a letter before them for how long each is."""
    short = max(column, default=0) < 1 << 16
    return (b"H" if short else b"I") + array("H" if short else "I", column).tobytes()


def _numbers(column: bytes) -> array[int]:
    return array(chr(column[0]), column[1:])


class _Table:
    def __init__(self) -> None:
        self.rows: list[Any] = []
        self._known: dict[Any, int] = {}
        self._same: dict[int, int] = {}  # what is one object (a rule and its variants' rule) stays one

    def place(self, value: Any) -> int:
        """The row of the value, added if there is none yet."""
        if value is None or isinstance(value, str | int | float | bytes):
            return self._row(value, (type(value), value))
        if id(value) not in self._same:
            self._same[id(value)] = self._build(value)
        return self._same[id(value)]

    def _build(self, value: Any) -> int:
        kind = type(value)
        if kind is tuple and value and _are_counts(value):
            row = [_COUNTS, self.place(array("i", value).tobytes())]
        elif isinstance(value, tuple | list) and not hasattr(value, "_fields"):
            row = [_TUPLE, *map(self.place, value)]
        elif isinstance(value, frozenset | set):
            row = [_SET, *map(self.place, sorted(value))]
        elif isinstance(value, Mapping):  # never shared: its reader may change it
            return self._row([_MAP, *[self.place(x) for pair in value.items() for x in pair]], None)
        elif _CLASSES.get(kind.__name__) is kind:
            row = [_NUMBERS[kind.__name__], *[self.place(getattr(value, f)) for f in _FIELDS[kind.__name__]]]
            if kind in (Taxonomy, Vocabulary):
                return self._row(row, None)
        else:
            raise TypeError(f"cannot keep a {kind.__name__}")
        return self._row(row, tuple(row))

    def _row(self, row: Any, key: Any) -> int:
        if key is not None and key in self._known:
            return self._known[key]
        self.rows.append(row)
        if key is not None:
            self._known[key] = len(self.rows) - 1
        return len(self.rows) - 1


def _are_counts(value: tuple[Any, ...]) -> bool:
    """Whether all in it are whole numbers that fit."""
    return {*map(type, value)} == {int} and min(value) >= 0 and max(value) <= _MOST


def _decode(kept: Any) -> Any:
    if kept["classes"] != list(_CLASSES):
        raise ValueError("kept by another version")
    made: list[Any] = list(kept["plain"])
    classes = [_CLASSES[name] for name in kept["classes"]]
    for code, count, columns in kept["groups"]:
        if code >= 0:
            made += _built(classes[code], [_column(made, column, count) for column in columns])
        elif code == _MAP:
            keys, values = (_rows(made, column, count) for column in columns)
            made += map(dict, map(zip, keys, values))
        elif code == _COUNTS:
            made += [tuple(array("i", numbers)) for numbers in _column(made, columns[0], count)]
        else:
            found = _rows(made, columns[0], count)
            made += found if code == _TUPLE else map(frozenset, found)
    return made[-1]


def _column(made: list[Any], column: bytes, count: int) -> Sequence[Any]:
    """What stands in one column of `count` rows; where all of it is the same it is kept once."""
    numbers = _numbers(column)
    if len(numbers) > 1:
        found: tuple[Any, ...] = itemgetter(*numbers)(made)
        return found
    return [made[numbers[0]]] * count


def _rows(made: list[Any], column: bytes, count: int) -> Iterable[tuple[Any, ...]]:
    """Tuples of one length from all that is in them."""
    every = _column(made, column, 1) if len(column) > 1 else ()
    if not every:
        return [()] * count
    return zip(*[iter(every)] * (len(every) // count), strict=True)


def _built(kind: Any, cells: Sequence[Sequence[Any]]) -> list[Any]:
    """Objects of one class with these cells, field by field."""
    if len(cells) != len(_FIELDS[kind.__name__]):
        raise ValueError("a row has other fields")
    return list(map(kind, *cells))
