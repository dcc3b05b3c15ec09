"""The first screen as text: 24 lines of 80 columns, whatever the plan."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Container, Sequence

from msgspec import Struct

from advisor.reports.first import MOST_DANGERS, MOST_QUESTIONS, Danger, First, more_words, short_question
from advisor.reports.not_yours import HEADING
from advisor.reports.notes import short_meanings, words_used
from advisor.review.metric import localized
from advisor.review.wording import listed

Lines = list[tuple[str, str]]  # text, style
SCREEN, WIDTH = 24, 80
STYLES = {"danger": "bold white on red", "warning": "bold yellow", "caution": "yellow", "notice": "cyan"}
_LABEL = 10
_UNTIL = re.compile(r"^Do not start (.+) until ")
_RESULT = "result is in"  # what a laboratory is waited for
_WHOLE = 2  # lines in which any sentence of the screen stands whole


class _Way(Struct, frozen=True):
    """How much of the first screen is told: what is left out where all of it is too much."""

    shown: int  # dangers and warnings that are named
    wrap: int = _WHOLE  # lines at most of what to do today, and of each thing to wait for
    get: int = 2  # lines at most of what to get
    answers: int = MOST_QUESTIONS
    waits: bool = True  # whether a step that waits for a result is named; else the result with its days is, alone
    short: bool = False  # whether what to wait for is told in fewer words
    tall: bool = False  # whether each danger is told with all its steps, on two lines where it takes them


def screen_lines(first: First, width: int = WIDTH, most: int = SCREEN, units: str = "") -> Lines:
    """The screen in at most `most` lines, with room below for its words of the trade where that can be had.

    Dangers are named before all else, the worst first; what goes first where room lacks are warnings by name.
    """
    best: tuple[int, Lines] = (-1, [])
    for way in _ways(first, most):
        lines = _lines(first, width, way)
        # Of the dangers none goes for a word that is explained, nor is a sentence cut for one.
        if len(lines) > most or (best[1] and way.wrap < _WHOLE):
            continue
        # For the other words of the trade nothing goes: they are told where there is room left.
        of = len(_meanings(lines, units, short_meanings()))
        told = min(len(_told(lines, width, most - len(lines), units)), of)
        best = max(best, (told, lines), key=lambda one: one[0])
        if told == of:
            break
    if best[1]:
        return best[1]
    lines = _lines(first, width, _Way(0, 1, 1, 0, False, True))
    return [*lines[: most - 1], lines[-1]]  # where the rest is stands on any screen


def _ways(first: First, most: int) -> list[_Way]:
    """Ways to tell it, the fullest first."""
    dangers = sum(one.signal == "danger" for one in first.dangers)
    named = len(first.dangers) if most > SCREEN else max(dangers, min(len(first.dangers), MOST_DANGERS))
    least = max(dangers, min(named, 2))
    tall = [_Way(named, get=get, tall=True) for get in (8, 4, 2)] if most > SCREEN else []
    return [
        *tall,
        *(_Way(shown) for shown in range(named, least - 1, -1)),
        *(_Way(least, get=get, answers=n) for n in range(MOST_QUESTIONS, 0, -1) for get in (2, 1)),
        *(_Way(least, _WHOLE, 1, answers, *said) for answers in (1, 0) for said in ((True, True), (False, True))),
        *(_Way(shown, 1, 1, 0, False, True) for shown in range(least, -1, -1)),
    ]


def explained(lines: Lines, width: int, room: int, units: str = "") -> Lines:
    """What the words of the trade on the screen mean, in short, as far as there is room for whole ones."""
    told = _told(lines, width, room, units)
    return [(line, "dim") for line in _words(told, width)] if told else []


def _told(lines: Lines, width: int, room: int, units: str) -> list[str]:
    told = _meanings(lines, units)
    return next((told[:count] for count in range(len(told), 0, -1) if len(_words(told[:count], width)) <= room), [])


def _words(told: list[str], width: int) -> list[str]:
    text = f"{'; '.join(told)}."
    return _block(text, width, f"{'Words':<{_LABEL}}", len(text))


def _meanings(lines: Lines, units: str, alone: Container[str] | None = None) -> list[str]:
    """`HEPA: a filter that holds lead and stone dust`, those first that a reader needs most; `alone` only these."""
    short = short_meanings()
    order = {word: place for place, word in enumerate(short)}
    used = words_used([text for text, _ in lines], units)
    used = [pair for pair in used if alone is None or pair[0] in alone]
    used.sort(key=lambda pair: order.get(pair[0], len(order)))
    return [f"{word}: {localized(short.get(word, meaning), units)}" for word, meaning in used]


def _lines(first: First, width: int, way: _Way) -> Lines:
    room = width - _LABEL
    lines: Lines = [(line, "bold") for line in _block(first.title, width, "", way.wrap)]
    said = " ".join(text for text in (first.counts, first.left) if text)
    lines += [(line, "") for line in _block(said, width, "", 3)]
    if first.start:
        lines += [(line, "bold") for line in _block(first.start, width, "", 2)]
    if first.missed:
        lines += [(line, "bold") for line in _block(first.missed, width, "", 3)]
    if first.place:
        lines += [(line, "dim") for line in _block(first.place, width, "", 4)]
    for word in ("danger", "warning"):
        own = [danger_line(one, room, way.tall) for one in first.dangers[: way.shown] if one.signal == word]
        _labelled(lines, f"{word.capitalize()}s", own, width, 3, STYLES[word] if word == "danger" else "")
    if left := more_words(first.dangers[way.shown :]):
        where = f"{left}; each with its why, worst first: advisor hazards"
        lines.append((" " * _LABEL + (where if len(where) <= room else left), ""))
    _labelled(lines, "Today", [first.today] if first.today else [], width, way.wrap, "bold")
    waits = list(first.not_yet) if way.waits else _results_in_one(first.not_yet)
    _labelled(lines, "Wait", [_short(text) if way.short else text for text in waits], width, way.wrap)
    theirs = [one.line if len(one.line) <= room else one.short for one in first.not_yours]
    _labelled(lines, HEADING, theirs, width, _WHOLE)
    _labelled(lines, "Get", [_few(first.get, room * way.get - 10 * (way.get - 1))] if first.get else [], width, way.get)
    _labelled(lines, "Answer", [cut(short_question(q, room), room) for q in first.questions[: way.answers]], width, 1)
    # Half a path is of no use: where the command does not fit, only the plan's own name stands there.
    rest = next((one for one in first.rest if len(one) <= room), first.rest[-1])
    lines.append((cut(f"The rest  {rest}", width), "dim"))
    return lines


def _short(text: str) -> str:
    """What to wait for, in fewer words: `sand-doors: not until the lead result is in`."""
    return _UNTIL.sub(r"\1: not until ", text)


def _results_in_one(waits: Sequence[str]) -> list[str]:
    """What to wait for, all results of a laboratory in one: `Do not start a and b until the results are in.`"""
    of = [text for text in waits if _RESULT in text]
    if len(of) < 2:
        return list(waits)
    steps = [name for text in of if (found := _UNTIL.match(text)) for name in re.split(r", | and ", found[1])]
    return [f"Do not start {listed(steps)} until the results are in.", *(text for text in waits if text not in of)]


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


def danger_line(one: Danger, width: int, whole: bool = False) -> str:
    """`sand-doors: Flames and sparks out before vapor that burns`; `whole` with all steps and uncut."""
    few = len(one.steps) if whole else 2
    steps = ", ".join(one.steps[:few]) + (f" and {len(one.steps) - few} more" if len(one.steps) > few else "")
    where = f"{steps}: " if steps else ""
    return f"{where}{one.short}" if whole else cut(f"{where}{one.short}", width)


def _few(names: tuple[str, ...], room: int) -> str:
    """As many names as fit; where not all do, how many there are, and where they are told in amounts."""
    whole = ", ".join(names)
    if len(whole) <= room:
        return whole
    head = f"{len(names)} things (advisor supplies): "
    said = names[0]
    for name in names[1:]:
        if len(f"{head}{said}, {name} …") > room:
            break
        said = f"{said}, {name}"
    return f"{head}{said} …"
