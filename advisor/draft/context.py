"""What a value may belong to, where it stands."""

from __future__ import annotations

from msgspec import Struct, field

from advisor.draft.board import Thing


class Context(Struct):
    """What a value may belong to, where it stands: each thing with how near it is."""

    near: list[tuple[Thing, float]]
    step: Thing | None = None
    room: Thing | None = None
    hedged: bool = False
    denied: bool = False
    people: bool = False  # it speaks of people, and names no part
    far: frozenset[int] = frozenset()  # things that only earlier sentences named
    house: bool = False  # the clause speaks of the house
    names: list[tuple[str, str]] = field(default_factory=list)  # attributes named beside it: sort, attribute
