"""Which money a plan counts in. Amounts stay in their own: nothing is converted, and sums hold one money only."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from msgspec.structs import replace

from advisor.plan.model import Entity, Value
from advisor.rulebase.vocabulary import Vocabulary
from advisor.unit_table import CURRENCIES, DOLLARS
from advisor.units import currency

Entities = Mapping[str, Mapping[str, Entity]]
OTHER = "other_money"  # of a thing whose cost is in another money than the plan's


def plan_money(entities: Entities, vocabulary: Vocabulary) -> str:
    """That of the budget; else the one that most amounts are in."""
    budget = entities.get("budget", {}).get("budget")
    amount = budget.values.get("money") if budget else None
    if amount is not None:
        return currency(amount.text)
    found = Counter(
        currency(value.text)
        for sort, things in entities.items()
        for thing in things.values()
        for name, value in thing.values.items()
        if vocabulary.attributes[sort][name].type == "money"
    )
    return max(CURRENCIES, key=lambda money: found[money])  # of equals the first


def say_own_dollars(entities: Entities, vocabulary: Vocabulary) -> None:
    """In Canada, Australia and New Zealand `$48` is the country's own; `48 USD` stays what it says."""
    country = entities["house"]["house"].values.get("country")
    own = DOLLARS.get(str(country.plain)) if country else None
    if own is None:
        return
    for sort, things in entities.items():
        for thing in things.values():
            for name, value in thing.values.items():
                dollars = vocabulary.attributes[sort][name].type == "money" and currency(value.text) == "USD"
                if dollars and "USD" not in value.text.upper():
                    thing.values[name] = replace(value, text=f"{value.plain} {own}")


def say_other_money(entities: Entities, vocabulary: Vocabulary) -> str:
    """The money of the plan; what costs another is marked, so that no rule adds the two."""
    money = plan_money(entities, vocabulary)
    for sort in ("part", "product", "step"):
        for thing in entities.get(sort, {}).values():
            cost = thing.values.get("cost")
            if cost is not None and currency(cost.text) != money and OTHER in vocabulary.attributes[sort]:
                thing.values[OTHER] = Value("yes", "yes", cost.line, cost.column)
    return money


def amount(entity: Entity | None, attribute: str) -> tuple[float, str] | None:
    """An amount that an entity states, with its money; None where it states none."""
    value = entity.values.get(attribute) if entity else None
    return None if value is None else (float(value.plain), currency(value.text))  # type: ignore[arg-type]
