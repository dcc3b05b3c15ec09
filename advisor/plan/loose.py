"""Years that are said loosely: `about 1920`, `1930s`, `before 1978`. The cautious end of the span is taken.

Which end is cautious the vocabulary says of each attribute (`cautious: earlier` or `later`). What is taken so is
presumed: findings that rest on it say so and ask for the year.
"""

from __future__ import annotations

from advisor import later
from advisor.rulebase.vocabulary import Attribute

ABOUT = 5  # years either way of "about"
EARLIEST = 1900  # the first year of "before 1978": the vocabulary presumes it too where nothing is known
Span = tuple[int, int | None]  # first and last year that are meant; None where the end is open

_Y = "([0-9]{4})"
_ABOUT = later.pattern(rf"(?:about|around|roughly|approximately|approx\.?|circa|ca?\.?|~)\s*{_Y}(s?)")
_ISH = later.pattern(rf"{_Y}\s*(?:-?ish|or so|\?)")
_DECADE = later.pattern(rf"(?:the )?(?:(early|mid|late)[ -])?(?:the )?{_Y}'?s")
_BEFORE = later.pattern(rf"(?:before|prior to|pre|older than|earlier than)[ -]*{_Y}")
_UNTIL = later.pattern(rf"(?:by|until|up to|no later than|not after) {_Y}|{_Y} (?:or (?:before|earlier|older))")
_AFTER = later.pattern(rf"(?:after|post|later than|newer than)[ -]*{_Y}")
_SINCE = later.pattern(rf"(?:since|from|at least|not before) {_Y}(?: on)?|{_Y} (?:or (?:after|later|newer))")
_BETWEEN = later.pattern(rf"(?:between |from )?{_Y}(?: ?[-–] ?| to | and | or ){_Y}")
_FORMS = (_ABOUT, _ISH, _DECADE, _BEFORE, _UNTIL, _AFTER, _SINCE, _BETWEEN)
LOOSE_PATTERN = f"^(?:{'|'.join(form.pattern for form in _FORMS)})$"  # in small letters
_THIRDS = {"early": (0, 4), "mid": (3, 7), "late": (5, 9)}


def span_of_years(text: str) -> Span | None:
    """The years that may be meant by loose words; None where they are none."""
    said = " ".join(text.strip().lower().split())
    if said.isdecimal():  # as most are said
        return None
    if found := _ABOUT.fullmatch(said):
        year, last = int(found[1]), _decade(int(found[1])) if found[2] else int(found[1])
        return year - ABOUT, last + ABOUT
    if found := _ISH.fullmatch(said):
        return int(found[1]) - ABOUT, int(found[1]) + ABOUT
    if found := _DECADE.fullmatch(said):
        year = int(found[2])
        if found[1]:
            return year + _THIRDS[found[1]][0], year + _THIRDS[found[1]][1]
        return year, _decade(year)
    if found := _BEFORE.fullmatch(said):
        return min(EARLIEST, int(found[1]) - 1), int(found[1]) - 1
    if found := _UNTIL.fullmatch(said):
        year = int(found[1] or found[2])
        return min(EARLIEST, year), year
    if found := _AFTER.fullmatch(said):
        return int(found[1]) + 1, None
    if found := _SINCE.fullmatch(said):
        return int(found[1] or found[2]), None
    if (found := _BETWEEN.fullmatch(said)) and int(found[1]) <= int(found[2]):
        return int(found[1]), int(found[2])
    return None


def _decade(year: int) -> int:
    """The last year of `1930s` or, of a round hundred, of the century: `1800s` may mean either."""
    return year + (99 if year % 100 == 0 and year < EARLIEST else 9)


def cautious_year(attribute: Attribute, text: str) -> int | None:
    """The year that rules see for loose words; None where they are not taken."""
    span = span_of_years(text) if attribute.type == "year" and attribute.cautious else None
    if span is None:
        return None
    return span[0] if attribute.cautious == "earlier" else span[1]


def why_presumed(attribute: Attribute, text: str) -> str:
    """Why a year stands for loose words; '' where the text says its value outright."""
    if cautious_year(attribute, text) is None:
        return ""
    end = "early" if attribute.cautious == "earlier" else "late"
    return f"'{text.strip()}' may mean as {end} as that"
