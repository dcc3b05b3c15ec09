"""A plan given as a Python mapping, as the same tree that a file gives."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from advisor.document import MAX_DEPTH, Node
from advisor.errors import InputError, Problem


def tree_of(value: Any, name: str) -> Node:
    """The tree of a mapping of words, numbers, lists and mappings; InputError for anything else."""
    return _node(value, name, 0)


def _node(value: Any, name: str, depth: int) -> Node:
    if depth > MAX_DEPTH:
        raise InputError([Problem(name, 0, 0, f"is nested more than {MAX_DEPTH} deep.")])
    if isinstance(value, Mapping):
        node = Node(name, 0, 0, "mapping")
        for key, one in value.items():
            word = _word(key, name)
            node.pairs[word] = (Node(name, 0, 0, "scalar", word), _node(one, name, depth + 1))
        return node
    if isinstance(value, list | tuple | set | frozenset):
        items = sorted(value, key=str) if isinstance(value, set | frozenset) else value
        return Node(name, 0, 0, "sequence", items=[_node(one, name, depth + 1) for one in items])
    return Node(name, 0, 0, "scalar", _word(value, name))


def _word(value: Any, name: str) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str | int | float):
        return str(value)
    if hasattr(value, "isoformat"):
        return str(value.isoformat())
    kind = type(value).__name__
    raise InputError([Problem(name, 0, 0, f"holds a value of type {kind}. Expected words, numbers, lists and mappings.")])
