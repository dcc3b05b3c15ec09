"""Spoiling real files, as trees and as bytes: everything follows from the seed."""

from __future__ import annotations

import copy
import random
from typing import Any

import yaml


class _Plain(yaml.CSafeLoader):
    """Scalars as written."""


_Plain.yaml_implicit_resolvers = {}

# What people and their tools write, and what attackers would.
SCALARS: tuple[str, ...] = (
    "", "~", "null", "unknown", "?", "yes", "no", "on", "0", "-0", "-1", "1", "3.7", "1e999", "-1e999", "1e-999",
    ".nan", "nan", "NaN", ".inf", "-inf", "9" * 400, "1" * 5000, "0x10", "1_000", "1:30", "007",
    "2030-02-30", "9999-12-31",
    "0 ft", "-3 ft", "1/0 in", "0/0 in", "1-1/4 in", "1e308 ft", "1e400 ft", "99999999999999 day", "nan ft", "inf h",
    "3 ft 6", "13 ft 6 in 2 mm", "١٢ ft", "１２ ft", "𝟙 ft", "½ in", "3′ 6″", "3 parsec", "70 °F", "-500 °F", "50 %",
    "1e300 USD", "\u202eabc", "\u0000", "\ufeff", "\ud7ff", "\U0010ffff", "a\u0301\u0301\u0301", "İ", "ß", "ﬀ",
    "{{ part }}", "{{ 7*7 }}", "$part", "$", "{%", "<script>alert(1)</script>", "../../etc/passwd", "a/b", "&a", "*a",
    "!!python/object:os.system", "'", '"', "\n", "\t", "x" * 12_000, "steps", "kind", "doors", "sand", "cabinet doors",
    "paint", "pine", "primer", "install", "above", "not", "danger", "common_practice",
)  # fmt: skip


def load(text: str) -> Any:
    """A YAML text as plain lists, mappings and words."""
    return yaml.load(text, Loader=_Plain)


def places(tree: Any) -> list[tuple[Any, Any]]:
    """Every (container, key) of the tree."""
    found: list[tuple[Any, Any]] = []
    queue = [tree]
    while queue:
        one = queue.pop()
        keys = list(one) if isinstance(one, dict) else range(len(one)) if isinstance(one, list) else ()
        for key in keys:
            found.append((one, key))
            queue.append(one[key])
    return found


def spoil_tree(tree: Any, pick: random.Random) -> Any:
    """One to four changes of the tree."""
    tree = copy.deepcopy(tree)
    for _ in range(pick.choice((1, 1, 2, 4))):
        known = places(tree)
        if not known:
            return pick.choice(SCALARS)
        parent, key = pick.choice(known)
        choice = pick.randrange(9)
        if choice == 0:
            del parent[key]
        elif choice == 1:
            parent[key] = pick.choice(SCALARS)
        elif choice == 2:
            other, at = pick.choice(known)
            if isinstance(other, dict | list) and (at in other if isinstance(other, dict) else at < len(other)):
                parent[key] = copy.deepcopy(other[at])
        elif choice == 3:
            parent[key] = [parent[key]] * pick.choice((0, 1, 2, 30))
        elif choice == 4:
            parent[key] = {pick.choice(SCALARS[:60]): parent[key]}
        elif choice == 5:
            for _ in range(pick.choice((3, 45))):
                parent[key] = [parent[key]] if pick.random() < 0.5 else {"a": parent[key]}
        elif choice == 6 and isinstance(parent, dict):
            parent[pick.choice(SCALARS)] = parent.pop(key)
        elif choice == 7 and isinstance(parent, list):
            pick.shuffle(parent)
        elif isinstance(parent[key], str):
            parent[key] = spoil_word(parent[key], pick)
    return tree


def spoil_word(word: str, pick: random.Random) -> str:
    """A slip of the keyboard, or of a converter."""
    at = pick.randint(0, len(word))
    piece = pick.choice(
        ("", "e", " ", "-", "½", "9", ".", "\u00a0", "\u200b", "%", "/", "'", "ft", "#", ": ", "\u2028")
    )
    return word[:at] + piece + word[at + pick.randint(0, 2) :]


def spoil_bytes(text: str, pick: random.Random) -> bytes:
    """The text as a file that went through the wrong hands."""
    lines = text.split("\n")
    for _ in range(pick.choice((0, 1, 3))):
        at = pick.randrange(len(lines))
        choice = pick.randrange(5)
        if choice == 0:
            lines.insert(at, pick.choice(lines))
        elif choice == 1:
            del lines[at : at + pick.randint(1, 3)]
            lines = lines or [""]
        elif choice == 2:
            lines[at] = pick.choice(("\t", "  ", "   ", "- ", "? ", "| ", "%YAML 1.1\n---\n", "--- ")) + lines[at]
        elif choice == 3:
            lines[at] = spoil_word(lines[at], pick)
        else:
            lines[at] += pick.choice((" &a", " *a", " !!set", " # ", "}", "]", ": {", " [", ' "', "\r", "\x0c", "\x85"))
    data = pick.choice(("\n", "\n", "\r\n", "\r")).join(lines)
    raw = data.encode(pick.choice(("utf-8", "utf-8", "utf-8-sig", "utf-16", "utf-16-be", "latin-1")), "replace")
    for _ in range(pick.choice((0, 0, 1, 4))):
        at = pick.randrange(len(raw) + 1)
        raw = raw[:at] + bytes([pick.randrange(256)]) + raw[at + pick.randint(0, 1) :]
    return raw[: pick.randint(0, len(raw))] if pick.random() < 0.1 else raw
