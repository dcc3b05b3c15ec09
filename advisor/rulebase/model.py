"""Rules as checked objects: conditions, conclusions, sources. No text is left to be interpreted later."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import NamedTuple

from msgspec import Struct, field

from advisor.plain import Plain

SIGNALS = ("notice", "caution", "warning", "danger")  # ANSI Z535.6, mildest first
CONTROLS = (
    "eliminate",
    "substitute",
    "engineer",
    "administer",
    "protect",
)  # hierarchy of controls, best first
GROUNDS = {
    "physics": "physics and the body, which hold everywhere",
    "practice": "the practice of the trade or of a maker",
    "law": "a law or code of a place",
}
KIND_OF = {"step": "do", "part": "kind", "product": "kind", "room": "kind"}  # the attribute that says what a thing is
SHADOW = "~"  # between the id of a rule and the number of its shadow (`rulebase/implied.py`)
PLACEHOLDER = re.compile(r"\{\{\s*([^{}]*?)\s*\}\}")  # a variable in the text of a rule
FINDING_KINDS = ("warn", "require", "need", "refer", "precede", "wait")  # as written; a `need` is a `require`


class SourceRef(NamedTuple):
    """A source of a rule: a key of the bibliography and the place in it; key '' is common practice."""

    key: str
    at: str


class Var(NamedTuple):
    """A variable of a rule, written `$name`."""

    name: str


Operand = Var | Plain


class Test(Struct, frozen=True):
    """What is asked of one attribute. `op` is one of: is, bind, in, not_in, above, at_least, below, at_most,
    unknown, known. `values` holds every term that counts (a term and all that is a kind of it)."""

    attribute: str
    op: str
    values: tuple[Operand, ...] = ()
    many: bool = False


class Pattern(Struct, frozen=True):
    """A fact of `kind` that passes all tests; for steps possibly earlier or later than another step."""

    kind: str
    tests: tuple[Test, ...]
    line: int
    earlier_than: Var | None = None
    later_than: Var | None = None

    def variable(self, attribute: str) -> str:
        """The variable that an attribute is bound to; empty where it is bound to none."""
        for test in self.tests:
            if test.attribute == attribute and test.op == "bind":
                return test.values[0].name  # type: ignore[union-attr]
        return ""


class Not(Struct, frozen=True):
    """No way to satisfy the conditions inside."""

    inside: tuple[Condition, ...]


class AnyOf(Struct, frozen=True):
    """At least one branch holds."""

    branches: tuple[tuple[Condition, ...], ...]


class Compute(Struct, frozen=True):
    """Bind a variable to a calculator's result (or to the part of it that `pick` names)."""

    var: str
    calculator: str
    arguments: tuple[tuple[str, Operand], ...]
    pick: str
    dimension: str


class Lookup(Struct, frozen=True):
    """Bind variables to cells of a published table's row; no match where there is no such row."""

    table: str
    key: Operand
    binds: tuple[tuple[str, str], ...]  # variable, column


class Given(Struct, frozen=True):
    """A comparison of bound values. `is_a` asks whether a word is a kind of another, in the list named `of`."""

    left: Operand
    op: str
    right: tuple[Operand, ...]
    of: str = ""


class Collect(Struct, frozen=True):
    """Bind a variable to the sum, count, greatest, least or list of an attribute over matching facts."""

    var: str
    how: str
    attribute: str
    pattern: Pattern


Condition = Pattern | Not | AnyOf | Compute | Lookup | Given | Collect


class Advice(Struct, frozen=True):
    """What the advice comes to as a change of the plan: `use` a product, `add` a step, `set` an attribute, `own`."""

    form: str
    values: tuple[tuple[str, Operand], ...]
    place: tuple[str, Var] | None  # (before|after|at, step)


class State(Struct, frozen=True):
    """What can be so of a thing and change with the work: its values, the first of which is so at the start."""

    name: str
    of: str  # sort of the thing; empty for the house
    values: tuple[str, ...]
    settles: bool  # whether it goes by waiting: a wait belongs to the last work that brought it
    left: tuple[str, ...]  # values in which a plan may leave it, and is told
    meaning: str


class Goal(NamedTuple):
    """A state of a thing that is one of the values. `of` is None for a state of the house."""

    state: str
    of: Var | None
    values: tuple[str, ...]


