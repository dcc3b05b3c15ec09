"""What the words of a plan may come to mean once what is unknown is said.

A range of which the fuel is not known may be a gas range; a coat whose product is not known may be a coat of primer.
The plan is read so where it says it (`plan/meaning.py`); here each such reading is a fact of its own, with what would
have to be said.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from advisor.rulebase.meanings import Clue
from advisor.rulebase.vocabulary import Vocabulary
from advisor.site.assume import NOTHING, Key, Set, Ways, meet, pruned
from advisor.site.cells import Open

Kinds = Mapping[tuple[str, str], Sequence[tuple[str, Set]]]  # of each thing the kinds that it may be, and the need
_READINGS = 2  # a plan is read once as a whole, and then once for each part and product


def finer_kinds(sort: str, kind: str, values: Mapping[str, Any], vocabulary: Vocabulary) -> Iterator[tuple[str, Set]]:
    """The kinds that a thing of a wider kind is told to be by what is not said of it."""
    taxonomy = vocabulary.taxonomies.get(f"{sort}_kind")
    for finer, said in (taxonomy.told if taxonomy else {}).items():
        need: Set | None = NOTHING if ("of", kind) in said else None
        for name, word in said:
            if name != "of" and need is not None:
                below = vocabulary.taxonomies[vocabulary.attributes[sort][name].of].below(word)
                more = _said(values.get(name), below)
                need = None if more is None else meet(need, more)
        if need:
            yield finer, need


def said_too(
    sort: str, kind: str, values: Mapping[str, Any], vocabulary: Vocabulary
) -> Iterator[tuple[dict[str, Any], Ways]]:
    """What an answer says of another attribute that nobody asks of such a thing: asbestos cement holds asbestos."""
    taxonomy = vocabulary.taxonomies.get(f"{sort}_kind")
    for (name, word), (other, plain, kinds) in vocabulary.said_too.get(sort, {}).items():
        if other in values or (kinds and not any(taxonomy and kind in taxonomy.below(one) for one in kinds)):
            continue
        need = _said(values.get(name), vocabulary.taxonomies[vocabulary.attributes[sort][name].of].below(word))
        if need:
            yield {**values, other: plain}, (need,)


def other_verbs(
    verb: str, values: Mapping[str, Any], kinds: Kinds, cells: Mapping[Key, Open], vocabulary: Vocabulary
) -> list[tuple[str, Ways]]:
    """The verbs that a step may amount to by what is not said of it, of its part or its product."""
    found: dict[str, list[Set]] = {}
    _follow(verb, [NOTHING], _READINGS, lambda clue: list(_clue(clue, values, kinds, cells)), vocabulary, found)
    return [(means, pruned(sets)) for means, sets in found.items() if means != values.get("do")]


def _follow(
    verb: str,
    before: list[Set],
    left: int,
    options: Callable[[Clue], list[Set]],
    vocabulary: Vocabulary,
    found: dict[str, list[Set]],
) -> None:
    """The verbs that this one may amount to under what was assumed before, and what those may amount to in turn."""
    for one in vocabulary.meanings.get(verb, ()) if left else ():
        sets = before
        for clue in one.clues:
            sets = [both for s in sets for more in options(clue) if (both := meet(s, more)) is not None]
        if not sets:
            continue
        _follow(one.means, sets, left - 1, options, vocabulary, found)
        if NOTHING not in sets:
            found.setdefault(one.means, []).extend(sets)
        if sets == before:
            break  # it is read so already, and the first that fits counts


def _clue(clue: Clue, values: Mapping[str, Any], kinds: Kinds, cells: Mapping[Key, Open]) -> Iterator[Set]:
    """What would have to be so for the clue to be there."""
    if clue.sort == "step":
        found = _said(values.get(clue.attribute), clue.words)
        if found is not None:
            yield found
        return
    if clue.attribute != "kind":
        return  # no meaning hangs on anything else
    thing = values.get("to" if clue.sort == "part" else "using")
    if type(thing) is Open:
        plain = [one for one in sorted(thing.allowed) if NOTHING in _needs(clue, one, kinds)]
        if plain:
            yield from _named(thing, plain)
        for one in sorted(thing.allowed):
            kind = cells.get((clue.sort, one, "kind"))  # of a product that nobody has named
            may = [_said(kind, clue.words)] if kind is not None else _needs(clue, one, kinds)
            for need in may:
                if need:
                    yield from ({**named, **need} for named in _named(thing, [one]))
        return
    yield from _needs(clue, str(thing), kinds)


def _named(thing: Open, names: list[str]) -> Iterator[Set]:
    """That the unknown thing is, or is among others, one of these."""
    constraint = thing.passing("in", tuple(names))
    if constraint is not None:
        yield {thing.key: constraint}


def _needs(clue: Clue, thing: str, kinds: Kinds) -> list[Set]:
    """What would have to be so for a thing of the plan to be of such a kind; nothing where it is."""
    return [need for kind, need in kinds.get((clue.sort, thing), ()) if kind in clue.words]


def _said(value: Any, wanted: frozenset[str]) -> Set | None:
    """What would have to be so for the value to be, or to hold, one of the words; None where it cannot."""
    if type(value) is Open:
        constraint = value.passing("in", tuple(sorted(wanted)))
        return None if constraint is None else {value.key: constraint}
    members = value if isinstance(value, tuple) else (value,)
    return NOTHING if any(one in wanted for one in members) else None
