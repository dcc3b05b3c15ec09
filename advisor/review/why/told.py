"""A reason as a person would tell it: what happens, what in the plan led to it, what the plan does not say, sources."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from advisor.review.finding import Finding
from advisor.review.metric import localized
from advisor.review.who import who_words
from advisor.review.why.why import Reason

_MOST_MISSING = 6  # of what the plan does not say; the rest is in the data


def as_text(finding: Finding, node: Reason, units: str = "", width: int = 80) -> str:
    """The finding, its whole reason, who may do it, then how it was reached, down to lines of the plan and sources."""
    lines: list[str] = []

    def say(text: str, first: str = "", rest: str = "") -> None:
        lines.extend(
            textwrap.wrap(text, width, initial_indent=first, subsequent_indent=rest or first, break_on_hyphens=False)
        )

    say(f"{finding.signal.upper()}: {finding.what} [{finding.id}]", "", "  ")
    say(f"Why: {finding.because}", "  ", "  ")
    if finding.who:
        say(f"Who: {who_words(finding.who, units)}.", "  ", "  ")
    said = set[str]()
    for rule in node.children:
        say(f"How it was reached: by the practice '{rule.text.partition(': ')[2]}' ({_name(rule)}).", "  ", "  ")
        for told in _facts(rule):
            if told not in said:
                said.add(told)
                say(told, "    - ", "      ")
        missing = list(dict.fromkeys(one.plain for one in rule.children if one.sort == "absent" and one.plain))
        for told in missing[:_MOST_MISSING]:
            say(f"{told}.", "    - ", "      ")
        hidden = sum(one.sort == "absent" for one in rule.children) - len(missing[:_MOST_MISSING])
        if hidden > 0:
            say(f"{hidden} more that would have settled it: --format json.", "    - ", "      ")
    sources = dict.fromkeys(one.text for rule in node.children for one in _all(rule) if one.sort == "source")
    for source in sources:
        say(f"source: {source}", "  ", "    ")
    return localized("\n".join(lines), units) + "\n"


def _name(rule: Reason) -> str:
    return rule.text.partition(": ")[0].removeprefix("rule ")


def _facts(node: Reason) -> Iterator[str]:
    """What the plan says and what is presumed, and by its title what one rule after the other makes of that."""
    for one in node.children:
        if one.sort == "plan" and one.line:
            yield f"line {one.line}: {one.text}"
        elif one.sort == "presumed":
            yield f"presumed: {one.text}"
        elif one.sort == "unknown":
            yield f"not known: {one.text.removesuffix(' is not known')}"
        elif one.sort == "advice":
            yield f"told by this advice: {one.text}"
        elif one.sort in ("number", "table"):
            yield one.text
        if one.sort == "deduced":
            yield from _facts(one)
        elif one.sort == "rule":
            yield from _facts(one)
            if title := one.text.partition(": ")[2]:
                yield f"so: {title[:1].lower()}{title[1:]}"
        elif one.sort == "plan":
            yield from _facts(one)


def _all(node: Reason) -> Iterator[Reason]:
    for one in node.children:
        yield one
        yield from _all(one)