class Window(NamedTuple):
    """Steps that count as done before another: those that `step` stands for in a way to satisfy `inside`."""

    inside: tuple[Condition, ...]
    step: str  # variable
    since: str  # variable of the step after which it must be; empty: at any time
    movable: frozenset[str]  # actions of steps that may be moved for it


class Conclusion(Struct, frozen=True):
    """What a rule says when it holds. `kind` is `deduce`, one of FINDING_KINDS, `effect` or `order`.

    A `require` with `goals` or `never` is a need: it speaks only where the site is in none of the states of `goals`,
    or in one of `never`. An `effect` says what a step does to states, an `order` which of two steps comes first.
    """

    kind: str
    line: int
    # deduce
    deduced: str = ""
    values: tuple[tuple[str, Operand], ...] = ()
    # findings
    signal: str = ""
    harm: tuple[str, str] | None = None  # what happens, how sure; the signal word follows (`rulebase/harm.py`)
    word: str = ""  # a signal word as written beside it or instead, for the lint
    step: Var | None = None  # the step that the finding belongs to
    first: Var | None = None  # precede, wait: the step that comes first
    duration: Operand | None = None  # wait
    to: str = ""  # refer: to whom
    what: str = ""
    because: str = ""
    guess: tuple[tuple[str, ...], str] | None = None  # attributes that are only guessed at, and the reason told then
    controls: tuple[tuple[str, str], ...] = ()
    advice: tuple[Advice, ...] = ()
    ways: tuple[tuple[str, tuple[Advice, ...]], ...] = ()  # other advice, by level of the hierarchy of controls
    per: tuple[str, ...] | None = None  # variables that make separate findings
    numbers: tuple[str, ...] | None = None  # results that are shown; all where it is not given
    # needs and effects
    goals: tuple[Goal, ...] = ()  # need: any of them will do; effect: what becomes so
    never: tuple[Goal, ...] = ()  # need: none of them may be so
    unless: tuple[Goal, ...] = ()  # need: in any of these it is another rule's matter
    only_if: tuple[Goal, ...] = ()  # effect: nothing happens unless all of these are so before it
    after: int = 0  # effect: so many of `only_if`, the last ones, are what it comes after, and not just another case
    mode: str = ""  # effect: brings, spoils, puts_back, by_the_way, starts; order: one, all, windows, rather
    waits: bool = False  # order: what the first step leaves wet or soft is dry before the second
    windows: tuple[Window, ...] = ()  # order that a rule implies: any of them will do

    @property
    def texts(self) -> tuple[str, ...]:
        """What it says, its reason, and its controls."""
        return (self.what, self.because, *(text for _, text in self.controls))


class Rule(Struct, frozen=True):
    """A piece of practice."""

    id: str
    title: str
    pack: str
    conditions: tuple[Condition, ...]
    conclusions: tuple[Conclusion, ...]
    sources: tuple[SourceRef, ...]
    false_alarm: str
    serves: tuple[str, ...]
    file: str
    line: int
    types: Mapping[str, str] = field(default_factory=dict)  # type of each variable
    unused: tuple[str, ...] = ()  # variables that patterns bind and nothing reads
    keys: tuple[str, ...] = ()  # as written, for the lint
    rests_on: tuple[str, ...] = ()  # of GROUNDS
    law: tuple[str, str] | None = None  # country and edition, where it rests on a law or code
    only_in: tuple[str, str] = ("", "")  # country and region that its pack is bound to; empty: any

    @property
    def gravest(self) -> str:
        """The gravest signal word among what it may say; empty where it only works something out."""
        return max([c.signal for c in self.conclusions if c.signal], key=SIGNALS.index, default="")


class Kind(Struct, frozen=True):
    """A kind of fact: its attributes with their types (see `values.py`)."""

    name: str
    attributes: Mapping[str, str]
    many: frozenset[str]
    deduced: bool
    meaning: str = ""


class Citation(Struct, frozen=True):
    """An entry of the bibliography."""

    key: str
    cite: str
    edition: str
    authority: str
    url: str = ""  # where the public may read it; empty where that is nowhere


class Change(Struct, frozen=True):
    """What a pack of one's own did to the built-in rules: replaced or retired one, and why."""

    rule: str
    how: str
    reason: str
    pack: str
