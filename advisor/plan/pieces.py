"""Values that a comma cut in pieces: in braces `{note: old, by hand}` says `note: old` and an empty `by hand`."""

from __future__ import annotations

from collections.abc import Callable

from msgspec import Struct

from advisor.document import Node
from advisor.errors import clip


class Cut(Struct, frozen=True):
    """A piece without a value, the key whose value it was cut off, and all pieces of that value."""

    key: str
    pieces: tuple[str, ...]
    first: bool  # of the pieces: one message is enough for all

    def message(self, value: str, *, many: bool) -> str:
        """What went wrong and how to write it, for a value that is a list or one text."""
        whole = clip(", ".join((value, *self.pieces)), 200)
        written = f"[{whole}]" if many else "'" + whole.replace("'", "''") + "'"
        wanted = "brackets round a list" if many else "quotes round a text with a comma"
        return f"'{clip(self.pieces[0])}' stands alone after a comma. Expected {wanted}: {clip(self.key)}: {written}."


def loose_ends(node: Node, holds_words: Callable[[str], bool | None]) -> dict[str, Cut]:
    """The keys of a mapping that are pieces of the value before them: unknown, and without a value.

    `holds_words` says whether a key may hold some words or a list; None where it is unknown. Only plain text can be
    cut so: a quoted value ends at its quote, and a list at its bracket.
    """
    found: dict[str, Cut] = {}
    for key, pieces in _runs(node, holds_words):
        found |= {piece: Cut(key, tuple(pieces), place == 0) for place, piece in enumerate(pieces)}
    return found


def _runs(node: Node, holds_words: Callable[[str], bool | None]) -> list[tuple[str, list[str]]]:
    runs: list[tuple[str, list[str]]] = []
    before, line, column = "", 0, 0  # the key whose value may go on, where it ends, where the first key stands
    for word, (place, value) in node.pairs.items():
        column = column or place.column
        empty = value.kind == "scalar" and not value.text and not value.quoted
        in_braces = place.line == line or place.column != column
        if before and empty and in_braces and holds_words(word) is None:
            if not runs or runs[-1][0] != before:
                runs.append((before, []))
            runs[-1][1].append(word)
        else:
            plain = value.kind == "scalar" and value.text and not value.quoted
            before = word if plain and holds_words(word) else ""
        line = value.line
    return runs
