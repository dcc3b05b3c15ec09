"""Which attributes of a kind of thing are opened where the plan leaves them out."""

from __future__ import annotations

from collections.abc import Iterator

from advisor.site.cells import Cell, cell_of
from advisor.site.usual import Usual


def cells_of(usual: Usual, reads: frozenset[tuple[str, str]], sort: str, kind: str) -> list[Cell]:
    """The attributes that may be open of a kind of thing, by name."""
    known: dict[tuple[str, str], list[Cell]] = usual.opened
    found = known.get((sort, kind))
    if found is None:
        found = known[sort, kind] = list(_worth(usual, reads, sort, kind))
    return found


def _worth(usual: Usual, reads: frozenset[tuple[str, str]], sort: str, kind: str) -> Iterator[Cell]:
    silly = usual.senseless(sort, kind)
    taxonomy = usual.vocabulary.taxonomies["part_kind"]
    for name, attribute in sorted(usual.vocabulary.attributes.get(sort, {}).items()):
        if attribute.quiet or not attribute.ask or name in ("kind", "do", "to", "using", "room", "after"):
            continue
        if (sort, name) not in reads or (name in silly and not attribute.presume):
            continue
        if sort == "part" and any(kind in taxonomy.below(one) for one in attribute.not_asked_of):
            continue
        cell = cell_of(attribute, usual.vocabulary)
        fit = usual.kind_words(sort, name, kind) if cell.sort == "w" else None
        yield cell if fit is None else cell._replace(allowed=fit)
