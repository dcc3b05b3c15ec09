"""A plan as checked objects, and the facts that the engine sees."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from msgspec import Struct, field

from advisor.document import Node
from advisor.plain import Plain


class Value(Struct, frozen=True):
    """A value as read: `plain` for the engine, `text` and place as the author wrote it."""

    plain: Plain
    text: str
    line: int
    column: int
    presumed: str = (
        ""  # why `plain` is the cautious one of the values that the text may mean; '' where it is the only one
    )


class Entity(Struct):
    """A part, room, product, step … of the plan. `values` holds only what the author stated."""

    sort: str
    id: str  # the sort itself for house, code, crew and budget
    values: dict[str, Value]
    line: int
    note: str = ""

    @property
    def word(self) -> str:
        """What it is, or what is done where it is a step; empty where nothing says it."""
        said = self.values.get("do" if self.sort == "step" else "kind")
        return "" if said is None else str(said.plain)


class ToGet(Struct, frozen=True):
    """A thing that is wanted and not there: gear, a helper, or a part or product of the plan as it should be."""

    what: str  # a name of the plan, or a word of the vocabulary
    sort: str  # part, product or room of the plan; else the list that the word stands in: tool, who, part_kind …
    steps: tuple[str, ...]  # before which it must be there; all where it is empty
    values: tuple[tuple[str, str, Value], ...]  # `as`: sort, attribute and what it should be
    line: int

    @property
    def told(self) -> str:
        """What to get, in words: `HEPA vacuum (dust collection: HEPA)`, `for faucet: lead free yes`.

        Of a thing that the plan has something is got, not the thing: a fan box is no second fan.
        """
        if self.values and self.sort in ("part", "room"):
            return f"for {self.what}: " + ", ".join(f"{name.replace('_', ' ')} {v.text}" for _, name, v in self.values)
        details = ", ".join(f"{name.replace('_', ' ')}: {value.text}" for _, name, value in self.values)
        return f"{self.what} ({details})" if details else self.what


class ToFindOut(Struct, frozen=True):
    """What is unknown and will be looked at, measured or asked, at the latest before the step `by`."""

    ask: str
    sort: str
    of: str
    attribute: str  # empty where it is asked whether there is such a thing
    by: str  # empty: before any step
    line: int


class Place(Struct, frozen=True):
    """Where the house stands: whose law and words count."""

    code: str  # of ISO 3166, two letters; empty where nothing says it
    region: str
    how: str  # stated, presumed or unknown
    because: str  # why it is presumed, or why it cannot be


class Plan(Struct):
    """A checked plan. `steps` stand in the author's order with `after:` applied."""

    file: str
    title: str
    units: str  # us | metric, for display only; with the money of the amounts (`units.System`)
    entities: dict[str, dict[str, Entity]]  # by sort, then id, in the author's order
    steps: list[Entity]
    tree: Node
    note: str = ""
    to_get: tuple[ToGet, ...] = ()
    to_find_out: tuple[ToFindOut, ...] = ()
    place: Place = Place("US", "", "stated", "")


_WORDS = {
    "by": "how",
    "with": "tools",
    "in": "place",
    "on": "what it stands on",
    "for": "time it takes",
    "from": "start",
}


class Basis(Struct, frozen=True):
    """A presumed or unknown value: whose, which attribute, what was presumed and why, the question to settle it."""

    sort: str
    id: str
    attribute: str
    value: str  # the presumed value as text; empty where it is unknown
    because: str
    ask: str

    @property
    def word(self) -> str:
        """The attribute in words: prepositions of a plan say little on their own."""
        return _WORDS.get(self.attribute, self.attribute.replace("_", " "))

    @property
    def about(self) -> str:
        """Whose attribute it is, in words: `built (house)`, `coating of doors`."""
        return f"{self.word} ({self.sort})" if self.id == self.sort else f"{self.word} of {self.id}"


class PlanFact(Struct, frozen=True):
    """One fact for the engine. `presumed` marks attributes that the author did not state."""

    kind: str
    values: tuple[tuple[str, Plain], ...]  # sorted by attribute
    line: int = 0
    presumed: frozenset[str] = frozenset()
    advised: bool = False

    def get(self, name: str) -> Plain | None:
        """The value of an attribute, or None."""
        for key, value in self.values:
            if key == name:
                return value
        return None


class FactBase(Struct):
    """All facts of a plan, with the basis of every presumed value and the question of every unknown one."""

    facts: list[PlanFact]
    presumptions: dict[tuple[str, str, str], Basis] = field(default_factory=dict)  # (sort, id, attribute)
    unknowns: Mapping[tuple[str, str, str], Basis] = field(default_factory=dict)


def things(basis: Iterable[Basis]) -> list[str]:
    """What is not known, by thing: `doors: coated year, installed`."""
    found: dict[str, list[str]] = {}
    for one in basis:
        found.setdefault("the " + one.id if one.id == one.sort else one.id, []).append(one.word)
    return [f"{own}: {', '.join(words)}" for own, words in found.items()]
