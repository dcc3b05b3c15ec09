"""What is unknown of a thing, as values that a rule can meet: open ones and worked-out ones."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from advisor.plain import Plain
from advisor.rulebase.vocabulary import Attribute, Vocabulary
from advisor.site.assume import KEPT, STATED, Constraint, Key, Set, between, limit, words
from advisor.units import DIMENSIONS, BadQuantity, read_quantity

_INF = float("inf")


class Open:
    """The value of an unknown: one of `allowed` words, or a number between `low` and `high`, or any text.

    `presumed` is the cautious value that stands for it today, if there is one. `many` is a whole list of words,
    `member` any one word of such a list; `place` says that the words are names of things of the plan. `several` is
    one of them in each fact, and another one in another fact of the same thing: the parts of a step.
    """

    __slots__ = ("_passed", "allowed", "high", "key", "low", "many", "member", "place", "presumed", "several", "sort")

    def __init__(
        self,
        key: Key,
        sort: str,
        allowed: frozenset[str] = frozenset(),
        low: float = -_INF,
        high: float = _INF,
        presumed: Plain | None = None,
        many: bool = False,
        member: bool = False,
        place: bool = False,
        several: bool = False,
    ) -> None:
        self.key, self.sort, self.allowed, self.low, self.high = key, sort, allowed, low, high
        self.presumed, self.many, self.member, self.place, self.several = presumed, many, member, place, several
        self._passed: dict[tuple[str, tuple[Plain, ...]], Constraint | None] = {}

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Open) and self.key == other.key and self.member == other.member

    def __hash__(self) -> int:
        return hash(self.key)

    def __repr__(self) -> str:
        return f"?{'.'.join(self.key)}"

    def passing(self, op: str, wanted: tuple[Plain, ...]) -> Constraint | None:
        """What the value must be to pass a comparison with plain values; None where it cannot."""
        asked = (op, wanted)
        if asked not in self._passed:
            self._passed[asked] = self._passing(op, wanted)
        return self._passed[asked]

    def _passing(self, op: str, wanted: tuple[Plain, ...]) -> Constraint | None:
        if op in ("known", "bind"):
            return STATED if self.presumed is None else self._any()
        if op == "unknown":
            return None
        if self.many or self.member or self.several:
            return self._listed(op, wanted)
        if self.sort == "n":
            return self._number(op, wanted)
        if self.sort == "w":
            chosen = {w for w in wanted if isinstance(w, str)}
            left = self.allowed - chosen if op == "not_in" else self.allowed & chosen
            return words(left, self.presumed in left) if left else None
        if op in ("is", "in"):
            return words(w for w in wanted if isinstance(w, str))
        return STATED if op == "not_in" else None

    def _any(self) -> Constraint:
        return words(self.allowed, True) if self.sort == "w" else between(-_INF, _INF, False, False, True)

    def _listed(self, op: str, wanted: Iterable[Plain]) -> Constraint | None:
        chosen = frozenset(str(w) for w in wanted)
        if op == "not_in":
            return ("l", False, frozenset(), chosen)
        if self.sort == "w":
            chosen &= self.allowed
        return ("l", False, frozenset((chosen,)), frozenset()) if chosen else None

    def _number(self, op: str, wanted: Iterable[Plain]) -> Constraint | None:
        numbers = [float(w) for w in wanted if isinstance(w, int | float)]
        if not numbers:
            return None
        if op == "not_in":
            return STATED
        found = limit(op, numbers[0]) if len(numbers) == 1 else between(min(numbers), max(numbers), False, False)
        if found[2] > self.high or found[3] < self.low or (found[2] == self.high and found[4]):
            return None
        if found[3] == self.low and found[5]:
            return None
        return found if self.presumed is None else (*found[:1], _inside(found, self.presumed), *found[2:])

    def against(self, constraint: Constraint) -> list[Constraint]:
        """The ways to be otherwise than the constraint, which is true today."""
        tag = constraint[0]
        if tag == "k":
            return [STATED]
        if tag == "a":
            return [KEPT] if self.presumed is None else []
        if tag == "w" and self.sort == "w":
            left = self.allowed - constraint[2]
            return [words(left)] if left else []
        if tag == "n":
            return _outside(constraint)
        if tag == "l":
            ways: list[Constraint] = [("l", False, frozenset(), one) for one in sorted(constraint[2], key=sorted)]
            return ways + ([("l", False, frozenset((constraint[3],)), frozenset())] if constraint[3] else [])
        return []


def _inside(constraint: Constraint, value: Plain) -> bool:
    if not isinstance(value, int | float):
        return False
    _, _, low, high, above, below = constraint
    return bool(low < value if above else low <= value) and bool(value < high if below else value <= high)


def _outside(constraint: Constraint) -> list[Constraint]:
    _, _, low, high, above, below = constraint
    found = []
    if low > -_INF:
        found.append(between(-_INF, low, False, not above))
    if high < _INF:
        found.append(between(high, _INF, not below, False))
    return found


class WorkedOut:
    """A value worked out from unknowns: nothing is known of it but what it hangs on."""

    __slots__ = ("keys",)

    def __init__(self, keys: frozenset[Key]) -> None:
        self.keys = keys

    def __eq__(self, other: object) -> bool:
        return isinstance(other, WorkedOut) and self.keys == other.keys

    def __hash__(self) -> int:
        return hash(self.keys)

    def __repr__(self) -> str:
        return f"?worked({', '.join('.'.join(k) for k in sorted(self.keys))})"

    def stated(self) -> Set:
        """That all it hangs on is stated."""
        return dict.fromkeys(sorted(self.keys), STATED)


class Cell(NamedTuple):
    """How an attribute of one kind of thing is opened where the plan leaves it out."""

    name: str
    sort: str  # w, n, t; r for a thing of the plan
    allowed: frozenset[str]
    low: float
    high: float
    many: bool
    of: str  # the sort of thing that a place or the like names


def cell_of(attribute: Attribute, vocabulary: Vocabulary) -> Cell:
    """How the attribute is opened, its words not narrowed yet."""
    low, high = -_INF, _INF
    kind, allowed = "t", frozenset[str]()
    if attribute.type == "term":
        known = vocabulary.taxonomies[attribute.of]
        kind, allowed = "w", frozenset(known.terms) - frozenset(known.groups)  # nobody says the name of a class
    elif attribute.type == "yes_no":
        kind, allowed = "w", frozenset(("yes", "no"))
    elif attribute.type == "ref":
        kind = "r"
    elif attribute.type in DIMENSIONS or attribute.type in ("year", "count"):
        kind = "n"
        low, high = _number(attribute.least, attribute, -_INF), _number(attribute.most, attribute, _INF)
        if attribute.type == "year":
            low, high = 1500.0, 2100.0
    of = attribute.of if kind == "r" else ""
    return Cell(attribute.name, kind, allowed, low, high, attribute.many, of)


def _number(text: str, attribute: Attribute, default: float) -> float:
    if not text:
        return default
    try:
        return float(text) if attribute.type == "count" else read_quantity(text, attribute.type).si
    except (BadQuantity, ValueError):
        return default


def keys_of(values: Iterable[object]) -> frozenset[Key]:
    """The unknowns that values hang on."""
    found: set[Key] = set()
    for value in values:
        if type(value) is Open:
            found.add(value.key)
        elif type(value) is WorkedOut:
            found |= value.keys
        elif type(value) is tuple:
            found |= keys_of(value)
    return frozenset(found)


def stated(keys: Iterable[Key], cells: Mapping[Key, Open]) -> Set:
    """That all of these are stated, or otherwise than presumed."""
    found: Set = {}
    for key in sorted(keys):
        cell = cells.get(key)
        if cell is not None and cell.presumed is not None:
            others = cell.against(words((str(cell.presumed),)) if cell.sort == "w" else STATED)
            found[key] = others[0] if others else STATED
        else:
            found[key] = STATED
    return found
