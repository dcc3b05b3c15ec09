"""From what happens and how sure that is to a signal word: `rules/harm.yaml`, and a rule's reading by it."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from advisor.document import Node, read_file
from advisor.errors import InputError, Problem, allowed, clip, did_you_mean
from advisor.rulebase.model import SIGNALS
from advisor.rulebase.scope import Scope

_KEYS = ("what", "how_sure")


def read_harms(path: Path) -> dict[str, Any]:
    """The table as plain words; nothing where there is no such file. InputError lists every gap in it."""
    if not path.is_file():
        return {}
    root = read_file(path)
    found = root.plain() if root.kind == "mapping" else {}
    problems: list[Problem] = []
    if not (isinstance(found.get("how_sure"), dict) and isinstance(found.get("what"), dict)):
        raise InputError([root.problem("holds no table of harm. Expected 'how_sure' and 'what'.")])
    for name, row in found["what"].items():
        words = row.get("words") if isinstance(row, dict) else None
        for sure in found["how_sure"]:
            if not isinstance(words, dict) or words.get(sure) not in SIGNALS:
                problems.append(root.problem(f"'{clip(name)}' has no signal word for '{clip(sure)}'."))
    if problems:
        raise InputError(problems)
    return dict(found)


def word_of(harm: tuple[str, str], harms: Mapping[str, Any]) -> str:
    """The signal word that follows from what happens and how sure it is; empty for words that the table lacks."""
    what, sure = harm
    row = harms.get("what", {}).get(what)
    return str(row["words"].get(sure, "")) if row else ""


def read_harm(node: Node | None, scope: Scope) -> tuple[str, str] | None:
    """A conclusion's `harm: {what: …, how_sure: …}`; None where it says none, or none that can be read."""
    if node is None:
        return None
    if node.kind != "mapping":
        scope.say(node, "'harm' says what happens and how sure that is: 'harm: {what: injury, how_sure: could}'.")
        return None
    for name, (at, _) in node.pairs.items():
        if name not in _KEYS:
            scope.say(at, f"'harm' has no '{clip(name)}'.{allowed(name, _KEYS)}")
    said = []
    for name in _KEYS:
        value, known = node.get(name), scope.harms.get(name, {})
        if value is None or value.kind != "scalar":
            scope.say(node, f"'harm' needs '{name}', a word. Expected one of: {', '.join(known)}.")
        elif value.text not in known:
            near = did_you_mean(value.text, known)
            scope.say(value, f"'{clip(value.text)}' is no '{name}' of harm.{near} Expected one of: {', '.join(known)}.")
        else:
            said.append(value.text)
    return (said[0], said[1]) if len(said) == len(_KEYS) else None


def harm_words(harm: tuple[str, str], harms: Mapping[str, Any]) -> str:
    """The reading in words: `dangerous house, could: the house burns … later. It happens now and then.`"""
    what, sure = harm
    means, chance = harms["what"][what].get("means", ""), harms["how_sure"][sure]
    return f"{what}, {sure}. Where it is not kept: {means}; {chance}."
