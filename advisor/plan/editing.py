"""Changes to a plan's text that leave every other byte as its author wrote it.

Edits are made on the text between the marks of the YAML nodes, not by writing the tree anew: comments, key
order, quotes and units outside the change cannot be touched. The result is read again by whoever calls.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import lru_cache
from typing import Any

import yaml

Scalar = str
Content = Scalar | Sequence[str] | Mapping[str, "Content"]

_PLAIN = re.compile(r"[\w(][\w ./'’°%()+-]*", re.UNICODE)
_ODD = re.compile(r"(: )|( #)|[:\s]$|^[-?] ")


def written(value: Content) -> str:
    """A value as it is written in a flow mapping; quoted only where it must be."""
    if isinstance(value, Mapping):
        return flow(value)
    if not isinstance(value, str):
        return "[" + ", ".join(written(v) for v in value) + "]"
    if _PLAIN.fullmatch(value) and not _ODD.search(value):
        return value
    return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'


def flow(cells: Mapping[str, Content]) -> str:
    """A flow mapping: `{do: isolate, to: sockets}`."""
    return "{" + ", ".join(f"{key}: {written(value)}" for key, value in cells.items()) + "}"


def _is_block(node: Any) -> bool:
    return isinstance(node, yaml.CollectionNode) and not node.flow_style


@lru_cache(maxsize=2)
def _composed(text: str) -> Any:
    """The nodes of a text, which nobody changes: an edit asks for those of one text several times."""
    # libyaml's marks count characters as those of the reader in Python do, but for a byte order mark.
    fast = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    return yaml.compose(text, Loader=yaml.SafeLoader if text.startswith("\ufeff") else fast)


class PlanText:
    """The text of a plan with its nodes' marks. Each edit replaces `text` and reads the marks again."""

    def __init__(self, text: str) -> None:
        self.newline = "\r\n" if "\r\n" in text else "\n"
        self.text = text

    @property
    def _root(self) -> Any:
        return _composed(self.text)

    def set(self, path: Sequence[str], value: Content) -> None:
        """Set `house.built`, `parts.doors.coating` or `steps.prime.by`; KeyError where there is no such thing."""
        *parents, name = path
        node = self._find(parents)
        if node is None:
            if len(parents) != 1:
                raise KeyError(".".join(path))
            self._top(f"{parents[0]}: {flow({name: value})}")
            return
        for key, old in node.value:
            if key.value == name:
                # A block list may stand at its key's own indent, where a flow list would not read.
                start = key.end_mark.index + 1 if _is_block(old) else old.start_mark.index
                end = self._end(old)
                lead = " " if _is_block(old) or start == end else ""
                self._splice(start, end, lead + written(value))
                return
        if not parents and not node.flow_style:
            self._top(f"{name}: {written(value)}")
            return
        self._add_cell(node, name, written(value))

    def has(self, path: Sequence[str]) -> bool:
        """Whether there is such a value."""
        node = self._find(path[:-1])
        return node is not None and any(key.value == path[-1] for key, _ in node.value)

    def add_to(self, path: Sequence[str], more: Sequence[str]) -> None:
        """Add members to a list, leaving those that stand there as their author wrote them."""
        *parents, name = path
        node = self._find(parents)
        old = next((v for k, v in node.value if k.value == name), None) if node is not None else None
        if old is None or old.value in ("", "none", []):
            self.set(path, more[0] if len(more) == 1 else list(more))
        elif isinstance(old, yaml.ScalarNode):
            start, end = old.start_mark.index, self._end(old)
            self._splice(start, end, "[" + ", ".join([self.text[start:end], *map(written, more)]) + "]")
        elif _is_block(old):
            last = old.value[-1]
            indent = " " * old.start_mark.column
            lines = self.newline.join(f"{indent}- {written(m)}" for m in more)
            self._insert_line(self._line_after(self._end(last)), lines)
        else:
            end = self._end(old.value[-1])
            self._splice(end, end, "".join(f", {written(m)}" for m in more))

    def add_step(self, cells: Mapping[str, Content], where: str, step: str, number: int) -> None:
        """Add a step `before` or `after` the one that stands `number`th in the file (from 0)."""
        steps = self._find(["steps"], sequence=True)
        if steps is None or number >= len(steps.value):
            raise KeyError(step)
        item = steps.value[number]
        text = flow(cells)
        if steps.flow_style:
            at = item.start_mark.index if where == "before" else item.end_mark.index
            self._splice(at, at, f"{text}, " if where == "before" else f", {text}")
            return
        dash = self.text.rindex("-", 0, item.start_mark.index)
        line = self._line_start(dash)
        indent = self.text[line:dash]
        if where == "after":
            line = self._line_after(self._end(item))
        self._insert_line(line, f"{indent}- {text}")

    def add_entry(self, section: str, own: str, cells: Mapping[str, Content]) -> None:
        """Add a product (or part, or room) to its section, making the section where there is none."""
        node = self._find([section])
        if node is None or not node.value:
            if node is not None:
                self._splice(node.start_mark.index, self._end(node), "{" + f"{written(own)}: {flow(cells)}" + "}")
            else:
                self._top(f"{section}:{self.newline}  {written(own)}: {flow(cells)}", before="steps")
            return
        self._add_cell(node, written(own), flow(cells))

    def add_item(self, section: str, cells: Mapping[str, Content]) -> None:
        """Add an entry at the end of a list section, making the section where there is none."""
        node = self._find([section], sequence=True)
        if node is None and self._root.flow_style:
            self._add_cell(self._root, section, f"[{flow(cells)}]")
        elif node is None:
            self._empty(section)
            self._insert_line(self._bottom(), f"{section}:{self.newline}  - {flow(cells)}")
        elif node.flow_style:
            end = self._end(node.value[-1]) if node.value else node.start_mark.index + 1
            self._splice(end, end, f"{', ' if node.value else ''}{flow(cells)}")
        else:
            last = node.value[-1]
            dash = self.text.rindex("-", 0, last.start_mark.index)
            indent = self.text[self._line_start(dash) : dash]
            self._insert_line(self._line_after(self._end(last)), f"{indent}- {flow(cells)}")

    def move_step(self, number: int, after: int | None) -> None:
        """Put a step behind another, or first of all; with the remarks on the lines just above it."""
        steps = self._find(["steps"], sequence=True)
        items = steps.value if steps is not None else []
        if steps is None or number >= len(items) or (after is not None and after >= len(items)):
            raise KeyError(f"steps.#{number}")
        start, end = self._lines_of(items[number], steps)
        if steps.flow_style:
            raise KeyError("steps")  # on one line there are no lines to move
        if after is None:
            place, _ = self._lines_of(items[0], steps)
        else:
            place = self._line_after(self._end(items[after]))
        if start <= place <= end:
            return
        lines = self.text[start:end]
        lines += "" if lines.endswith("\n") else self.newline
        if place < start:
            self.text = self.text[:place] + lines + self.text[place:start] + self.text[end:]
        else:
            lead = "" if self.text[:place].endswith("\n") else self.newline
            self.text = self.text[:start] + self.text[end:place] + lead + lines + self.text[place:]

    def _lines_of(self, item: Any, steps: Any) -> tuple[int, int]:
        """Where the lines of a step begin, remarks above it included, and end."""
        start = item.start_mark.index
        if not steps.flow_style:
            start = self._line_start(self.text.rindex("-", 0, start))
        floor = self._line_after(steps.start_mark.index - 1) if steps.value[0] is item else 0
        while start > floor:
            above = self._line_start(start - 1)
            if above < floor or not self.text[above:start].lstrip().startswith("#"):
                break
            start = above
        return start, self._line_after(self._end(item))

    def _empty(self, section: str) -> None:
        """Take out a section that stands there without anything in it."""
        for key, value in self._root.value:
            if key.value == section:
                start = self._line_start(key.start_mark.index)
                self._splice(start, self._line_after(max(self._end(value), key.end_mark.index)), "")
                return

    def _bottom(self) -> int:
        """Where a new section stands: after the steps, or at the end of the file."""
        for key, value in self._root.value:
            if key.value == "steps" and not value.flow_style:
                return self._line_after(self._end(value))
        return len(self.text)

    # --- finding ------------------------------------------------------------------------------------------

    def _find(self, path: Sequence[str], sequence: bool = False) -> Any:
        """The node at a path of keys; steps are found by their id or their place (`#3`)."""
        node = self._root
        for word in path:
            if isinstance(node, yaml.SequenceNode):
                node = next((n for n in self._steps(node, word)), None)
            elif isinstance(node, yaml.MappingNode):
                node = next((v for k, v in node.value if k.value == word), None)
            else:
                return None
        wanted = yaml.SequenceNode if sequence else yaml.MappingNode
        return node if isinstance(node, wanted) else None

    def _steps(self, node: Any, word: str) -> list[Any]:
        if word.startswith("#"):
            if not re.fullmatch(r"#[0-9]{1,6}", word):
                return []
            return list(node.value[int(word[1:]) : int(word[1:]) + 1])
        return [n for n in node.value if any(k.value == "id" and v.value == word for k, v in n.value)]

    # --- splicing -----------------------------------------------------------------------------------------

    def _splice(self, start: int, end: int, new: str) -> None:
        self.text = self.text[:start] + new + self.text[end:]

    def _end(self, node: Any) -> int:
        """Where a node's own text ends: block nodes are marked up to the next token."""
        end = int(node.end_mark.index)
        while end > node.start_mark.index and self.text[end - 1] in " \t\r\n":
            end -= 1
        if isinstance(node, yaml.CollectionNode) and not node.flow_style and node.value:
            last = node.value[-1]
            return self._end(last[1] if isinstance(last, tuple) else last)
        return end

    def _add_cell(self, node: Any, name: str, value: str) -> None:
        if node.flow_style:
            if node.value:
                last = self._end(node.value[-1][1])
                self._splice(last, last, f", {name}: {value}")
            else:
                self._splice(node.start_mark.index + 1, node.start_mark.index + 1, f"{name}: {value}")
            return
        key, last = node.value[-1]
        indent = " " * key.start_mark.column
        self._insert_line(self._line_after(self._end(last)), f"{indent}{name}: {value}")

    def _top(self, line: str, before: str = "") -> None:
        """A new section: before the named one, or before the first that is not title, note or units."""
        for key, _ in self._root.value:
            if key.value == before or (not before and key.value not in ("title", "note", "units")):
                self._insert_line(self._line_start(key.start_mark.index), line)
                return
        self._insert_line(len(self.text), line)

    def _line_start(self, at: int) -> int:
        return self.text.rfind("\n", 0, at) + 1

    def _line_after(self, at: int) -> int:
        end = self.text.find("\n", at)
        return len(self.text) if end < 0 else end + 1

    def _insert_line(self, at: int, line: str) -> None:
        lead = self.newline if at and not self.text[:at].endswith("\n") else ""
        self._splice(at, at, f"{lead}{line}{self.newline}")
