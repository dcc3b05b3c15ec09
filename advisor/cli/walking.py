"""One question after another at a terminal, each answer written into the plan at once: `interview`, `questions --ask`.

Plain lines from top to bottom, nothing drawn over: a screen reader reads it as it comes. Input may be a pipe.
"""

from __future__ import annotations

import sys
import textwrap
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from advisor.cli.revising import Written
    from advisor.review.asking.walk import AskedNow, Walk

WORDS = {
    "don't know": ("don't know", "don’t know", "dont know", "do not know", "unknown", "not known", "?", "d", ""),
    "later": ("later", "l"),
    "back": ("back", "b"),
    "why": ("why", "why do you ask", "w"),
    "stop": ("stop", "quit", "exit", "q"),
}
HINT = (
    "Answer with a number or in your own words; several with commas between. Or one key and Enter: d (or Enter alone)"
    " don't know, l later, b back, w why, q stop. Each answer is written at once."
)
SITTING = 25  # questions, then somebody is asked whether to go on
_UNKNOWN = 4  # questions without an answer that are named at the end


def ask_all(path: Path, before: Written, now: Walk) -> Walk:
    """Ask till nothing is left or somebody stops; the text as it was at first stays in `PLAN.bak`."""
    print("\n".join(textwrap.wrap(HINT, 80)))
    start = now
    try:
        now = _asked_till_end(path, before, now)
    except KeyboardInterrupt:
        print()
        now = _as_written(path, start)
    _end(path, start, now)
    return now


def _asked_till_end(path: Path, written: Written, now: Walk) -> Walk:
    from advisor.cli.revising import write_plan
    from advisor.errors import InputError

    began, at_first, again = now.number, now.text, False
    while (asked := now.asked) is not None:
        if now.number - began >= SITTING:
            if now.text == at_first or not _goes_on(now.left()):
                return now
            began, at_first = now.number, now.text
        _show(now, asked, again)
        said, again = listen(), True
        word = next((name for name, forms in WORDS.items() if said is not None and said.lower() in forms), "")
        if said is None or word == "stop":
            return now
        if word == "why":
            _wrap(now.why(), "   ")
            continue
        if word:
            after = now.back() if word == "back" else now.later() if word == "later" else now.dont_know()
        else:
            try:
                after = now.answer(said)
            except InputError as error:
                _wrap(error.problems[0].message, "   ")
                continue
        if after.text != now.text:
            write_plan(path, written, after.text)
        if after.changed is not None:
            _wrap(_told(now, after), "   ")
        elif word == "back" and after.text != now.text:
            _wrap("Taken back.", "   ")
        now, again = after, False
    return now


def _goes_on(left: int) -> bool:
    print()
    _wrap(f"That makes {SITTING} questions; {left} more may matter. Enter goes on, q stops.", "")
    said = listen()
    return said is not None and said.lower() in ("", "y", "yes", "go on", "on")


def _as_written(path: Path, start: Walk) -> Walk:
    """After an interruption: the walk from what the file holds, which is whole whenever that came."""
    from advisor.cli.revising import Written
    from advisor.review.asking.walk import Walk

    text = Written.read(path).text
    return start if text == start.text else Walk.begin(text, start.name, start.rulebase, least=start.least)


def listen() -> str | None:
    """A line that was typed; None where the input ended."""
    print("> ", end="", flush=True)  # no prompt of typer's: that would go past the outlet
    try:
        line = sys.stdin.readline()  # `input` may swallow a Ctrl-C that comes as it flushes
    except (AttributeError, ValueError, OSError):  # no input at all, no text, or its terminal is gone
        line = ""
    if not line:
        print()
    return line.strip() if line else None


def _show(now: Walk, asked: AskedNow, again: bool) -> None:
    presumed = f" (presumed: {asked.presumed})" if asked.presumed else ""
    print()
    _wrap(f"{now.number}. {asked.ask}{presumed}", "", "   ")
    if again:  # its choices stand above
        return
    if decides := now.decides():
        _wrap(f"It decides on {decides}.", "   ")
    heading = ""
    for place, choice in enumerate(asked.choices, 1):
        if choice.attribute != heading and asked.labels:
            heading = choice.attribute
            _wrap(f"{_label(asked, heading)}:", "   ")
        _wrap(f"{place}) {choice.said}", "   ", "      ")
    for name, example in asked.examples:
        _wrap(f"{_label(asked, name)}, such as: {example}" if name else f"such as: {example}", "   ")


def _label(asked: AskedNow, name: str) -> str:
    """What is asked of an attribute, and its name, which an answer may begin with."""
    return f"{asked.labels[name]} ({name.replace('_', ' ')})"


def _told(before: Walk, after: Walk) -> str:
    """One line of what an answer changed."""
    from advisor.reports.comparison import in_short

    found = after.changed
    return "Written. " + (in_short(found, before.left() - 1, after.left(), after.open()) if found is not None else "")


def _end(path: Path, start: Walk, now: Walk) -> None:
    left = now.left()
    print()
    if now.text != start.text:
        print(f"Written to {path}; the plan as it was is in {path.name}.bak.")
    else:
        print("No answer; nothing was written.")
    words = "that was not asked" if start.least == 0 else "that decides on anything grave"
    _wrap(f"{left} question{'s' * (left != 1)} left." if left else f"No question is left {words}.", "")
    if now.unknown:
        more = len(now.unknown) - _UNKNOWN
        listed = " ".join(now.unknown[:_UNKNOWN]) + (f" And {more} more." if more > 0 else "")
        _wrap(f"What nobody knew stays unknown. Look before you start: {listed}", "")


def _wrap(text: str, first: str, rest: str | None = None) -> None:
    print("\n".join(textwrap.wrap(text, 80, initial_indent=first, subsequent_indent=first if rest is None else rest)))
