"""What may stand at a place of a text: an amount, a verb, a name, a value; and the sayings around values."""

from __future__ import annotations

from msgspec import Struct, field

from advisor.draft.language import Saying
from advisor.draft.lexicon import Sense
from advisor.draft.numbers import Amount


class Item(Struct):
    """A piece with its possible meanings. `verb` is set where it is taken for doing something."""

    start: int
    end: int
    senses: tuple[Sense, ...] = ()
    amount: Amount | None = None
    name: str = ""  # words in quotation marks: the name of a thing
    verb: Sense | None = None
    also: list[int] = field(default_factory=list)  # places of the verb's particle, further on
    slip: bool = False

    def roles(self) -> frozenset[str]:
        """The sorts of meaning that it has."""
        return frozenset(sense.role for sense in self.senses)

    def get(self, role: str, of: str = "") -> Sense | None:
        """Its first meaning of a sort."""
        return next((s for s in self.senses if s.role == role and (not of or s.of == of)), None)


class Match(Struct, frozen=True):
    """A saying that was found: tokens `start` to `end`, its value among the items where it has one."""

    saying: Saying
    start: int
    end: int
    value: Item | None


def fits(kind: str, of: str, item: Item) -> bool:
    """Whether an item may be a value of an attribute of that type."""
    amount = item.amount
    if amount is not None:
        if kind == "year":
            return amount.sort in ("year", "decade") or (amount.sort == "range" and amount.parts[0].sort == "year")
        if kind == "count":
            return amount.sort in ("number", "year", "range") and not amount.unit and amount.number.denominator == 1
        if kind == "yes_no":
            return False
        if amount.sort == "pair":
            return False
        return kind in amount.dimensions
    return (
        kind == "term"
        and item.get("term" if of not in ("tool", "who") else of, of if of not in ("tool", "who") else "") is not None
    )
