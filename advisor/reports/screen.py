"""The first screen as text: 24 lines of 80 columns, whatever the plan."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from advisor.reports.first import (
    MOST_DANGERS,
    MOST_NOT_YET,
    MOST_QUESTIONS,
    Danger,
    First,
    more_words,
    short_question,
)
from advisor.reports.not_yours import HEADING, TODAY, ordered
from advisor.reports.notes import short_meanings, words_used
from advisor.reports.screen_words import screen_words
from advisor.reports.waits import Wait
from advisor.reports.wrapped import wrapped
from advisor.review.metric import localized
from advisor.review.wording import listed

Lines = list[tuple[str, str]]  # text, style
SCREEN, WIDTH = 24, 80
STYLES = {"danger": "bold white on red", "warning": "bold yellow", "caution": "yellow", "notice": "cyan"}
_LABEL = 10
_UNTIL = re.compile(r"^Do not start (.+) until ")
_NUMBER = re.compile(r"\[\d+\]$")
_RESULT = re.compile(r"result (is|are) in\b")  # what a laboratory is waited for
_WHOLE = 2  # lines in which any sentence of the screen stands whole


_FOLDED = ((1, 1), (1, 0), (0, 0))  # lines of what to get, and questions
_WAITS = ((True, True), (False, True))


class _Way(Struct, frozen=True):
    """How much of the first screen is told; what is left out is counted below, never dropped."""

    shown: int  # dangers and warnings that are named
    wrap: int = _WHOLE  # lines at most of what to do today, and of each thing to wait for
    get: int = 2  # lines at most of what to get; 0 counts it below
    answers: int = MOST_QUESTIONS
    waits: bool = True  # whether a step that waits for a result is named; else the result with its days is, alone
    short: bool = False  # whether what to wait for is told in fewer words
    tall: bool = False  # whether each danger is told with all its steps, on two lines where it takes them
    tight: bool = False  # whether what is told twice is told once
    brief: bool = False  # whether what a danger is stands on one line, its steps counted where they do not fit
    own_waits: int = MOST_NOT_YET  # waits that are named


def screen_lines(first: First, width: int = WIDTH, most: int = SCREEN, units: str = "") -> Lines:
    """The screen in at most `most` lines, with room below for its words that are not everyday.

    Dangers are named before all else, the worst first. What goes first where room lacks is what stands there twice,
    then warnings by name, then what to get and to answer; what went is counted.
    """
    best: tuple[int, Lines] = (-1, [])
    for way in _ways(first, most):
        lines = _lines(first, width, way)
        # Of the dangers none goes for a word that is explained, nor is a sentence cut for one.
        if len(lines) > most or (best[1] and way.wrap < _WHOLE):
            continue
        of = _meanings(lines, units, first.title)
        told = len(_fitting(of, width, most - len(lines)))
        best = max(best, (told - len(of), lines), key=lambda one: one[0]) if best[1] else (told - len(of), lines)
        if told == len(of):
            break
    if best[1]:
        return best[1]
    lines = _lines(first, width, _Way(0, 1, 0, 0, False, True, tight=True))
    return [*lines[: most - 1], lines[-1]]  # where the rest is stands on any screen


def _ways(first: First, most: int) -> list[_Way]:
    """Ways to tell it, the fullest first."""
    dangers = sum(one.signal == "danger" for one in first.dangers)
    named = len(first.dangers) if most > SCREEN else max(dangers, min(len(first.dangers), MOST_DANGERS))
    least = max(dangers, min(named, 2))
    tall = [_Way(named, get=get, tall=True) for get in (8, 4, 2)] if most > SCREEN else []
    whole = [
        *(_Way(shown) for shown in range(named, least - 1, -1)),
        *(_Way(least, get=get, answers=n) for n in range(MOST_QUESTIONS, 0, -1) for get in (2, 1)),
        *(_Way(least, _WHOLE, get, n, *said) for get, n in _FOLDED for said in _WAITS),
    ]
    twice = [one for way in whole for one in (way, replace(way, tight=True))]
    few = _Way(least, _WHOLE, 0, 0, False, True, tight=True, brief=True)
    fewer = [replace(few, own_waits=count) for count in (2, 1)]
    cut_off = [replace(few, shown=n, wrap=1, own_waits=c) for n in range(least, -1, -1) for c in (3, 2, 1, 0)]
    most_told = [*tall, *twice]
    return [*most_told, *(replace(way, brief=True) for way in most_told), *fewer, *cut_off]


def explained(lines: Lines, width: int, room: int, units: str = "", title: str = "") -> Lines:
    """What the words on the screen that are not everyday mean, in short, as far as there is room for whole ones."""
    told = _fitting(_meanings(lines, units, title), width, room)
    return [(line, "dim") for line in _words(told, width)] if told else []


def _fitting(of: list[str], width: int, room: int) -> list[str]:
    """As many meanings as there is room for; where not all have it, the last says how many are left."""
    for count in range(len(of), 0, -1):
        left = [f"{len(of) - count} more at the end of the rest"] if count < len(of) else []
        if len(_words([*of[:count], *left], width)) <= room:
            return [*of[:count], *left]
    return []


def _words(told: list[str], width: int) -> list[str]:
    text = f"{'; '.join(told)}."
    return _block(text, width, f"{'Words':<{_LABEL}}", len(text))


def _meanings(lines: Lines, units: str, title: str) -> list[str]:
    """`HEPA: a filter that holds lead and stone dust`, those first that a reader needs most."""
    short = short_meanings()
    order = {word: place for place, word in enumerate(short)}
    text = [line for line, _ in lines]
    used = words_used(text, units, title)
    used.sort(key=lambda pair: order.get(pair[0], len(order)))
    found = [f"{word}: {localized(short.get(word, meaning), units)}" for word, meaning in used]
    numbered = next((match[0] for line in text if (match := _NUMBER.search(line))), "")
    return [*found, f"{numbered}: {screen_words()['number']}"] if numbered else found


def _lines(first: First, width: int, way: _Way) -> Lines:
    room = width - _LABEL
    lines: Lines = [(line, "bold") for line in _block(first.title, width, "", way.wrap)]
    said = " ".join(text for text in (first.counts, first.left) if text)
    lines += [(line, "") for line in _block(said, width, "", 3)]
    if first.start:
        lines += [(line, "bold") for line in _block(first.start, width, "", 5)]
    if first.missed:
        lines += [(line, "bold") for line in _block(first.missed, width, "", 3)]
    if first.place:
        lines += [(line, "dim") for line in _block(first.place, width, "", 4)]
    named = first.dangers[: way.shown]
    for word in ("danger", "warning"):
        own = [danger_line(one, room, way) for one in named if one.signal == word]
        _labelled(lines, f"{word.capitalize()}s", own, width, 3, STYLES[word] if word == "danger" else "")
    left_out = list[str]()
    if more := more_words(first.dangers[way.shown :]):
        if way.tight:
            left_out.append(f"{more.removeprefix('and ').removesuffix(' more')} (advisor hazards)")
        else:
            where = f"{more}; each with its why, worst first: advisor hazards"
            lines.append((" " * _LABEL + (where if len(where) <= room else more), ""))
    _labelled(lines, "Not told", [cut(text, room) for text in first.may_be], width, 1)
    _today_and_waits(lines, first, named, width, way, left_out)
    _get_and_answer(lines, first, width, way, left_out)
    _labelled(lines, "Not here", [f"{'; '.join(left_out)}."] if left_out else [], width, _WHOLE)
    # Half a path is of no use: where the command does not fit, only the plan's own name stands there.
    rest = next((one for one in first.rest if len(one) <= room), first.rest[-1])
    lines.append((cut(f"The rest  {rest}", width), "dim"))
    return lines


def _today_and_waits(
    lines: Lines, first: First, named: Sequence[Danger], width: int, way: _Way, left_out: list[str]
) -> None:
    """What to do today, what waits for what, and who else is to do what."""
    room = width - _LABEL
    sent = [one for one in first.not_yours if one.when == TODAY] if way.tight and first.orders else []
    act = ordered(sent) if sent else first.today
    _labelled(lines, "Today", [act] if act else [], width, max(way.wrap, 1 + len(sent)), "bold")
    # A danger that is named and asks for just that is the wait.
    waits = [one for one in first.waits if not (way.tight and _told_by(one, named))][: way.own_waits]
    own = [one.text for one in waits]
    own = own if way.waits else _results_in_one(own)
    _labelled(lines, "Wait", [_short(text) if way.short else text for text in own], width, way.wrap)
    if more := sum(not _told_by(one, named) for one in first.waits if one not in waits):
        left_out.append(f"{more} more wait{'s' * (more != 1)} (advisor order)")
    theirs = [one.line if len(one.line) <= room else one.short for one in first.not_yours if one not in sent]
    _labelled(lines, HEADING, theirs, width, _WHOLE)


def _told_by(wait: Wait, named: Sequence[Danger]) -> bool:
    """Whether the dangers that are named say all of a wait."""
    named = [one for one in named if one.signal == "danger"]
    return all(any(one.rule == rule and set(wait.steps) <= set(one.steps) for one in named) for rule in wait.rules)


def _get_and_answer(lines: Lines, first: First, width: int, way: _Way, left_out: list[str]) -> None:
    """What to get and to answer, and how much of it stands elsewhere."""
    room = width - _LABEL
    if first.get and way.get:
        _labelled(lines, "Get", [_few(first.get, room * way.get - 10 * (way.get - 1))], width, way.get)
    elif first.get:
        left_out.append(f"{len(first.get)} thing{'s' * (len(first.get) != 1)} to get (advisor supplies)")
    asked = first.questions[: way.answers]
    _labelled(lines, "Answer", [cut(short_question(q, room), room) for q in asked], width, 1)
    if more := first.asked - len(asked):
        left_out.append(f"{more}{' more' * bool(asked)} question{'s' * (more != 1)} (advisor questions)")


def _short(text: str) -> str:
    """What to wait for, in fewer words: `sand-doors: not until the lead result is in`."""
    return _UNTIL.sub(r"\1: not until ", text)


def _results_in_one(waits: Sequence[str]) -> list[str]:
    """What to wait for, all results of a laboratory in one: `Do not start a and b until the results are in.`"""
    of = [text for text in waits if _RESULT.search(text)]
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
    block = wrapped(text, width, head, blank)
    if len(block) <= most:
        return block
    last = " ".join(line.strip() for line in block[most - 1 :])
    indent = head if most == 1 else blank
    if most == 1:
        last = last.removeprefix(head.strip()).strip()
    return [*block[: most - 1], indent + cut(last, width - len(indent))]


def cut(text: str, width: int) -> str:
    """A text cut at a word to fit; a question stays one."""
    if len(text) <= width:
        return text
    so_on = " …?" if text.endswith("?") else " …"
    return textwrap.shorten(text, width, placeholder=so_on, break_on_hyphens=False) or text[:width]


def danger_line(one: Danger, width: int, way: _Way) -> str:
    """`sand-doors: Flames and sparks out before vapor that burns [7]`: what a danger is is never cut off. All steps
    where the screen is tall; else two of them, one, or how many, by what stands on one line."""
    number = f" [{one.number}]" if one.number else ""
    few = len(one.steps) if way.tall else 2
    said = [f"{_at(one.steps, count)}{one.short}{number}" for count in (few, min(few, 1))]
    if way.tall:
        return said[0]
    if fits := next((text for text in said if len(text) <= width), ""):
        return fits
    if one.signal != "danger":
        return f"{cut(said[-1].removesuffix(number), width - len(number))}{number}"
    return f"{_at(one.steps, 0)}{one.short}{number}" if way.brief else said[0]


def _at(steps: Sequence[str], named: int) -> str:
    """`a and 2 more: `; `3 steps: ` where none is named."""
    if not steps:
        return ""
    if not named:
        return f"{len(steps)} step{'s' * (len(steps) > 1)}: "
    more = len(steps) - named
    return f"{', '.join(steps[:named])}{f' and {more} more' if more > 0 else ''}: "


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
