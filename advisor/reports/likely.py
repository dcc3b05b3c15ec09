"""Which of two findings of one signal word comes first: the surer, then what harms at once."""

from __future__ import annotations

from advisor.reports.screen_words import screen_words
from advisor.review.finding import Finding

_SURE = ("will", "could", "rarely")  # words of `rules/harm.yaml`


def likely(finding: Finding) -> tuple[bool, int, bool, bool, bool]:
    """A key to sort by: the plan's own before what only our advice brings, `will` before `could`, who cannot look out
    for themselves, what is found before what is presumed, and of those first what leaves no time to notice."""
    told = screen_words()
    others, at_once = finding.rule in told["others_first"], finding.pack in told["at_once"]
    return finding.advised, _how_sure(finding), not others, bool(finding.rests_on), not at_once


def _how_sure(finding: Finding) -> int:
    harms = [drawn.conclusion.harm for drawn in finding.drawn]
    return min((_SURE.index(harm[1]) for harm in harms if harm), default=_SURE.index("could"))
