"""What a review did not check: rules that lacked a value, and rules that were given up."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.engine.bounds import LEAST_OF_A_RUN, MOST_OF_A_REVIEW, TOO_MUCH
from advisor.plan.model import PlanFact
from advisor.review.model import NotChecked
from advisor.rulebase.base import RuleBase
from advisor.site.run import Judged, run

_AT_MOST = "too many facts behind it, so not all that it rests on is named"


class Unchecked:
    """Gathered over the runs of one review; a rule given up in one run is left out of the next ones."""

    def __init__(self, rulebase: RuleBase, outcome: Judged) -> None:
        self._rulebase = rulebase
        self._rules = {rule.id: rule for rule in rulebase.rules}
        self._first = outcome
        self._found = {NotChecked(f.rule, self._rules[f.rule].title, f.message) for f in outcome.failures}
        self._known: dict[str, str] = {}
        self._spent = outcome.spent
        for name, reason in outcome.unchecked.items():
            self._add(name, reason)
        # What only hangs on a rule that was given up comes again by itself.
        self.silent = frozenset(name for name, reason in outcome.unchecked.items() if reason == TOO_MUCH)

    def run(self, facts: Iterable[PlanFact], matcher: str, what: str) -> Judged:
        """A further run of the review, within what the ones before it left; `what` says what it is for."""
        most = max(LEAST_OF_A_RUN, MOST_OF_A_REVIEW - self._spent)
        outcome = run(self._rulebase, facts, matcher, further=True, given_up=self.silent, most=most)
        self._spent += outcome.spent
        self._later(outcome, what)
        return outcome

    def _later(self, outcome: Judged, what: str) -> None:
        """Note the rules given up in a further run: what they said of the plan stands."""
        for name, reason in outcome.unchecked.items():
            if name not in self._known:
                self._add(name, f"{what}: {reason}")
        self.silent |= {name for name, reason in outcome.unchecked.items() if reason == TOO_MUCH}

    def _add(self, name: str, reason: str) -> None:
        self._known[name] = reason
        rule = self._rules[name]
        self._found.add(NotChecked(name, rule.title, reason, rule.gravest))

    def listed(self) -> list[NotChecked]:
        """All of it, in a fixed order."""
        cut = set(self._first.cut)
        self._found |= {NotChecked(name, self._rules[name].title, _AT_MOST) for name in cut}
        return sorted(self._found, key=lambda n: (n.rule, n.message))
