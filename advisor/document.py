"""YAML as a tree with line numbers: the only reader of untrusted text.

Built from parser events rather than from PyYAML's constructors, so that no scalar is typed, no tag is
obeyed, no alias is followed, and depth is known before anything is built.
"""

from __future__ import annotations

import os
from contextlib import suppress
from itertools import islice
from pathlib import Path
from typing import Any

import yaml
from msgspec import Struct, field

from advisor.errors import InputError, Problem, clip, did_you_mean

MAX_BYTES = 2_000_000
MAX_DEPTH = 40
MAX_BESIDE = 2_000  # files looked at for a name that is near
MAX_MESSAGE = 1_000  # letters


class Node(Struct):
    """A scalar (`text`), a sequence (`items`) or a mapping (`pairs`, keys in the author's order)."""

    file: str
    line: int
    column: int
    kind: str  # scalar | sequence | mapping
    text: str = ""
    quoted: bool = False
    items: list[Node] = field(default_factory=list)
    pairs: dict[str, tuple[Node, Node]] = field(default_factory=dict)

    def get(self, key: str) -> Node | None:
        """The value at `key` of a mapping, or None."""
        pair = self.pairs.get(key)
        return pair[1] if pair else None

    def scalar(self, text: str) -> Node:
        """Text that stands, for messages, where this does."""
        return Node(self.file, self.line, self.column, "scalar", text)

    def pair(self, text: str) -> tuple[Node, Node]:
        """Such text as a mapping holds it: where its key stands, and itself."""
        one = self.scalar(text)
        return one, one

    def mapping(self, pairs: dict[str, tuple[Node, Node]]) -> Node:
        """A mapping that stands, for messages, where this does."""
        return Node(self.file, self.line, self.column, "mapping", pairs=pairs)

    def problem(self, message: str) -> Problem:
        """A mistake at this place, in a message of bearable length whatever stands in the file."""
        return Problem(self.file, self.line, self.column, clip(message, MAX_MESSAGE))

    def plain(self) -> Any:
        """The tree as strings, lists and dicts."""
        if self.kind == "scalar":
            return self.text
        if self.kind == "sequence":
            return [item.plain() for item in self.items]
        return {key: value.plain() for key, (_, value) in self.pairs.items()}


def files_below(folder: Path) -> list[Path]:
    """Every YAML file of a folder and of those in it, by their names; none where there is no such folder.

    As `sorted(folder.glob("**/*.yaml"))`, for a third of its time: each command looks for hundreds of rule files.
    """
    found: list[str] = []
    waiting = [str(folder)]
    while waiting:
        with suppress(OSError), os.scandir(waiting.pop()) as inside:
            for one in inside:
                if one.name.endswith(".yaml"):
                    found.append(one.path)
                if one.is_dir(follow_symlinks=False):
                    waiting.append(one.path)
    return [Path(one) for one in sorted(found, key=lambda path: path.split(os.sep))]


def read_file(path: Path) -> Node:
    """The tree of a YAML file; InputError where it cannot be read or is not plain YAML."""
    return read_bytes(file_bytes(path), str(path))


def file_bytes(path: Path) -> bytes:
    """What stands in a file that may be a pipe, a device without end, or anything else; InputError where it is none."""
    name = str(path)
    try:
        if path.is_dir():
            raise InputError([Problem(name, 0, 0, "is a folder. Expected a YAML file.")])
        size = path.stat().st_size
        if size > MAX_BYTES:
            raise InputError([Problem(name, 0, 0, _too_large(size))])
        with path.open("rb") as file:
            data = file.read(MAX_BYTES + 1)  # a device has no size
    except (OSError, ValueError) as error:  # ValueError: a name with a byte of zero
        reason = (getattr(error, "strerror", None) or "cannot be read").lower()
        near = _near_file(path) if isinstance(error, FileNotFoundError) else ""
        raise InputError([Problem(name, 0, 0, f"cannot be opened: {reason}.{near}")]) from error
    if len(data) > MAX_BYTES:
        raise InputError([Problem(name, 0, 0, _too_large(len(data)))])
    return data


def _near_file(path: Path) -> str:
    """` Did you mean 'plan.yaml'?` where a file of nearly that name lies beside."""
    try:
        # A folder of very many files is not searched to its end for a slip of the pen.
        beside = [one.name for one in islice(path.parent.iterdir(), MAX_BESIDE) if one.suffix in (".yaml", ".yml")]
    except OSError:
        return ""
    return did_you_mean(path.name, sorted(beside))


def read_bytes(data: bytes, name: str) -> Node:
    """The tree of YAML bytes in UTF-8 (or UTF-16 with its mark)."""
    if len(data) > MAX_BYTES:
        raise InputError([Problem(name, 0, 0, _too_large(len(data)))])
    try:
        wide = data.startswith((b"\xff\xfe", b"\xfe\xff"))
        text = data.decode("utf-16" if wide else "utf-8-sig")
    except UnicodeDecodeError as error:
        raise InputError([Problem(name, 0, 0, f"is not UTF-8 text (byte {error.start}). Save it as UTF-8.")]) from error
    return read_text(text, name)


