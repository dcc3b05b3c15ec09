"""Numbers without a unit that are sizes: from the measure before them, or in inches where nothing else is likely."""

from __future__ import annotations

from advisor.draft.items import Item
from advisor.draft.numbers import Amount, Measures
from advisor.draft.tokens import Token
from advisor.draft.turns import turns

_SIZES = frozenset({"wide", "deep", "high", "tall", "long", "thick"})
_OF_AN_INCH = frozenset([2, 4, 8, 16, 32])
_TOO_MANY_FEET = 14  # of a thing that is so wide, high or deep


def give_units(found: list[Item], tokens: list[Token], measures: Measures, stop: int) -> None:
    """`24 inches wide, 34 high`: a number before a word of size has the unit of the measure before it.

    Where none was told, inches are meant by a share and by what is too many for feet; that is only offered.
    """
    unit = ""
    for item in found:
        amount = item.amount
        if amount is None:
            continue
        if amount.unit and "length" in amount.dimensions:
            unit = amount.unit
        elif not amount.unit and amount.sort == "number" and item.end <= stop:
            sized = item.end < stop and tokens[item.end].text in _SIZES
            if sized and unit:
                item.amount = measures.with_unit(amount, unit)
            elif _bare_share(amount, tokens) or (sized and amount.number >= _TOO_MANY_FEET):
                item.amount, item.slip = measures.with_unit(amount, "in"), True


def _bare_share(amount: Amount, tokens: list[Token]) -> bool:
    """`a 3/8 hole`, `1 3/4 thick`: a share without a unit, of nothing that is told, is one of an inch."""
    behind = tokens[amount.end].text if amount.end < len(tokens) else ""
    share = amount.number < 13 and amount.number.denominator in _OF_AN_INCH
    return share and behind not in turns("behind shares")
