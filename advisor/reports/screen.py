"""The first screen as text: 24 lines of 80 columns, whatever the plan."""

from __future__ import annotations

import textwrap

from advisor.reports.first import MOST_DANGERS, Danger, First, more_words, short_question
from advisor.reports.notes import words_used

Lines = list[tuple[str, str]]  # text, style
SCREEN, WIDTH = 24, 80
STYLES = {"danger": "bold white on red", "warning": "bold yellow", "caution": "yellow", "notice": "cyan"}
_LABEL = 10
_CALL = 4  # lines at most of whom to call


def screen_lines(first: First, width: int = WIDTH, most: int = SCREEN) -> Lines:
    """The screen in at most `most` lines. Where it is too much, the mildest of the named dangers go first."""
    named = min(len(first.dangers), MOST_DANGERS)
    # What must not be done yet is told whole before a sixth danger is; but some dangers are named on any screen.
    ways = [(n, 2) for n in range(named, min(named, 2), -1)] + [(n, 1) for n in range(named, -1, -1)]
    for shown, wrap in ways:
        lines = _lines(first, width, shown, wrap)
        if len(lines) <= most:
            return lines
    lines = _lines(first, width, 0, 1)
    return [*lines[: most - 1], lines[-1]]  # where the rest is stands on any screen


def call_is_cut(first: First, width: int) -> bool:
    """Whether there are more to call than the screen has room for."""
    head = f"{'Call':<{_LABEL}}"
    return _block(first.call, width, head, _CALL) != _block(first.call, width, head, len(first.call))


def explained(lines: Lines, width: int, room: int, units: str = "") -> Lines:
    """A line for each word of the trade that the screen uses, as far as there is room for them."""
    words = words_used([text for text, _ in lines], units)
    return [(cut(f"{word}: {meaning}", width), "dim") for word, meaning in words[: max(room, 0)]]


def _lines(first: First, width: int, shown: int, wrap: int) -> Lines:
    room = width - _LABEL
    lines: Lines = [(line, "bold") for line in _block(first.title, width, "", wrap)]
    said = " ".join(text for text in (first.counts, first.left) if text)
    lines += [(line, "") for line in _block(said, width, "", 3)]
    if first.start:
        lines += [(line, "bold") for line in _block(first.start, width, "", 2)]
    if first.missed:
        lines += [(line, "bold") for line in _block(first.missed, width, "", 3)]
    if first.place:
        lines += [(line, "dim") for line in _block(first.place, width, "", 4)]
    _labelled(lines, "Today", [first.today] if first.today else [], width, wrap, "bold")
    _labelled(lines, "Wait", list(first.not_yet), width, wrap)
    _labelled(lines, "Call", [first.call] if first.call else [], width, _CALL)
    for word in ("danger", "warning"):
        own = [danger_line(one, room) for one in first.dangers[:shown] if one.signal == word]
        _labelled(lines, f"{word.capitalize()}s", own, width, 1, STYLES[word] if word == "danger" else "")
    if left := more_words(first.dangers[shown:]):
        lines.append((" " * _LABEL + left, ""))
    _labelled(lines, "Get", [_few(first.get, room * wrap - 16)] if first.get else [], width, wrap)
    _labelled(lines, "Answer", [cut(short_question(q, room), room) for q in first.questions], width, 1)
    # Half a path is of no use: where the command does not fit, only the plan's own name stands there.
    rest = next((one for one in first.rest if len(one) <= room), first.rest[-1])
    lines.append((cut(f"The rest  {rest}", width), "dim"))
    return lines


def _labelled(lines: Lines, label: str, texts: list[str], width: int, wrap: int, style: str = "") -> None:
    for number, text in enumerate(texts):
        head = f"{label:<{_LABEL}}" if number == 0 else " " * _LABEL
        block = _block(text, width, head, wrap)
        lines += [(line, style) for line in block]


def _block(text: str, width: int, head: str, most: int) -> list[str]:
    """Wrapped to at most so many lines; what does not fit is cut at a word, and seen to be cut."""
    blank = " " * len(head)
    wrapped = textwrap.wrap(text, width, initial_indent=head, subsequent_indent=blank, break_on_hyphens=False)
    if len(wrapped) <= most:
        return wrapped
    last = " ".join(line.strip() for line in wrapped[most - 1 :])
    indent = head if most == 1 else blank
    if most == 1:
        last = last.removeprefix(head.strip()).strip()
    return [*wrapped[: most - 1], indent + cut(last, width - len(indent))]


def cut(text: str, width: int) -> str:
    """A text cut at a word to fit."""
    if len(text) <= width:
        return text
    return textwrap.shorten(text, width, placeholder=" …", break_on_hyphens=False) or text[:width]


def danger_line(one: Danger, width: int) -> str:
    """`sand-doors: Flames and sparks out before vapor that burns`."""
    steps = ", ".join(one.steps[:2]) + (f" and {len(one.steps) - 2} more" if len(one.steps) > 2 else "")
    where = f"{steps}: " if steps else ""
    return cut(f"{where}{one.short}", width)


def _few(names: tuple[str, ...], room: int) -> str:
    """As many names as fit, and how many more there are."""
    said = ""
    for number, name in enumerate(names):
        longer = f"{said}, {name}" if said else name
        if len(longer) > room:
            return f"{said} and {len(names) - number} more" if said else name
        said = longer
    return said
