"""A plan from wherever it comes (file, text or Python mapping) as one tree, so that one path checks it."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

from advisor.document import MAX_BYTES, MAX_DEPTH, Node, read_bytes, read_file
from advisor.errors import InputError, Problem, clip

STANDARD_INPUT = Path("-")
_STDIN = "<stdin>"
EMPTY = (
    "is empty. Expected a plan, which has at the least a step and what it is done to:"
    " 'parts: {doors: {kind: cabinet doors}}' and 'steps: [{do: sand, to: doors}]'."
)
MAX_NODES = 200_000  # of a mapping: shared lists in Python can stand for more than memory holds


def read_tree(source: Path | str | Mapping[str, Any], name: str | None = None) -> Node:
    """The tree of a plan; `name` stands in messages.

    The path `-` means standard input. A string is a path where it is one line without `: ` or a bracket, and
    YAML text otherwise. Text that comes from strangers should be given a `name`: it is then never taken for a path.
    Raises InputError with every mistake of the YAML.
    """
    try:
        return _tree(source, name)
    except InputError as error:
        problems = [p._replace(message=EMPTY) if p.message.startswith("is empty.") else p for p in error.problems]
        raise InputError(problems) from error


def _tree(source: Path | str | Mapping[str, Any], name: str | None) -> Node:
    if isinstance(source, Path):
        return read_standard_input() if source == STANDARD_INPUT else read_file(source)
    if isinstance(source, str):
        if name is None and _is_path(source):
            return read_file(Path(source))
        return read_bytes(source.encode("utf-8", "surrogatepass"), name or "plan")
    if isinstance(source, Mapping):
        return _Walker(name or "plan").root(source)
    kind = type(source).__name__
    raise InputError([Problem(name or "plan", 0, 0, f"is a {kind}. Expected a path, YAML text or a mapping.")])


def read_standard_input() -> Node:
    """The tree of what stands on standard input, which messages call `<stdin>`; the limit of files holds."""
    try:
        data = sys.stdin.buffer.read(MAX_BYTES + 1)
    except (OSError, ValueError, AttributeError) as error:  # closed, or not there at all
        raise InputError([Problem(_STDIN, 0, 0, "cannot be read.")]) from error
    return read_bytes(data, _STDIN)


def _is_path(text: str) -> bool:
    return bool(text) and text.isprintable() and ": " not in text and not set("{[").intersection(text)


class _Walker:
    """Turns mappings, lists and scalars of Python into nodes without lines."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.problems: list[Problem] = []
        self.nodes = 0
        self.letters = 0

    def root(self, source: Mapping[Any, Any]) -> Node:
        """The tree of the whole mapping, or InputError."""
        node = self._node(source, "", 0)
        if self.problems:
            raise InputError(self.problems)
        return node

    def _node(self, value: Any, place: str, depth: int) -> Node:
        self.nodes += 1
        if self.nodes > MAX_NODES or self.letters > MAX_BYTES:
            self._say(place, "is too large for a plan.")
            raise InputError(self.problems)
        if depth > MAX_DEPTH:
            self._say(place, f"is nested more than {MAX_DEPTH} deep.")
            value = None
        if isinstance(value, Mapping):
            return self._mapping(value, place, depth)
        if isinstance(value, list | tuple):
            node = Node(self.name, 0, 0, "sequence")
            node.items = [self._node(v, f"{place}[{n}]", depth + 1) for n, v in enumerate(value)]
            return node
        return Node(self.name, 0, 0, "scalar", self._text(value, place))

    def _mapping(self, value: Mapping[Any, Any], place: str, depth: int) -> Node:
        node = Node(self.name, 0, 0, "mapping")
        for key, inner in value.items():
            # What loads YAML 1.1 turns the key `on` into True.
            text = ("on" if key else "off") if isinstance(key, bool) else self._text(key, place)
            inside = f"{place}.{text}" if place else text
            if text in node.pairs:
                self._say(place, f"'{clip(text)}' stands twice.")
            node.pairs[text] = (Node(self.name, 0, 0, "scalar", text), self._node(inner, inside, depth + 1))
        return node

    def _text(self, value: Any, place: str) -> str:
        if value is None:
            return ""
        if isinstance(value, bool):
            return "yes" if value else "no"
        if isinstance(value, str):
            text = str(value)
        elif isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
            text = str(int(value))
        elif isinstance(value, int | float | Decimal | date):
            text = self._number(value, place)
        else:
            kind = clip(type(value).__name__)
            self._say(place, f"holds a {kind}. Expected words, numbers, lists and mappings.")
            text = ""
        self.letters += len(text)
        return text

    def _number(self, value: int | float | Decimal | date, place: str) -> str:
        try:
            return str(value)
        except ValueError:  # Python refuses to write out whole numbers of more than 4,300 digits
            self._say(place, "holds a number with too many digits.")
            return ""

    def _say(self, place: str, message: str) -> None:
        where = f"'{clip(place)}' " if place else ""
        self.problems.append(Problem(self.name, 0, 0, where + message))
