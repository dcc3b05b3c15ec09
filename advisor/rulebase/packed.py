"""A rule base as plain values, column by column, and back again. Making it runs nothing but known classes."""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Mapping, Sequence
from itertools import groupby
from operator import itemgetter
from typing import Any

from advisor.rulebase import model, split
from advisor.rulebase.instead import Instead
from advisor.rulebase.meanings import Clue, Meaning
from advisor.rulebase.vocabulary import Attribute, Presumption, Taxonomy, Term, Vocabulary
from advisor.tables import Row, Source, Table

LONG = array("I").itemsize  # bytes of a long number as it lies in memory
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


def encode(what: Any) -> dict[str, Any]:
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


def decode(kept: Any) -> Any:
    """What was made such values of; an error of Python's own, or of msgspec's, where they are malformed."""
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
