"""Whether advice reads easily: school grade 8 or below by textstat (Flesch-Kincaid), rule by rule and on the whole.

A variable in a text counts as one short word. textstat is a tool of whoever writes rules and no part of the program:
without it nothing is checked, and the lint says so.
"""

from __future__ import annotations

import warnings
from collections.abc import Callable, Iterable, Iterator

from advisor.errors import Problem
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import FINDING_KINDS, PLACEHOLDER, Rule

LIMIT = 8.0
_NAMED = "thing"
Grade = Callable[[str], float]


def grader() -> Grade | None:
    """From a text to its school grade; None where textstat is not installed."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # textstat 0.7.4 imports pkg_resources, which says that it will go
        try:
            import textstat
        except ModuleNotFoundError:
            return None
    grade: Grade = textstat.flesch_kincaid_grade
    return grade


def hard_rules(rulebase: RuleBase, grade: Grade) -> Iterator[tuple[Rule, str, str]]:
    """Rule, check and text of each complaint about a rule."""
    for rule in rulebase.rules:
        for text in _texts(rule):
            if (found := grade(text)) > LIMIT:
                yield rule, "reading", f"reads at school grade {found:.1f}. Expected at most {LIMIT:.0f}: {text}"


def hard_beside(rulebase: RuleBase, grade: Grade, others: Iterable[tuple[str, str]]) -> Iterator[Problem]:
    """What is too hard beside single rules: other texts that readers meet, by name, and all texts on the whole."""
    texts = [text for rule in rulebase.rules for text in _texts(rule)]
    for name, said in others:
        texts.append(PLACEHOLDER.sub(_NAMED, said))
        if (at := grade(texts[-1].replace(";", "."))) > LIMIT:
            yield Problem(name, 0, 0, f"reads at school grade {at:.1f}. Expected at most {LIMIT:.0f}: {said}")
    if texts and (whole := grade(" ".join(texts))) > LIMIT:
        yield Problem("rules", 0, 0, f"all texts read at school grade {whole:.1f}. Expected at most {LIMIT:.0f}.")


def _texts(rule: Rule) -> list[str]:
    return [
        PLACEHOLDER.sub(_NAMED, f"{conclusion.what} {reason}")
        for conclusion in rule.conclusions
        if conclusion.kind in FINDING_KINDS
        for reason in (conclusion.because, *([conclusion.guess[1]] if conclusion.guess else []))
    ]
