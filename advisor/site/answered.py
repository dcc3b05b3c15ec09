"""What the plan has answered already in other words, so that nobody asks it: rows of `rules/site/usual.yaml`."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from typing import Any

from msgspec import Struct

from advisor.plan.model import Entity, Plan
from advisor.rulebase.vocabulary import Vocabulary

KIND_TAXONOMY = {"part": "part_kind", "product": "product_kind", "room": "room_kind", "step": "action"}
Words = Mapping[str, frozenset[str]]  # by attribute
_Below = Callable[[str, Any], frozenset[str]]

_YEARS_OF_PART = ("installed", "coated_year")


def is_since(entity: Entity, plan: Plan, year: float) -> bool:
    """Whether the house is of that year or later, and no older year is stated of the thing itself."""
    house = plan.entities.get("house", {}).get("house")
    built = house.values.get("built") if house is not None else None
    own = [entity.values[name].plain for name in _YEARS_OF_PART if name in entity.values]
    if built is None or built.presumed or not isinstance(built.plain, int | float):
        return False
    return built.plain >= year and all(isinstance(one, int | float) and one >= year for one in own)


def words_of(entity: Entity | None) -> dict[str, frozenset[str]]:
    """The words that the plan states of a thing, by attribute."""
    values = entity.values.items() if entity is not None else ()
    told = {name: value.plain if isinstance(value.plain, tuple) else (value.plain,) for name, value in values}
    return {name: frozenset(one for one in said if isinstance(one, str)) for name, said in told.items()}


def _says(stated: Words, wanted: Words) -> bool:
    """Whether each of these attributes is stated, with none but these words."""
    return all(stated.get(name, frozenset()) and stated[name] <= words for name, words in wanted.items())


class _Silly(Struct, frozen=True):
    """What is silly to ask of things of some kinds: by what it is done `at`, by what is stated of it or the house."""

    sort: str
    say: frozenset[str]
    of: frozenset[str]
    at: frozenset[str]
    stated: Words
    house: Words
    unless: Words
    in_room: bool


class _RuledOut(Struct, frozen=True):
    """The words that an attribute of some kinds cannot have where this is stated of the same thing."""

    sort: str
    say: str
    of: frozenset[str]
    stated: Words
    words: frozenset[str]


class ToldAlready:
    """The rows of `silly_at` and `ruled_out`, with all that their words take in."""

    def __init__(self, data: Mapping[str, Any], vocabulary: Vocabulary, below: _Below) -> None:
        def words(sort: str, told: Mapping[str, Any]) -> dict[str, frozenset[str]]:
            return {name: below(vocabulary.attributes[sort][name].of, said) for name, said in told.items()}

        self._silly = [
            _Silly(
                row["sort"],
                frozenset(row["say"]),
                below(KIND_TAXONOMY[row["sort"]], row["of"]),
                below("part_kind", row.get("at", ())),
                words(row["sort"], row.get("stated", {})),
                words("house", row.get("house", {})),
                words(row["sort"], row.get("unless", {})),
                row.get("in_room") == "yes",
            )
            for row in data.get("silly_at", ())
        ]
        self._ruled_out = [
            _RuledOut(
                row["sort"],
                row["say"],
                below(KIND_TAXONOMY[row["sort"]], row["of"]),
                words(row["sort"], row["stated"]),
                words(row["sort"], {row["say"]: row["words"]})[row["say"]],
            )
            for row in data.get("ruled_out", ())
        ]

    def silly_at(self, sort: str, kind: str, things: Collection[str], stated: Words, house: Words) -> frozenset[str]:
        """What is silly to ask of a step on things of these kinds, or of what is stated so: a ladder for a faucet.

        `kind` is the action of a step or the kind of a thing; `stated` and `house` have the words that the plan gives
        of it and of the house, those of a list too.
        """
        found: frozenset[str] = frozenset()
        for row in self._silly:
            if row.sort != sort or kind not in row.of or (row.at and not (things and row.at.issuperset(things))):
                continue
            if row.in_room and "room" not in stated:
                continue
            if any(stated.get(name, frozenset()) & words for name, words in row.unless.items()):
                continue
            if _says(stated, row.stated) and _says(house, row.house):
                found |= row.say
        return found

    def ruled_out(self, sort: str, name: str, kind: str, stated: Words) -> frozenset[str]:
        """The words that an attribute cannot have, by what is stated of the same thing: what is rolled is not sprayed.

        `kind` is the action of a step or the kind of a thing.
        """
        found: frozenset[str] = frozenset()
        for row in self._ruled_out:
            if (row.sort, row.say) == (sort, name) and kind in row.of and _says(stated, row.stated):
                found |= row.words
        return found
