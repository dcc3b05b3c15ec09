"""The sizes of a thing, asked for in one question."""

from __future__ import annotations

SIZES = {"length": "long", "width": "wide", "height": "high", "depth": "deep", "thickness": "thick"}
_NAMED = 3  # sizes that one question names


def sizes_asked(asked: set[str], ask: str, own: str) -> str:
    """One question for the sizes of a thing: `How long, wide and thick is top?`"""
    names = [word for name, word in SIZES.items() if name in asked]
    if len(names) == 1:
        return ask.replace("{{ id }}", own)
    if len(names) > _NAMED:
        return f"What are the sizes of {own}?"
    listed = f"{', '.join(names[:-1])} and {names[-1]}"
    return f"How {listed} is {own}?"
