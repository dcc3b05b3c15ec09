"""A rule's page, made from the rule itself."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

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
from advisor.units import DIMENSIONS, show

_OPS = {
    "above": "above",
    "at_least": "at least",
    "below": "below",
    "at_most": "at most",
    "not_in": "none of",
    "in": "one of",
}


def page(rule: Rule, rulebase: RuleBase, width: int = 80) -> str:
    """What the rule says, when it speaks, why, its sources, what looks alike, and what it reads."""
    lines = [
        rule.title,
        "=" * len(rule.title),
        f"{rule.id}, in {rulebase.titles.get(rule.pack, rule.pack)}",
        "",
    ]
    for conclusion in rule.conclusions:
        if conclusion.kind == "deduce":
            cells = ", ".join(f"{name} {_operand(v)}" for name, v in conclusion.values)
            lines += _wrap(f"Concludes: {conclusion.deduced} ({cells})", width)
            continue
        if conclusion.kind in ("effect", "order"):
            lines += _wrap(site_words(conclusion), width)
            continue
        to = f" {conclusion.to}" if conclusion.to else ""
        lines += _wrap(f"{conclusion.signal.upper()} ({conclusion.kind}{to}): {conclusion.what}", width)
        lines += _wrap(f"Why: {conclusion.because}", width)
        if conclusion.harm is not None:
            lines += _wrap(f"Harm: {harm_words(conclusion.harm, rulebase.harms)}", width)
        if conclusion.goals or conclusion.never:
            lines += _wrap(f"Speaks only where the site is otherwise: {goal_words(conclusion)}", width)
        for level, text in conclusion.controls:
            lines += _wrap(f"{level}: {text}", width, "  ")
    lines += ["", "Speaks when all of this holds:"]
    for condition in rule.conditions:
        lines += [line for text in _words(condition, rule, rulebase) for line in _wrap(text, width, "  ")]
    if rule.false_alarm:
        lines += ["", *_wrap(f"Looks alike but is fine: {rule.false_alarm}", width)]
    if rule.rests_on:
        lines += ["", *_wrap(grounds_words(rule), width)]
    lines += ["", "Sources:"]
    for key, at in rule.sources or ():
        entry = rulebase.citations.get(key)
        text = f"{entry.cite} {at}".strip() if entry else "Common practice of the trade; no published source."
        lines += _wrap(text, width, "  ")
    if not rule.sources:
        lines.append("  None: an intermediate conclusion that other rules build on.")
    return "\n".join(lines) + "\n"


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
