"""What is wrong with the rules as writing: checks over the whole base that reading one rule cannot make."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

from advisor.document import read_file
from advisor.errors import Problem
from advisor.rulebase.base import RuleBase
from advisor.rulebase.lint_words import complaints_of_words, unread
from advisor.rulebase.model import FINDING_KINDS, Conclusion, Rule

KEY_ORDER = (
    "id",
    "title",
    "replace",
    "unless_done_by",
    "when",
    "deduce",
    *FINDING_KINDS,
    "sources",
    "false_alarm",
    "serves",
    "rests_on",
    "law",
)
MAX_SENTENCES = 3
MAX_LETTERS = 260
# Words that would promise what no check can.
_PROMISES = re.compile(r"\b(is|are|be|now|plan) (?:perfectly |completely |fully )?safe\b", re.IGNORECASE)
_SENTENCE = re.compile(r"[.!?](?:\s|$)")


def lint(rulebase: RuleBase, exceptions: Path | None = None) -> list[Problem]:
    """Every complaint that no exception covers, and every exception that nothing needs."""
    excused = _exceptions(exceptions)
    found: list[Problem] = []
    used: set[tuple[str, str]] = set()
    for rule, check, text in _complaints(rulebase):
        if (rule.id, check) in excused:
            used.add((rule.id, check))
        else:
            found.append(Problem(rule.file, rule.line, 0, f"rule '{rule.id}': {text} ({check})"))
    for key in sorted(set(excused) - used):
        found.append(
            Problem(str(exceptions), excused[key], 0, f"exception for rule '{key[0]}' ({key[1]}) is not needed.")
        )
    return sorted([*found, *unread(rulebase)])


def _exceptions(path: Path | None) -> dict[tuple[str, str], int]:
    if path is None or not path.is_file():
        return {}
    listed = read_file(path).get("exceptions")
    found = {}
    for node in listed.items if listed else []:
        cells = node.plain()
        if cells.get("reason"):
            found[cells["rule"], cells["check"]] = node.line
    return found


def _complaints(rulebase: RuleBase) -> Iterator[tuple[Rule, str, str]]:
    texts: dict[str, str] = {}
    titles: dict[str, str] = {}
    for rule in rulebase.rules:
        other = titles.setdefault(rule.title.lower(), rule.id)
        if other != rule.id:
            yield rule, "title", f"has the title of rule '{other}'."
        places = [KEY_ORDER.index(k) for k in rule.keys if k in KEY_ORDER]
        if places != sorted(places):
            yield rule, "key-order", f"keys should stand in the order {', '.join(KEY_ORDER)}."
        for name in rule.unused:
            yield rule, "unused", f"variable '${name}' is bound and never used."
        yield from ((rule, check, text) for check, text in complaints_of_words(rule, rulebase))
        for conclusion in rule.conclusions:
            if conclusion.kind not in ("deduce", "effect", "order"):
                yield from _of_finding(rule, conclusion, texts)


def _of_finding(rule: Rule, conclusion: Conclusion, texts: dict[str, str]) -> Iterator[tuple[Rule, str, str]]:
    other = texts.setdefault(conclusion.what, rule.id)
    if other != rule.id:
        yield rule, "text", f"says the same as rule '{other}'."
    guess = [("guess", conclusion.guess[1])] if conclusion.guess is not None else []
    for name, text in [("what", conclusion.what), ("because", conclusion.because), *guess]:
        if len(_SENTENCE.findall(text)) > MAX_SENTENCES:
            yield rule, "sentences", f"'{name}' has more than {MAX_SENTENCES} sentences."
        if len(text) > MAX_LETTERS:
            yield rule, "length", f"'{name}' has {len(text)} letters. Expected at most {MAX_LETTERS}."
        if not text.rstrip().endswith((".", "!", "?")):
            yield rule, "stop", f"'{name}' does not end in a full stop."
    for text in (conclusion.what, conclusion.because, *(c for _, c in conclusion.controls)):
        if _PROMISES.search(text):
            yield rule, "promise", f"promises safety: '{text}'"
    if conclusion.harm is None:
        yield rule, "harm", "says no 'harm': what happens where it is not kept, and how sure that is."
    elif conclusion.word and conclusion.word != conclusion.signal:
        yield rule, "harm", f"says '{conclusion.word}', and its harm comes to '{conclusion.signal}'."
    if conclusion.signal == "danger" and not any(source.key for source in rule.sources):
        yield rule, "danger-source", "is a danger without a published source."
    if not rule.serves:
        yield rule, "serves", "serves no row of the coverage."


def row_problems(rulebase: RuleBase, rows: Path) -> list[Problem]:
    """Coverage rows without a rule or a reason, and rules that serve rows that do not exist."""
    found = []
    known = set()
    served = {row for rule in rulebase.rules for row in rule.serves}
    listed = read_file(rows).get("rows")
    for node in listed.items if listed else []:
        cells = node.plain()
        known.add(cells["id"])
        if cells["id"] not in served and not cells.get("without"):
            found.append(node.problem(f"row '{cells['id']}' is served by no rule and says no reason."))
    for rule in rulebase.rules:
        for row in rule.serves:
            if row not in known:
                found.append(Problem(rule.file, rule.line, 0, f"rule '{rule.id}' serves an unknown row '{row}'."))
    return found
