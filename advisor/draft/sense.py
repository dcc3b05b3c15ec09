"""One meaning of a phrase."""

from __future__ import annotations

from typing import NamedTuple


class Sense(NamedTuple):
    """One meaning of a phrase. `of` is the list of a term, the sort of an attribute, the form of a verb."""

    role: str  # action | part | product | room | tool | who | term | attr
    name: str
    of: str = ""
