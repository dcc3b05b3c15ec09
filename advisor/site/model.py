"""Steps, states and needs of a site, as data."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from msgspec import Struct, field

from advisor.rulebase.model import SHADOW, State

if TYPE_CHECKING:
    from advisor.engine.run import Drawn

Key = tuple[str, str]  # a state and the thing that it is of ('' for the house)
Want = tuple[Key, frozenset[str]]
DONE = "done"  # the state of a step: whether it was done yet
PASSED = "passed"  # the same of a step that may not be moved for it
SINCE = "since"  # the state of a need that a step opens and another closes
INNER, ORDER, FIRM = 0, 1, 2  # firmness of needs: of an effect itself, of order.yaml, of a rule (and its signal word)


class Effect(Struct, frozen=True):
    """What a step makes of one state of one thing, provided that `only_if` was so before it."""

    step: int
    key: Key
    value: str
    mode: str  # brings, spoils, puts_back, by_the_way
    only_if: tuple[Want, ...]
    rule: str
    after: int = 0  # so many of `only_if`, the last ones, are what it comes after


class Need(Struct, eq=False):
    """What must be so before a step: one of `wants`, and none of `never`."""

    step: int
    wants: tuple[Want, ...]
    never: tuple[Want, ...]
    rule: str
    firmness: int
    because: str
    drawn: Drawn | None = None
    unless: tuple[Want, ...] = ()  # in any of these the need is no matter

    @property
    def waits(self) -> bool:
        """Whether what the steps before it left wet or soft is to be dry: a rule asks so, not the order alone."""
        return self.firmness >= FIRM or (self.drawn is not None and self.drawn.conclusion.waits)

    @property
    def keys(self) -> tuple[Key, ...]:
        """The states that it reads."""
        return tuple(dict.fromkeys(key for key, _ in (*self.wants, *self.never, *self.unless)))


class Rather(Struct, frozen=True, order=True):
    """One step rather before another: no reason to move either, but where one moves anyway it goes as far."""

    first: int
    then: int
    rule: str
    because: str


class SimulatedSite(Struct):
    """Everything that a simulation reads."""

    steps: list[str]  # ids, in the order of the plan
    states: Mapping[str, State]
    start: dict[Key, str] = field(default_factory=dict)  # where it is not the state's first value
    effects: list[list[Effect]] = field(default_factory=list)  # by step
    needs: list[list[Need]] = field(default_factory=list)  # by step
    done: frozenset[int] = frozenset()  # steps that are over already
    advised: frozenset[int] = frozenset()
    conditions: dict[int, tuple[str, str]] = field(default_factory=dict)  # step: test and result it depends on
    actions: dict[int, frozenset[str]] = field(default_factory=dict)  # what each step does, as the sentence means it
    classes: dict[str, frozenset[int]] = field(default_factory=dict)  # named classes of actions: the steps that do one
    rather: list[Rather] = field(default_factory=list)
    unknown: set[tuple[int, Key]] = field(default_factory=set)  # before a step: what nobody can tell (`untold.py`)

    def of(self, name: str) -> frozenset[int]:
        """The steps that do an action of a named class."""
        return self.classes.get(name, frozenset())

    def at_start(self, key: Key) -> str:
        """What is so before the first step."""
        if key in self.start:
            return self.start[key]
        state = self.states.get(key[0])
        return state.values[0] if state else ""

    def order(self) -> list[int]:
        """The order of the plan."""
        return list(range(len(self.steps)))


def rule_of(drawn: Drawn) -> str:
    """The id of the rule that drew it; of a shadow the rule that it stands for."""
    return str(drawn.why.variant.rule.id).partition(SHADOW)[0]  # type: ignore[attr-defined]


def mark_done(site: SimulatedSite, step: int, movable: bool = True) -> Key:
    """Note that the step counts as done for some need; the key that says so."""
    key = (DONE if movable else PASSED, site.steps[step])
    add_effect(site, Effect(step, key, "yes", "brings" if movable else "by_the_way", (), ""))
    return key


def add_effect(site: SimulatedSite, effect: Effect) -> None:
    """Add the effect to its step, once."""
    if effect not in site.effects[effect.step]:
        site.effects[effect.step].append(effect)
