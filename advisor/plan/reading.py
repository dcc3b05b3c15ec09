"""A plan document read and checked: every mistake at once, each with its line."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from advisor.document import Node, read_file, read_text
from advisor.errors import InputError, Problem, clip, did_you_mean
from advisor.plan.model import Entity, Plan, Value
from advisor.plan.ordering import in_order
from advisor.plan.tree import tree_of
from advisor.plan.values import MAX_TEXT, Reader
from advisor.rulebase.vocabulary import Vocabulary

SINGLE = ("house", "code", "crew", "budget")
NAMED = {"rooms": "room", "parts": "part", "products": "product"}
TOP = ("title", "note", "units", *SINGLE, *NAMED, "steps")
MAX_ENTITIES = 2_000
_ID = re.compile(r"[^\W_][\w \-]{0,59}")
# A sort whose entries must say what they are.
_KINDED = {"part", "room", "product"}


def read_plan(source: Path | str | Mapping[str, Any], vocabulary: Vocabulary, name: str = "plan") -> Plan:
    """The plan of a path, of YAML text, or of a mapping; InputError lists every mistake.

    A string is text where it has a line break, and a path otherwise.
    """
    if isinstance(source, Mapping):
        root = tree_of(source, name)
    elif isinstance(source, Path) or "\n" not in source:
        root = read_file(Path(source))
    else:
        root = read_text(source, name)
    return _Reading(root, vocabulary).plan()


class _Reading:
    """The state of reading one plan."""

    def __init__(self, root: Node, vocabulary: Vocabulary) -> None:
        self.root = root
        self.vocabulary = vocabulary
        self.problems: list[Problem] = []
        self.reader = Reader(vocabulary, self.problems)
        self.entities: dict[str, dict[str, Entity]] = {}

    def plan(self) -> Plan:
        root = self.root
        if root.kind != "mapping":
            raise InputError([root.problem(f"is a {root.kind}. Expected a plan: 'title:', 'parts:', 'steps:' and so on.")])
        for word, (key, _) in root.pairs.items():
            if word not in TOP:
                self.problems.append(
                    key.problem(f"unknown section '{clip(word)}'.{did_you_mean(word, TOP)} Expected one of: {', '.join(TOP)}.")
                )
        units = self._text("units") or "us"
        if units not in ("us", "metric"):
            self.problems.append(root.pairs["units"][1].problem(f"units are '{clip(units)}'. Expected us or metric."))
        for sort in SINGLE:
            self._single(sort)
        for section, sort in NAMED.items():
            self._named(section, sort)
        self._steps()
        self._references()
        steps, cycles = in_order(list(self.entities["step"].values()), root.file)
        self.problems.extend(cycles)
        if self.problems:
            raise InputError(self.problems)
        return Plan(root.file, self._text("title"), units, self.entities, steps, root, self._text("note"))

    def _text(self, section: str) -> str:
        node = self.root.get(section)
        if node is None:
            return ""
        if node.kind != "scalar":
            self.problems.append(node.problem(f"'{section}' is a {node.kind}. Expected some words."))
            return ""
        if len(node.text) > MAX_TEXT:
            self.problems.append(node.problem(f"'{section}' is longer than {MAX_TEXT:,} letters."))
        return node.text

    def _single(self, sort: str) -> None:
        node = self.root.get(sort)
        line = node.line if node else 0
        entity = Entity(sort, sort, {}, line)
        self.entities[sort] = {sort: entity}
        if node is not None and not _nothing(node):
            self._fill(entity, node, f"the {sort}")

    def _named(self, section: str, sort: str) -> None:
        found: dict[str, Entity] = {}
        self.entities[sort] = found
        node = self.root.get(section)
        if node is None or _nothing(node):
            return
        if node.kind != "mapping":
            self.problems.append(node.problem(f"'{section}' is a {node.kind}. Expected names with what they are."))
            return
        if len(node.pairs) > MAX_ENTITIES:
            self.problems.append(node.problem(f"'{section}' has {len(node.pairs):,} entries. Expected at most {MAX_ENTITIES:,}."))
            return
        for own, (key, spec) in node.pairs.items():
            if not self._good_id(own, key, sort):
                continue
            entity = Entity(sort, own, {}, key.line)
            found[own] = entity
            self._fill(entity, spec, f"{sort} '{own}'")
            if sort in _KINDED and "kind" not in spec.pairs and spec.kind == "mapping":
                self.problems.append(key.problem(f"{sort} '{own}' has no 'kind'. Expected what it is, such as 'kind: …'."))

    def _good_id(self, own: str, key: Node, sort: str) -> bool:
        if _ID.fullmatch(own):
            return True
        self.problems.append(
            key.problem(f"'{clip(own)}' cannot name a {sort}. Expected letters, digits, spaces, - and _, at most 60.")
        )
        return False

    def _fill(self, entity: Entity, node: Node, owner: str) -> None:
        """Read the attributes of one entity."""
        if node.kind != "mapping":
            self.problems.append(node.problem(f"{owner} is a {node.kind}. Expected attributes, such as '{{kind: …}}'."))
            return
        lines: dict[str, int] = {}
        for word, (key, value) in node.pairs.items():
            if word == "note":
                entity.note = value.text
                continue
            attribute = self.vocabulary.attribute(entity.sort, word)
            if attribute is None:
                known = self.vocabulary.attributes.get(entity.sort, {})
                self.problems.append(
                    key.problem(f"{owner} has an unknown attribute '{clip(word)}'.{did_you_mean(word, known)}")
                )
                continue
            if attribute.name in lines:
                first = lines[attribute.name]
                self.problems.append(key.problem(f"{owner} says '{attribute.name}' twice (first on line {first})."))
                continue
            lines[attribute.name] = key.line
            read = self.reader.value(owner, attribute, value)
            if read is not None:
                entity.values[attribute.name] = read

    def _steps(self) -> None:
        found: dict[str, Entity] = {}
        self.entities["step"] = found
        node = self.root.get("steps")
        if node is None or node.kind != "sequence" or not node.items:
            place = node or self.root
            self.problems.append(place.problem("has no steps. Expected 'steps:' with a list such as '- {do: sand, to: doors}'."))
            return
        if len(node.items) > MAX_ENTITIES:
            self.problems.append(node.problem(f"has {len(node.items):,} steps. Expected at most {MAX_ENTITIES:,}."))
            return
        written = {item.pairs["id"][1].text for item in node.items if item.get("id")}
        for number, item in enumerate(node.items, 1):
            self._step(number, item, written, found)

    def _step(self, number: int, item: Node, written: set[str], found: dict[str, Entity]) -> None:
        if item.kind != "mapping":
            self.problems.append(item.problem(f"step {number} is a {item.kind}. Expected '{{do: …, to: …}}'."))
            return
        given = item.get("id")
        if given is not None:
            if not self._good_id(given.text, given, "step"):
                return
            if given.text in found:
                first = found[given.text].line
                self.problems.append(given.problem(f"step '{given.text}' stands twice (first on line {first})."))
                return
        body = Node(item.file, item.line, item.column, "mapping", pairs={k: v for k, v in item.pairs.items() if k != "id"})
        entity = Entity("step", given.text if given else "", {}, item.line)
        action = item.get("do")
        owner = f"step '{entity.id or (clip(action.text) if action else number)}'"
        self._fill(entity, body, owner)
        if "do" not in item.pairs:
            self.problems.append(item.problem(f"{owner} does not say what is done. Expected 'do:', such as 'do: sand'."))
        if not given:
            do = entity.values.get("do")
            entity.id = _fresh(str(do.plain) if do else "step", written | set(found))
        found[entity.id] = entity

    def _references(self) -> None:
        """Every name of a part, product, room or step must exist."""
        for sort, entities in self.entities.items():
            for entity in entities.values():
                for name, value in entity.values.items():
                    attribute = self.vocabulary.attributes[sort][name]
                    if attribute.type == "ref":
                        self._refer(entity, name, attribute.of, value)

    def _refer(self, entity: Entity, name: str, sort: str, value: Value) -> None:
        known = self.entities.get(sort, {})
        for word in value.plain if isinstance(value.plain, tuple) else (value.plain,):
            if str(word) not in known:
                self.problems.append(
                    Problem(
                        self.root.file,
                        value.line,
                        value.column,
                        f"{entity.sort} '{entity.id}': '{name}' names '{clip(str(word))}', which is no {sort} of this plan."
                        + did_you_mean(str(word), known),
                    )
                )


def _nothing(node: Node) -> bool:
    return node.kind == "scalar" and node.text in ("", "~", "null")


def _fresh(word: str, taken: set[str]) -> str:
    """The word, or the word with a number, that no step has."""
    number, name = 1, word
    while name in taken:
        number += 1
        name = f"{word}-{number}"
    return name
