"""How sentences of rules read: for a part of any name, and without what an author has still to write.

A name that a plan gives may be one thing or many, and a report names several parts at once. So no verb follows a name
as its subject, and no `it` or `them` stands for one.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Set

from advisor.rulebase.model import Rule

TO_WRITE = "TO WRITE"  # begins what the skeleton of a new rule leaves to its author
_NAMED = ("ref:part", "ref:product")
_VERB = re.compile(r"(\w+ )?\{\{ (\w+) \}\} ((?:is|are|was|were|has|have|does|do|goes|go|[a-z]+s)\b)")
_NO_VERB = re.compile(r"across|always|as|indoors|outdoors|plus|this|upstairs")
# After these words another noun is the subject: `the label of {{ product }} asks`.
_LEAD = re.compile(r"any|at|let|behind|for|from|in|of|on|shows|to|under|with")
_PRONOUN = re.compile(r"\b(it|its|itself|them|their|they)\b", re.IGNORECASE)
_NAME = re.compile(r"\{\{ (\w+) \}\}")


def complaints_of_sentences(rule: Rule, stands_for: str) -> Iterator[tuple[str, str]]:
    """Check and text of each complaint; `stands_for` is what a pronoun of the rule stands for, by an exception."""
    names = {name for name, kind in rule.types.items() if kind in _NAMED}
    said = list(_texts(rule))
    for text in said:
        if found := verbs_after_names(text, names):
            yield "verb", f"lets a name be the subject of '{found[0]}', and it may name several things: '{text}'"
        if found := pronouns_after_names(text, names):
            if not stands_for:
                yield "pronoun", f"says '{found[0]}' after a name. Say the thing again, or leave the word out: '{text}'"
            elif any(stands_for in one.lower() for one in said):
                # Reported under its exception, so that one that nothing needs is noticed.
                yield "pronoun", f"says '{found[0]}' after a name: '{text}'"
            else:
                yield "stands-for", f"'{stands_for}', for which '{found[0]}' is to stand, is not in the text: '{text}'"
    if any(text.startswith(TO_WRITE) for text in (rule.title, rule.false_alarm, *said)):
        yield "to-write", f"is not written to its end: a text still begins with '{TO_WRITE}'."


def _texts(rule: Rule) -> Iterator[str]:
    """Every text of a rule that a reader meets."""
    for conclusion in rule.conclusions:
        yield from conclusion.texts


def verbs_after_names(text: str, names: Set[str]) -> list[str]:
    """The verbs whose subject is a name, as far as the words around them show."""
    return [
        found.group(3)
        for found in _VERB.finditer(text)
        if found.group(2) in names
        and not _NO_VERB.fullmatch(found.group(3))
        and not _LEAD.fullmatch((found.group(1) or "").strip().lower())
    ]


def pronouns_after_names(text: str, names: Set[str]) -> list[str]:
    """The pronouns that come after a name."""
    starts = [found.end() for found in _NAME.finditer(text) if found.group(1) in names]
    return _PRONOUN.findall(text[min(starts) :]) if starts else []
