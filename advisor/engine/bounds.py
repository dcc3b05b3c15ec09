"""How much one rule may do in a run: counted in facts and matches, so that it ends at the same place on every machine.

A rule that would do more is given up: it says nothing, and the report names it as not checked. What reads the
facts that it would have worked out is named too; see `without`.
"""

from __future__ import annotations

import time
from collections.abc import Iterable

from advisor.engine.memory import Exceeded
from advisor.errors import InputError, Problem
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import Pattern, Rule
from advisor.rulebase.strata import guard_reads

# In units of one fact looked at, which takes about a millionth of a second.
MOST_OF_A_RULE = 1_200_000
MOST_OF_ALL = 4_000_000
MOST_OF_A_REVIEW = 7_000_000  # what its first run and the further ones, of the advice and of the new order, share
LEAST_OF_A_RUN = 400_000  # and what each of them may do in any case
MATCH = 20  # a full match, with its turn on the agenda and what it concludes
# Seconds. Only where the counts above missed something: it ends the run, it never decides what a report says.
LAST_GUARD = 300.0

TOO_MUCH = "too many things in the plan fit together in it, so it was given up"
HANGS_ON = "it asks what is absent, and a rule that may find it was given up"
IN_PART = "a rule that it builds on was given up, so it saw only a part"


class Tally:
    """What one rule has done in this run, and whether it was given up."""

    __slots__ = ("over", "rule", "spent")

    def __init__(self, rule: str) -> None:
        self.rule, self.spent, self.over = rule, 0, False


class Ledger:
    """The tallies of all rules. Where many rules do much at once, each may do less: the whole stays bounded."""

    def __init__(self, rules: Iterable[str]) -> None:
        self.tallies = {rule: Tally(rule) for rule in rules}
        self.clear()

    def clear(self, given_up: Iterable[str] = (), most: int = MOST_OF_ALL) -> None:
        """Start a run, without the rules given up before, that may do so much as a whole."""
        self.most = min(most, MOST_OF_ALL)
        self.limit, self.total, self.step = MOST_OF_A_RULE, 0, self.most
        for tally in self.tallies.values():
            tally.spent, tally.over = 0, False
        for rule in given_up:
            if rule in self.tallies:
                self.tallies[rule].over = True
        self._began, self._turns = time.monotonic(), 0

    def charge(self, tally: Tally, units: int) -> None:
        """Count units for a rule; Exceeded where it may do no more."""
        tally.spent += units
        self.total += units
        if self.total > self.step:
            self._lower()
        if tally.spent > self.limit:
            tally.over = True
        if tally.over:
            raise Exceeded

    def _lower(self) -> None:
        """Too much as a whole: the rules that did most are given up, and again each time a quarter more is done."""
        self.limit >>= 2
        self.step += self.most >> 2
        for tally in self.tallies.values():
            if tally.spent > self.limit:
                tally.over = True

    def look_at_the_clock(self) -> None:
        """InputError where a run takes so long that something else must be wrong."""
        self._turns += 1
        if not self._turns & 1023 and time.monotonic() - self._began > LAST_GUARD:
            raise too_long()


def too_long() -> InputError:
    """The message of a run that was ended."""
    text = f"the rules were still at work after {LAST_GUARD:.0f} s, so the run was ended. Expected a smaller plan."
    return InputError([Problem("plan", 0, 0, text)])


def without(rulebase: RuleBase, given_up: Iterable[str]) -> dict[str, str]:
    """What is not checked where these rules are given up: rule and reason.

    A kind of fact that a given-up rule makes may lack facts. What asks for its absence, or sums it up, would
    speak wrongly, so it is given up with it (`HANGS_ON`); what only builds on it is right in what it says, and
    may say too little (`IN_PART`). Both make the kinds that they deduce incomplete in turn.
    """
    found = dict.fromkeys(sorted(given_up), TOO_MUCH)
    rules = {rule.id: rule for rule in rulebase.rules}
    kinds = {kind for name in found if name in rules for kind in made(rules[name])}
    readings = {name: _reads(rulebase, rule) for name, rule in rules.items()} if kinds else {}
    while kinds:
        before = len(kinds), dict(found)
        for name, (whole, some) in readings.items():
            if found.get(name) in (TOO_MUCH, HANGS_ON):
                continue
            if whole & kinds:
                found[name] = HANGS_ON
            elif some & kinds:
                found[name] = IN_PART
            if name in found:
                kinds |= made(rules[name])
        if (len(kinds), found) == before:
            break
    return dict(sorted(found.items()))


def silent(found: dict[str, str]) -> frozenset[str]:
    """Those that must say nothing at all."""
    return frozenset(name for name, reason in found.items() if reason != IN_PART)


def made(rule: Rule) -> set[str]:
    """The kinds of fact that a rule deduces."""
    return {c.deduced for c in rule.conclusions if c.kind == "deduce"}


def _reads(rulebase: RuleBase, rule: Rule) -> tuple[set[str], set[str]]:
    """The kinds that must be complete for the rule to be right, and those of which it takes what there is."""
    whole: set[str] = set()
    some: set[str] = set()
    for variant in rulebase.variants_of(rule):
        some.update(p.kind for p in variant.patterns)
        whole.update(p.kind for p in variant.absent)
        for guard in variant.guards:
            (some if isinstance(guard, Pattern) else whole).update(guard_reads(guard))
    return whole, some
