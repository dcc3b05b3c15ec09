"""What advice takes along when it is put into a plan: gear, tools, products, time (`rules/site/advice.yaml`)."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache
from typing import Any

from msgspec import Struct

from advisor.plain import Plain
from advisor.plan.model import Plan
from advisor.rulebase.vocabulary import Vocabulary
from advisor.tables import rules_words
from advisor.units import read_quantity


class Whole(Struct, frozen=True):
    """The file as data."""

    hands: str  # who comes to help
    at_hand: frozenset[str]  # kinds of product that nobody has to get
    results: Mapping[str, str]  # of a test: nothing found, something found
    measures: tuple[Mapping[str, str], ...]
    methods: Mapping[str, Mapping[str, Any]]
    reach: Mapping[str, float]
    known: frozenset[str]
    house_gear: Mapping[str, str]
    decided: frozenset[str]
    tests: Mapping[str, Mapping[str, str]]
    result_names: Mapping[str, str]
    at_once: frozenset[str]  # what tells a test's result on the spot
    steps: Mapping[str, Mapping[str, Any]]

    def gear_for(self, detail: str, value: Plain) -> str:
        """The gear that a detail of a step hangs on; empty for none."""
        for one in self.measures:
            if one["detail"] == detail and one.get("is", value) == value:
                return one["takes"]
        return ""

    def reached(self, detail: str, value: Plain) -> bool:
        """Whether a person can reach so much."""
        most = self.reach.get(detail)
        return most is None or not isinstance(value, int | float) or value <= most


@lru_cache(maxsize=1)
def whole() -> Whole:
    """What the built-in rules say of it."""
    said = rules_words("site/advice.yaml")
    reach = {name: read_quantity(text, name).si for name, text in said["reach"].items()}
    return Whole(
        hands=said["hands"],
        at_hand=frozenset(said["at_hand"]),
        results=said["results"],
        measures=tuple(said["measures"]),
        methods=said["methods"],
        reach=reach,
        known=frozenset(said["known"]),
        house_gear=said["house_gear"],
        decided=frozenset(said["decided"]),
        tests=said["tests"],
        result_names=said["result_names"],
        at_once=frozenset(said["at_once"]),
        steps=said["steps"],
    )


def owns(plan: Plan, gear: str, vocabulary: Vocabulary, wanted: Plain = 2) -> bool:
    """Whether the crew has the gear, or a kind of it, or so many people."""
    crew = plan.entities["crew"]["crew"].values
    if gear == whole().hands:
        people = crew.get("people")
        return people is not None and isinstance(people.plain, int | float) and _enough(people.plain, wanted)
    owned = crew.get("owns")
    tools = vocabulary.taxonomies.get("tool")
    if owned is None or not isinstance(owned.plain, tuple) or tools is None:
        return False
    return not tools.below(gear).isdisjoint(map(str, owned.plain))


def _enough(people: float, wanted: Plain) -> bool:
    return people >= (wanted if isinstance(wanted, int | float) else 2)


def many(value: Any) -> list[Any]:
    """A value that may be one or a list."""
    return list(value) if isinstance(value, list | tuple) else [value]


def dropped(tools: Iterable[Plain], classes: Iterable[str], vocabulary: Vocabulary) -> list[str]:
    """The tools that are of none of the classes."""
    known = vocabulary.taxonomies["tool"]
    gone = frozenset(word for name in classes for word in known.below(name))
    return [str(tool) for tool in tools if tool not in gone]
