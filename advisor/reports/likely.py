"""Which of two findings of one signal word comes first: the surer, then what harms at once."""

from __future__ import annotations

from functools import lru_cache

from advisor.document import read_file
from advisor.reports.notes import presumes
from advisor.review.finding import Finding
from advisor.tables import rules_folder

_SURE = ("will", "could", "rarely")  # words of `rules/harm.yaml`


def likely(finding: Finding) -> tuple[bool, int, bool, bool]:
    """A key to sort by: the plan's own before what only our advice brings, `will` before `could`, what is found before
    what is presumed, and of those first what leaves no time to notice."""
    return finding.advised, _how_sure(finding), presumes(finding), finding.pack not in _at_once()


def _how_sure(finding: Finding) -> int:
    harms = [getattr(getattr(drawn, "conclusion", None), "harm", None) for drawn in finding.drawn]
    return min((_SURE.index(harm[1]) for harm in harms if harm), default=_SURE.index("could"))


@lru_cache(maxsize=1)
def _at_once() -> frozenset[str]:
    return frozenset(read_file(rules_folder() / "report" / "screen.yaml").plain()["at_once"])
