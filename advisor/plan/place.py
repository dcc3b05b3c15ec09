"""Where the house stands: as the plan says; else presumed, unless what the plan is written in speaks against it."""

from __future__ import annotations

from collections.abc import Mapping

from advisor import later
from advisor.plan.model import Entity, Place
from advisor.rulebase.countries import HOME
from advisor.rulebase.vocabulary import Vocabulary

_MONEY = "USD"
_CODES = ("electrical", "residential", "plumbing")  # editions that are stated are those of HOME
_NOT_CLEAR = frozenset({"GE"})  # a name that is also that of a state of HOME
# 230 and 400 V are the mains of most of the world, and none of the country of the rules (IEC 60038).
_METRIC = later.pattern(
    r"(?:[\d.]\s*(?:[mck]?m[23²³]?|[mc]?[lL]|lit(?:er|re)s?|k?g|°?C|k?Pa|bar|[mc]m\b.*)|(?<![\d.])(?:230|400)\s*V)$"
)
_US = later.pattern(
    r"(?:[\d.]\s*(?:in|inch|inches|ft|feet|lbs?|gal|gallons?|qt|quarts?|°?F|sq ?ft|cu ?ft|cfm|psi|oz)|[\"'])$"
)
_FEW = 2  # measures that say something


def place_of(
    entities: Mapping[str, Mapping[str, Entity]],
    units: str,
    money: str,
    vocabulary: Vocabulary,
    left_open: bool = False,
) -> Place:
    """The country and region of a plan. `units` is what the plan says itself, empty where it does not.

    With `left_open` it says that the country is not known, and none is presumed by what it does not say.
    """
    house = entities["house"]["house"].values
    region = str(house["region"].plain) if "region" in house else ""
    if "country" in house:
        return Place(str(house["country"].plain), region, "stated", "")
    if named := _named(str(house["location"].plain) if "location" in house else "", vocabulary):
        return Place(named, region, "presumed", "the plan says that the house stands in a place there")
    code = entities["code"]["code"].values
    if any(name in code for name in _CODES):
        return Place(HOME, region, "presumed", "the plan names a code of that country")
    if left_open:
        return Place("", region, "unknown", "the plan leaves it open")
    if units == "metric":
        return Place("", region, "unknown", "the plan is written in metric units")
    if money != _MONEY:
        return Place("", region, "unknown", f"the plan counts in {money}")
    if not units and _is_metric(entities):
        return Place("", region, "unknown", "most measures of the plan are metric")
    return Place(
        HOME,
        region,
        "presumed",
        "the rules are written by its law and its trade, and nothing in the plan speaks against it",
    )


def _named(location: str, vocabulary: Vocabulary) -> str:
    """The country that a place such as `Cork, Ireland` names at its end; empty where it names none for sure."""
    countries = vocabulary.taxonomies.get("country")
    last = location.rpartition(",")[2].strip(" .")
    if countries is None or len(last) < 4:  # CA and DE are states too
        return ""
    found = countries.said(last)
    return "" if found is None or found in _NOT_CLEAR else found


def _is_metric(entities: Mapping[str, Mapping[str, Entity]]) -> bool:
    texts = [value.text for things in entities.values() for one in things.values() for value in one.values.values()]
    metric = sum(_METRIC.search(text) is not None for text in texts)
    return metric >= _FEW and metric > sum(_US.search(text) is not None for text in texts)
