"""Words that may be meant in more than one way, as choices: each way said as a person would say it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from msgspec import Struct

from advisor.plan import read_plan
from advisor.plan.facts import value_in_words
from advisor.plan.model import Plan
from advisor.rulebase.base import RuleBase


class WordsTaken(Struct, frozen=True):
    """One way to take the words: whose attribute they would be, the value, and the same as words."""

    sort: str
    own: str
    attribute: str
    value: str
    said: str
    taken: bool = False  # it stands in the plan


class Doubtful(Struct, frozen=True):
    """The words, what is asked of them, and the ways; `several` where more than one may be meant."""

    words: str
    ask: str
    ways: tuple[WordsTaken, ...]
    several: bool


def offer_views(words: str, unsure: Iterable[Any], text: str, name: str, rulebase: RuleBase) -> list[Doubtful]:
    """The words that a draft was not sure of, for a plan that has what it was sure of."""
    plan = read_plan(text, rulebase.vocabulary, name)
    found = []
    for one in unsure:
        said = words[slice(*one.span)]
        ask = one.why if one.asks else "which is meant?"
        ways = [_way(c.sort, c.id, c.attribute, c.value, rulebase) for c in one.candidates]
        keys = {(way.sort, way.own, way.attribute) for way in ways}
        sort, own, attribute = min(keys)
        several = len(keys) == 1 and rulebase.vocabulary.attributes[sort][attribute].many
        if several:  # what was understood already stands among them, ticked: an answer must not take it away
            there = _there(sort, own, attribute, plan)
            first = [_way(sort, own, attribute, value, rulebase, taken=True) for value in there]
            ways = [*first, *(way for way in ways if way.value not in there)]
        found.append(Doubtful(said, ask, tuple(ways), several))
    return found


def _there(sort: str, own: str, attribute: str, plan: Plan) -> list[str]:
    entity = plan.entities.get(sort, {}).get(own)
    value = entity.values.get(attribute) if entity is not None else None
    return [one.strip() for one in value.text.split(",") if one.strip()] if value is not None else []


def _way(sort: str, own: str, attribute: str, value: str, rulebase: RuleBase, *, taken: bool = False) -> WordsTaken:
    said = value_in_words(rulebase.vocabulary.attributes[sort][attribute], sort, own, value)
    return WordsTaken(sort, own, attribute, value, said, taken)
