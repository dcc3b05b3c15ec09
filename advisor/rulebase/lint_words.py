"""How rules speak of the plan's words: places by their meaning, lists by their class, nothing left unread."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from advisor.errors import Problem
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import Pattern, Rule
from advisor.rulebase.site import PACK
from advisor.rulebase.split import patterns_of

Reader = tuple[str, str]  # sort, attribute
_PYTHON = "advisor"


def read_attributes(rulebase: RuleBase) -> dict[Reader, set[str]]:
    """Which attributes of a plan are read, each with the ids of the rules that read it."""
    found: dict[Reader, set[str]] = {}
    for rule in rulebase.rules:
        for pattern, gathered in patterns_of(rule.conditions):
            for key in _read_by(pattern, gathered, rulebase):
                found.setdefault(key, set()).add(rule.id)
    return found


def _read_by(pattern: Pattern, gathered: str, rulebase: RuleBase) -> Iterator[Reader]:
    if pattern.kind != "item":
        yield from ((pattern.kind, test.attribute) for test in pattern.tests)
        if gathered:
            yield pattern.kind, gathered
        return
    named = {test.attribute: test.values for test in pattern.tests if test.op in ("is", "in")}
    for sort in map(str, named.get("sort", tuple(rulebase.vocabulary.attributes))):
        yield from ((sort, str(name)) for name in named.get("attribute", ()))


def complaints_of_words(rule: Rule, rulebase: RuleBase) -> Iterator[tuple[str, str]]:
    """Check and text of each complaint about how a rule of a pack says places and lists."""
    if rule.pack == PACK:
        return
    parts = rulebase.vocabulary.attributes.get("part", {})
    for pattern, gathered in patterns_of(rule.conditions):
        for sort, name in _read_by(pattern, gathered, rulebase):
            attribute = parts.get(name) if sort == "part" else None
            if attribute is not None and attribute.place:
                yield "place", f"reads the spelling '{name}' of a place. Read what it means: {attribute.place}."
        for name, group in _inline_classes(pattern, rulebase):
            yield "class", f"lists for '{name}' the words of the class '{group}'. Say the class."


def _inline_classes(pattern: Pattern, rulebase: RuleBase) -> Iterator[tuple[str, str]]:
    kind = rulebase.kinds.get(pattern.kind)
    for name in sorted({t.attribute for t in pattern.tests if t.op == "in"}) if kind else ():
        taxonomy = rulebase.vocabulary.taxonomies.get(kind.attributes.get(name, "").partition("term:")[2])  # type: ignore[union-attr]
        if taxonomy is None:
            continue
        wanted: set[object] = set()
        for test in pattern.tests:
            if test.attribute == name and test.op == "in":
                wanted |= set(test.values)
        for test in pattern.tests:
            if test.attribute == name and test.op == "not_in":
                wanted -= set(test.values)
        # A class that is named stands among the words itself; a list that amounts to it does not hold its name.
        # A single word with all its kinds is no list.
        if any(taxonomy.below(str(word)) == wanted for word in wanted):
            continue
        yield from ((name, group) for group, members in sorted(taxonomy.groups.items()) if members == wanted)


def unread(rulebase: RuleBase) -> list[Problem]:
    """Attributes that nothing reads: no rule, and no part of the program that the vocabulary names (`read_by`)."""
    read = read_attributes(rulebase)
    return [
        Problem(f"vocabulary of {sort}", 0, 0, f"'{name}' is read by no rule. Give it a reader, or take it out.")
        for sort, known in sorted(rulebase.vocabulary.attributes.items())
        for name, attribute in sorted(known.items())
        if (sort, name) not in read and not attribute.read_by
    ]


def readers_in_python(rulebase: RuleBase, source: Path) -> list[Problem]:
    """Attributes whose `read_by` is not true: no file of the program quotes their name."""
    text = "\n".join(path.read_text(encoding="utf-8") for path in sorted(source.rglob("*.py")))
    return [
        Problem(f"vocabulary of {sort}", 0, 0, f"'{name}' says that {_PYTHON} reads it, and nothing there does.")
        for sort, known in sorted(rulebase.vocabulary.attributes.items())
        for name, attribute in sorted(known.items())
        if attribute.read_by and f'"{name}"' not in text and f"{name.rpartition('_')[0]}_{{" not in text
    ]
