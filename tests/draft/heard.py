"""Sentences heard, for tests."""

from __future__ import annotations

from typing import Any

from advisor.draft.draft import Draft, draft
from advisor.rulebase.base import load_rulebase


def hear(text: str) -> Draft:
    """The draft of a text by the built-in rules."""
    return draft(text, load_rulebase())


def steps(text: str) -> list[tuple[str, list[str]]]:
    """What is done to what, in order."""
    return [(step["do"], step.get("to", [])) for step in hear(text).plan.get("steps", [])]


def value(text: str, *path: str) -> Any:
    """What stands at a path of the plan; None where nothing does."""
    found: Any = hear(text).plan
    for word in path:
        found = found.get(word) if isinstance(found, dict) else None
    return found


def fact(text: str, sort: str, kind: str, attribute: str) -> Any:
    """An attribute of the only thing of a kind."""
    things = hear(text).board.things[sort]
    (thing,) = [thing for thing in things if thing.kind == kind]
    found = thing.facts.get(attribute)
    return found.value if found else None
