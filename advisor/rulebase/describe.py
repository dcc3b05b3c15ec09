"""A rule's page, made from the rule itself."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from msgspec import Struct

from advisor.plain import Plain
from advisor.rulebase.base import RuleBase
from advisor.rulebase.grounds import grounds_words
from advisor.rulebase.harm import harm_words
from advisor.rulebase.model import (
    AnyOf,
    Collect,
    Compute,
    Conclusion,
    Condition,
    Given,
    Goal,
    Lookup,
    Not,
    Operand,
    Pattern,
    Rule,
    Test,
    Var,
)
from advisor.rulebase.split import patterns_of
from advisor.showing import show
from advisor.units import DIMENSIONS

_OPS = {
    "above": "above",
    "at_least": "at least",
    "below": "below",
    "at_most": "at most",
    "not_in": "none of",
    "in": "one of",
}


class Section(Struct, frozen=True):
    """A part of a rule's page: its heading, empty for the first, and lines that stand so deep."""

    title: str
    lines: tuple[tuple[int, str], ...]


def page(rule: Rule, rulebase: RuleBase, width: int = 80) -> str:
    """The rule's page as text."""
    told = f"{rule.id}, in {rulebase.titles.get(rule.pack, rule.pack)}"
    lines = [rule.title, "=" * len(rule.title), told]
    for section in sections(rule, rulebase):
        lines += ["", f"{section.title}:"] if section.title else [""]
        lines += [line for depth, text in section.lines for line in _wrap(text, width, "  " * depth)]
    return "\n".join(lines) + "\n"


def sections(rule: Rule, rulebase: RuleBase) -> list[Section]:
    """What the rule says and why, when it speaks, what looks alike, what it rests on, its sources, what it reads."""
    said = [line for conclusion in rule.conclusions for line in _said(conclusion, rulebase)]
    when = [(1, text) for condition in rule.conditions for text in _words(condition, rule, rulebase)]
    found = [Section("", tuple(said)), Section("Speaks when all of this holds", tuple(when))]
    if rule.false_alarm:
        found.append(Section("", ((0, f"Looks alike but is fine: {rule.false_alarm}"),)))
    if rule.rests_on:
        found.append(Section("", ((0, grounds_words(rule)),)))
    sources = []
    for key, at in rule.sources or ():
        entry = rulebase.citations.get(key)
        text = f"{entry.cite} {at}".strip() if entry else "Common practice of the trade; no published source."
        sources.append((1, text))
    none = "None: an intermediate conclusion that other rules build on."
    found.append(Section("Sources", tuple(sources) or ((1, none),)))
    return [*found, Section("Reads", tuple((1, text) for text in _reads(rule, rulebase)))]


def _said(conclusion: Conclusion, rulebase: RuleBase) -> Iterator[tuple[int, str]]:
    if conclusion.kind == "deduce":
        cells = ", ".join(f"{name} {_operand(v)}" for name, v in conclusion.values)
        yield 0, f"Concludes: {conclusion.deduced} ({cells})"
        return
    if conclusion.kind in ("effect", "order"):
        yield 0, site_words(conclusion)
        return
    to = f" {conclusion.to}" if conclusion.to else ""
    yield 0, f"{conclusion.signal.upper()} ({conclusion.kind}{to}): {conclusion.what}"
    yield 0, f"Why: {conclusion.because}"
    if conclusion.harm is not None:
        yield 0, f"Harm: {harm_words(conclusion.harm, rulebase.harms)}"
    if conclusion.goals or conclusion.never:
        yield 0, f"Speaks only where the site is otherwise: {goal_words(conclusion)}"
    for level, text in conclusion.controls:
        yield 1, f"{level}: {text}"


def _reads(rule: Rule, rulebase: RuleBase) -> Iterator[str]:
    """What of a plan the rule asks for, with the question that each answers where there is one."""
    read: dict[str, set[str]] = {}
    for pattern, _ in patterns_of(rule.conditions):
        read.setdefault(pattern.kind, set()).update(test.attribute for test in pattern.tests)
    for kind in sorted(read):
        names = sorted(name.replace("_", " ") for name in read[kind] - {"id"})
        worked = "" if kind in rulebase.vocabulary.attributes else ", worked out by other rules"
        yield f"{kind.replace('_', ' ')}{worked}{': ' if names else ''}{', '.join(names)}"


