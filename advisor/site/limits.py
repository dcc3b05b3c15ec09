"""How much is looked at to work out what may be so: counted, never timed, so that every machine gives up alike.

A rule that would look at more is given up: whether it is open is then not known, and the report says so. What it said
before is dropped, as it would depend on where it was stopped.
"""

from __future__ import annotations

from collections.abc import Iterable

from advisor.engine.bounds import HANGS_ON, IN_PART, TOO_MUCH, made, silent, without
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import Rule

# Facts looked at, and ways to match them. The demo takes 22,000, the demo twenty times over 480,000.
MOST_OF_A_RULE = 100_000
MOST_OF_ALL = 650_000
LEAST_OF_A_RULE = 100  # what each may do, however much others did

_BUT_TODAY = "it was checked as the plan stands, and whether it is open is not known"
REASONS = {
    TOO_MUCH: f"too many things may fit together in it: {_BUT_TODAY}",
    HANGS_ON: f"it asks what is absent, and whether that may be there was too much to work out: {_BUT_TODAY}",
    IN_PART: f"what it builds on was too much to work out in full: {_BUT_TODAY} in full",
}


class TooMuchError(Exception):
    """A rule has looked at as much as it may."""


class Budget:
    """What the rules of one evaluation may look at. Where all of them do much, the later ones may do less each."""

    def __init__(self, rulebase: RuleBase, silent: Iterable[str]) -> None:
        self._rulebase = rulebase
        self.silent = frozenset(silent)  # rules that say nothing, given up by the engine or here
        self.given_up: dict[str, str] = {}  # rules that look at too much here, or hang on one; why
        self.limit, self.left = MOST_OF_A_RULE, MOST_OF_ALL

    def of_a_rule(self) -> int:
        """How much the next rule may do."""
        if self.left < 0 and self.limit > LEAST_OF_A_RULE:
            self.limit = max(LEAST_OF_A_RULE, self.limit >> 2)
            self.left += MOST_OF_ALL >> 2
        return self.limit

    def give_up(self, rule: Rule) -> None:
        """Leave the rule out, and what asks for the absence of facts that it would have deduced."""
        self.given_up[rule.id] = TOO_MUCH
        if made(rule):
            over = [name for name, reason in self.given_up.items() if reason == TOO_MUCH]
            self.given_up = without(self._rulebase, over)
        self.silent |= silent(self.given_up)
