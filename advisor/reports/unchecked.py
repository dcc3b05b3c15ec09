"""What was not checked, in words: at the head of a report where a rule was given up, and all of it at its foot."""

from __future__ import annotations

from advisor.review.model import Report

NOT_SETTLED = (
    "Order not settled: it keeps what it says, and the search for one that moves fewer steps was given up at its bound."
)
_NAMED = 3  # titles at the head; the foot has all
_A_WORD = {"danger": "a danger", "warning": "a warning", "caution": "a caution", "notice": "a notice"}


def missed_count(report: Report) -> int:
    """How many rules might have said something and were given up."""
    return len({one.rule for one in report.missed()})


def headline_addition(report: Report) -> str:
    """What the headline says of rules given up; empty where there is none."""
    count = missed_count(report)
    return f"{count} rule{'s' * (count != 1)} not checked" if count else ""


def head_words(report: Report) -> str:
    """The sentences at the head, the gravest rules named; empty where no rule was given up and the order is settled."""
    missed = report.missed()
    unsettled = "" if report.settled else NOT_SETTLED
    if not missed:
        return unsettled
    titles = list(dict.fromkeys(one.title for one in missed))
    more = len(titles) - _NAMED
    named = "; ".join(titles[:_NAMED]) + (f"; and {more} more, listed at the end" if more > 0 else "")
    might = _A_WORD[missed[0].signal]
    return (
        f"Not checked: {named}. This plan has too much that fits together there, and {might} may be missed. "
        f"Make several smaller plans of it and check each. {unsettled}"
    ).rstrip()


def sheet_lines(report: Report) -> list[str]:
    """What a sheet says of rules given up: the sentences of the head, and each rule with its gravest word."""
    words = head_words(report)
    if not words:
        return []
    return [words, *(f"Not checked, {one.signal}: {one.title}." for one in report.missed())]


def foot_lines(report: Report) -> list[str]:
    """A line for each reason, with all the rules that it holds for."""
    titles: dict[str, list[str]] = {}
    for one in report.not_checked:
        titles.setdefault(one.message, []).append(one.title)
    return [f"Not checked: {'; '.join(dict.fromkeys(own))}: {message}." for message, own in titles.items()]