def goal_words(conclusion: Conclusion) -> str:
    """The states that a conclusion names: `power of $part is dead`."""

    def one(goal: Goal, verb: str) -> str:
        of = f" of ${goal.of.name}" if goal.of else ""
        return f"{goal.state}{of} {verb} {' or '.join(goal.values)}"

    parts = [" or ".join(one(goal, "is") for goal in conclusion.goals)] if conclusion.goals else []
    parts += [one(goal, "is not") for goal in conclusion.never]
    return ", and ".join(parts) + "".join(f", unless {one(goal, 'is')}" for goal in conclusion.unless)


def site_words(conclusion: Conclusion) -> str:
    """What a rule of the site says: of states, or of which step comes first."""
    if conclusion.kind == "effect":
        at = f"${conclusion.step.name} " if conclusion.step else "At the start: "
        return f"{at}{conclusion.mode.replace('_', ' ')}: {goal_words(conclusion)}"
    step = f"${conclusion.step.name}" if conclusion.step else ""
    if conclusion.first is not None:
        return f"${conclusion.first.name} comes before {step}: {conclusion.because}"
    if conclusion.windows:
        return f"What the rule looks for comes before {step}: {conclusion.because}"
    return f"Before {step}: {goal_words(conclusion)}. {conclusion.because}"


def condition_words(condition: Condition, rule: Rule, rulebase: RuleBase) -> list[str]:
    """A condition in words, a line a part."""
    return list(_words(condition, rule, rulebase, ""))


def _wrap(text: str, width: int, indent: str = "") -> list[str]:
    return textwrap.wrap(text, width, initial_indent=indent, subsequent_indent=indent + "  ", break_on_hyphens=False)


def _operand(value: Operand, kind: str = "text") -> str:
    if isinstance(value, Var):
        return f"${value.name}"
    return _plain(value, kind)


def _plain(value: Plain, kind: str) -> str:
    return show(float(value), kind).text if kind in DIMENSIONS and isinstance(value, int | float) else str(value)


def _words(condition: Condition, rule: Rule, rulebase: RuleBase, lead: str = "- ") -> Iterator[str]:
    if isinstance(condition, Pattern):
        yield lead + _pattern(condition, rulebase)
    elif isinstance(condition, Not):
        for number, inside in enumerate(condition.inside):
            start = f"{lead}there is no " if number == 0 else f"{lead}  together with "
            yield from _words(inside, rule, rulebase, start)
    elif isinstance(condition, AnyOf):
        for number, branch in enumerate(condition.branches):
            for place, inside in enumerate(branch):
                start = "either " if number == 0 else "or "
                yield from _words(inside, rule, rulebase, lead + (start if place == 0 else "   and "))
    elif isinstance(condition, Compute):
        cells = ", ".join(f"{name.rstrip('_')} {_operand(v)}" for name, v in condition.arguments)
        yield f"{lead}${condition.var} is worked out by {condition.calculator.replace('_', ' ')} ({cells})"
    elif isinstance(condition, Lookup):
        cells = ", ".join(f"${var} from {column}" for var, column in condition.binds)
        yield f"{lead}table {condition.table.replace('_', ' ')} has a row {_operand(condition.key)}: {cells}"
    elif isinstance(condition, Given):
        kind = rule.types.get(condition.left.name, "text") if isinstance(condition.left, Var) else "text"
        values = ", ".join(_operand(v, kind) for v in condition.right)
        yield f"{lead}{_operand(condition.left)} is {_OPS.get(condition.op, condition.op)} {values}"
    elif isinstance(condition, Collect):
        over = _pattern(condition.pattern, rulebase)
        yield f"{lead}${condition.var} is the {condition.how} of {condition.attribute} over {over}"


def _pattern(pattern: Pattern, rulebase: RuleBase) -> str:
    kind = rulebase.kinds[pattern.kind]
    cells = [_test(test, kind.attributes.get(test.attribute, "text")) for test in pattern.tests]
    if pattern.earlier_than:
        cells.append(f"earlier than ${pattern.earlier_than.name}")
    if pattern.later_than:
        cells.append(f"later than ${pattern.later_than.name}")
    return f"{pattern.kind.replace('_', ' ')} with {', '.join(cells)}" if cells else pattern.kind


def _test(test: Test, kind: str) -> str:
    name = test.attribute.replace("_", " ")
    if test.op in ("unknown", "known"):
        return f"{name} {test.op}"
    words = [_operand(v, kind) for v in test.values]
    shown = ", ".join(words[:6]) + (f" and {len(words) - 6} more" if len(words) > 6 else "")
    return f"{name} {_OPS.get(test.op, '')} {shown}".replace("  ", " ")
