"""What is wrong with the rules as writing: checks over the whole base that reading one rule cannot make."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from advisor.document import read_file
from advisor.errors import Problem
from advisor.rulebase.base import RuleBase
from advisor.rulebase.keys import RULE_KEYS
from advisor.rulebase.lint_sentences import TO_WRITE, complaints_of_sentences
from advisor.rulebase.lint_words import complaints_of_words, unread
from advisor.rulebase.model import Conclusion, Rule
from advisor.rulebase.reading import Grade, hard_rules
from advisor.rulebase.site import PACK
from advisor.tables import rules_folder

KEY_ORDER = tuple(RULE_KEYS)
EXCEPTIONS = "lint-exceptions.yaml"
READING = "reading"
MAX_SENTENCES = 3
MAX_LETTERS = 260
# Words that would promise what no check can.
_PROMISES = re.compile(r"\b(is|are|be|now|plan) (?:perfectly |completely |fully )?safe\b", re.IGNORECASE)
ID = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_MEMORY = "from memory"
_SENTENCE = re.compile(r"[.!?](?:\s|$)")


class Excuse(NamedTuple):
    """An exception of `rules/lint-exceptions.yaml`: where it stands, and what a pronoun of the rule stands for."""

    line: int
    stands_for: str


def lint(rulebase: RuleBase, exceptions: Path | None = None, grade: Grade | None = None) -> list[Problem]:
    """Every complaint that no exception covers, and every exception that nothing needs.

    `exceptions` are those of the built-in rules where no other file is named; `grade` finds the school grade of a text
    (see `reading.py`). Packs of one's own serve no row, and may leave attributes of a plan without a reader.
    """
    path = exceptions or rules_folder() / EXCEPTIONS
    excused = _exceptions(path)
    found: list[Problem] = []
    used: set[tuple[str, str]] = set()
    complaints = _complaints(rulebase, excused)
    for rule, check, text in (*complaints, *(hard_rules(rulebase, grade) if grade else ())):
        if built_in(rule) and (rule.id, check) in excused:
            used.add((rule.id, check))
        else:
            found.append(Problem(rule.file, rule.line, 0, f"rule '{rule.id}': {text} ({check})"))
    # A rule that a pack of one's own replaced or retired needs no exception, and that is no fault of the list.
    gone = {change.rule for change in rulebase.changes}
    for key in sorted(set(excused) - used):
        if key[0] not in gone and (grade or key[1] != READING):
            text = f"exception for rule '{key[0]}' ({key[1]}) is not needed."
            found.append(Problem(str(path), excused[key].line, 0, text))
    return sorted([*found, *([] if rulebase.changes else unread(rulebase))])


def built_in(rule: Rule) -> bool:
    """Whether the rule comes with the program, and not with a pack of one's own."""
    return Path(rule.file).resolve().is_relative_to(rules_folder().resolve())


def _exceptions(path: Path) -> dict[tuple[str, str], Excuse]:
    if not path.is_file():
        return {}
    listed = read_file(path).get("exceptions")
    found = {}
    for node in listed.items if listed else []:
        cells = node.plain()
        if cells.get("reason") or cells.get("stands_for"):
            found[cells["rule"], cells["check"]] = Excuse(node.line, cells.get("stands_for", ""))
    return found


def retired_ids() -> set[str]:
    """Ids of rules that went: none is taken again."""
    path = rules_folder() / "retired.yaml"
    listed = read_file(path).get("retired") if path.is_file() else None
    return {node.plain()["id"] for node in (listed.items if listed else [])}


def _complaints(rulebase: RuleBase, excused: dict[tuple[str, str], Excuse]) -> Iterator[tuple[Rule, str, str]]:
    texts: dict[str, str] = {}
    titles: dict[str, str] = {}
    retired = retired_ids()
    for rule in rulebase.rules:
        other = titles.setdefault(rule.title.lower(), rule.id)
        if other != rule.id:
            yield rule, "title", f"has the title of rule '{other}'."
        places = [KEY_ORDER.index(k) for k in rule.keys if k in KEY_ORDER]
        if places != sorted(places):
            yield rule, "key-order", f"keys should stand in the order {', '.join(KEY_ORDER)}."
        for name in rule.unused:
            yield rule, "unused", f"variable '${name}' is bound and never used."
        if rule.pack != PACK and not ID.fullmatch(rule.id):
            yield rule, "id", "has an id that is none. Expected lower case words with hyphens, such as 'drain-falls'."
        if rule.id in retired:
            yield rule, "id", "has the id of a rule that was retired. An id is for life: take another."
        yield from ((rule, check, text) for check, text in complaints_of_words(rule, rulebase))
        excuse = excused.get((rule.id, "pronoun")) if built_in(rule) else None
        yield from ((rule, *said) for said in complaints_of_sentences(rule, excuse.stands_for if excuse else ""))
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
    for text in conclusion.texts:
        if _PROMISES.search(text):
            yield rule, "promise", f"promises safety: '{text}'"
    if conclusion.harm is None:
        yield rule, "harm", "says no 'harm': what happens where it is not kept, and how sure that is."
    elif conclusion.word and conclusion.word != conclusion.signal:
        yield rule, "harm", f"says '{conclusion.word}', and its harm comes to '{conclusion.signal}'."
    if conclusion.signal == "danger" and not any(s.key and _MEMORY not in s.at for s in rule.sources):
        yield rule, "danger-source", "is a danger without a published source that was read."
    if built_in(rule) and not rule.serves:
        yield rule, "serves", "serves no row of the coverage."


def row_problems(rulebase: RuleBase, rows: Path) -> list[Problem]:
    """Coverage rows without a rule or a reason, and rules that serve rows that do not exist."""
    found = []
    known = set()
    served = {row for rule in rulebase.rules if built_in(rule) for row in rule.serves}
    listed = read_file(rows).get("rows")
    for node in listed.items if listed else []:
        cells = node.plain()
        known.add(cells["id"])
        if cells["text"].startswith(TO_WRITE):
            found.append(node.problem(f"row '{cells['id']}' still begins with '{TO_WRITE}'."))
        if cells["id"] not in served and not cells.get("without"):
            found.append(node.problem(f"row '{cells['id']}' is served by no rule and says no reason."))
    for rule in rulebase.rules:
        for row in rule.serves if built_in(rule) else ():
            if row not in known:
                found.append(Problem(rule.file, rule.line, 0, f"rule '{rule.id}' serves an unknown row '{row}'."))
    return found
