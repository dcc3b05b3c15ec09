"""`advisor questions --ask`: one question after another at a terminal, each answer written into the plan at once."""

from __future__ import annotations

import textwrap
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from advisor.review.walk import Asked, Walk

WORDS = {
    "don't know": ("don't know", "dont know", "do not know", "unknown", "not known", "?", "d", ""),
    "later": ("later", "l"),
    "back": ("back", "b"),
    "why": ("why", "w"),
    "stop": ("stop", "quit", "q"),
}
HINT = "Also: don't know (or just Enter), later, back, why, stop."


def walk(path: Path, rules: list[Path] | None) -> None:
    """Ask till nothing is left or somebody stops; the text as it was at first stays in `PLAN.bak`."""
    from advisor.cli.revising import Written, write_plan
    from advisor.errors import InputError
    from advisor.review.walk import Walk
    from advisor.rulebase.base import load_rulebase

    written = Written.read(path)
    now = Walk.begin(written.text, str(path), load_rulebase(rules or []))
    print(HINT)
    number = answers = 0
    while (asked := now.asked) is not None:
        number += 1
        _show(number, asked)
        said = _listen()
        word = next((name for name, forms in WORDS.items() if said is not None and said.lower() in forms), "")
        if said is None or word == "stop":
            break
        if word == "why":
            number -= 1
            _wrap(now.why(), "   ")
        elif word == "back":
            before = now.back()
            if before.text != now.text:
                write_plan(path, written, before.text)
                answers -= 1
            now, number = before, max(0, number - 2)
        elif word:
            now = now.later() if word == "later" else now.dont_know()
        else:
            try:
                after = now.answer(said)
            except InputError as error:
                number -= 1
                _wrap(error.problems[0].message, "   ")
                continue
            write_plan(path, written, after.text)
            answers += 1
            _changed(now, after)
            now = after
    _end(path, now, answers)


def _listen() -> str | None:
    print("> ", end="", flush=True)  # no prompt of typer's: that would go past the outlet
    try:
        return input().strip()
    except EOFError:  # the input ended
        print()
        return None


def _show(number: int, asked: Asked) -> None:
    presumed = f" (presumed: {asked.presumed})" if asked.presumed else ""
    print()
    _wrap(f"{number}. {asked.ask}{presumed}", "", "   ")
    for place, choice in enumerate(asked.choices, 1):
        _wrap(f"{place}) {choice.said}", "   ", "      ")
    if not asked.choices and asked.example:
        _wrap(f"such as: {asked.example}", "   ")


def _changed(before: Walk, after: Walk) -> None:
    from advisor.reports.comparison import changes

    found = after.changed
    told = changes(found) if found is not None else ""
    fewer = before.left() - after.left() - 1
    questions = f" {fewer} more question{'s' * (fewer != 1)} settled by it." if fewer > 0 else ""
    _wrap(f"Written. {told}{questions}", "   ")


def _end(path: Path, now: Walk, answers: int) -> None:
    left = now.left()
    more = f" {left} question{'s' * (left != 1)} left." if left else " No question is left that was not asked."
    if answers:
        print(f"\nWritten to {path}; the plan as it was is in {path.name}.bak.{more}")
    else:
        print(f"\nNo answer; nothing was written.{more}")


def _wrap(text: str, first: str, rest: str | None = None) -> None:
    print("\n".join(textwrap.wrap(text, 80, initial_indent=first, subsequent_indent=first if rest is None else rest)))