def _too_large(size: int) -> str:
    return f"is {size:,} bytes long. Expected at most {MAX_BYTES:,}."


def read_text(text: str, name: str) -> Node:
    """The tree of YAML text; InputError lists what is wrong with it."""
    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    builder = _Builder(name)
    try:
        for event in yaml.parse(text, Loader=loader):
            builder.take(event)
            if len(builder.problems) >= 50:
                break
    except yaml.YAMLError as error:
        builder.problems.append(_explain(error, name, text))
    except (RecursionError, ValueError, MemoryError) as error:  # the C parser on odd characters
        builder.problems.append(Problem(name, 0, 0, f"cannot be read as YAML: {clip(str(error))}."))
    if builder.problems:
        raise InputError(builder.problems)
    if builder.root is None:
        raise InputError([Problem(name, 0, 0, "is empty. Expected YAML text.")])
    return builder.root


def _explain(error: yaml.YAMLError, name: str, text: str) -> Problem:
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    line, column = (mark.line + 1, mark.column + 1) if mark else (0, 0)
    lines = text.splitlines()
    around = lines[line - 1] if 0 < line <= len(lines) else ""
    if around.lstrip(" ").startswith("\t"):
        return Problem(name, line, column, "begins with a tab. Expected spaces: YAML indents with spaces only.")
    what = clip(str(getattr(error, "problem", "") or "not valid YAML"), 100)
    return Problem(name, line, column, f"is not valid YAML here: {what}.")


class _Builder:
    """Puts parser events together; keeps its own stack, so depth costs no recursion."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.root: Node | None = None
        self.problems: list[Problem] = []
        self.stack: list[tuple[Node, list[Node]]] = []  # container and, for a mapping, its waiting key
        self.skipping = 0

    def take(self, event: yaml.Event) -> None:
        if isinstance(event, yaml.AliasEvent):
            self._say(event, "uses an alias ('*'). Expected plain YAML: write the value out.")
            self._place(self._node(event, "scalar"))
        elif isinstance(event, yaml.ScalarEvent):
            self._check(event, event.tag)
            node = self._node(event, "scalar")
            node.text, node.quoted = event.value, event.style not in (None, "")
            self._place(node)
        elif isinstance(event, yaml.MappingStartEvent | yaml.SequenceStartEvent):
            self._open(event)
        elif isinstance(event, yaml.MappingEndEvent | yaml.SequenceEndEvent):
            self._close()
        elif isinstance(event, yaml.DocumentStartEvent) and self.root is not None:
            self._say(event, "starts a second document ('---'). Expected one.")

    def _open(self, event: Any) -> None:
        self._check(event, event.tag)
        if len(self.stack) >= MAX_DEPTH or self.skipping:
            if not self.skipping:
                self._say(event, f"is nested more than {MAX_DEPTH} deep.")
            self.skipping += 1
            return
        node = self._node(event, "mapping" if isinstance(event, yaml.MappingStartEvent) else "sequence")
        self._place(node, container=True)
        self.stack.append((node, []))

    def _close(self) -> None:
        if self.skipping:
            self.skipping -= 1
        else:
            self.stack.pop()

    def _place(self, node: Node, container: bool = False) -> None:
        if self.skipping:
            return
        if not self.stack:
            if self.root is None:
                self.root = node
            return
        parent, waiting = self.stack[-1]
        if parent.kind == "sequence":
            parent.items.append(node)
        elif not waiting:
            if container:
                self.problems.append(node.problem("has a list or mapping for a key. Expected a word."))
            waiting.append(node)
        else:
            key = waiting.pop()
            if key.text in parent.pairs and key.kind == "scalar":
                first = parent.pairs[key.text][0].line
                self.problems.append(key.problem(f"'{clip(key.text)}' stands twice (first on line {first})."))
            else:
                parent.pairs[key.text] = (key, node)

    def _check(self, event: Any, tag: str | None) -> None:
        if tag is not None and tag != "!":
            self._say(event, f"carries a tag ('{clip(tag)}'). Expected plain YAML without tags.")
        if event.anchor is not None:
            self._say(event, f"sets an anchor ('&{clip(event.anchor)}'). Expected plain YAML without anchors.")

    def _node(self, event: Any, kind: str) -> Node:
        mark = event.start_mark
        return Node(self.name, mark.line + 1, mark.column + 1, kind)

    def _say(self, event: Any, message: str) -> None:
        mark = event.start_mark
        self.problems.append(Problem(self.name, mark.line + 1, mark.column + 1, message))
