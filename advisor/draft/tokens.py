"""Words, numbers and marks of a text, each with its place; the text itself is checked first."""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec import Struct

from advisor.draft.turns import short_words
from advisor.errors import InputError, Problem

MAX_BYTES = 20_000
MAX_DIGITS = 9  # of one number: nobody measures a house in more
_SIMPLE = re.compile(r"[A-Za-z]+(?:[ '-][A-Za-z]+)*")
_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_TOKEN = re.compile(
    r"(?P<name>[\"“][\w][\w -]{0,59}[\"”])(?=[\s.,;:?!)]|$)"
    r"|(?P<decade>['’]?(?:\d{4}|\d0)['’]?s)\b"
    r"|(?P<ordinal>\d{1,3}(?:st|nd|rd|th))\b"
    r"|(?P<grits>(?:[3-9]\d|\d{3})(?:/\d{2,3})+)\b"
    r"|(?P<number>\d+[ -]\d+/\d+|\d+\s?[½¼¾⅓⅔⅛⅜⅝⅞]|[½¼¾⅓⅔⅛⅜⅝⅞]|\d+/\d+|\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d*\.\d+|\d+)"
    r"|(?P<by>[xX×])(?=\s?\d)"
    r"|(?P<with>w/)|(?P<and>[&+])"
    r"|(?P<word>[^\W\d_]+\d*(?:['’][^\W\d_]+)*)"
    r"|(?P<gap>[\s_-]+)|(?P<mark>.)",
    re.DOTALL,
)


class Token(Struct, frozen=True):
    """A piece of the text: `text` in small letters without apostrophes, and where it stands."""

    text: str
    start: int
    end: int
    sort: str  # word | number | decade | ordinal | name | mark | break
    value: Fraction | None = None
    tight: bool = False  # nothing stands between it and the piece before
    capital: bool = False  # it begins with a capital letter
    dashed: bool = False  # a hyphen joins it to the piece before: `drop-in`


def checked(data: bytes, name: str) -> str:
    """The text of the bytes; InputError with one message where it is none that somebody typed."""

    def wrong(message: str) -> InputError:
        return InputError([Problem(name, 0, 0, message)])

    if len(data) > MAX_BYTES:
        raise wrong(f"is {len(data):,} bytes long. Expected at most {MAX_BYTES:,}: tell one job at a time.")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise wrong(f"is not UTF-8 text (byte {error.start}). Save it as UTF-8.") from error
    for place, letter in enumerate(text):
        if not letter.isprintable() and letter not in "\n\r\t\u00a0\u200b\ufeff":
            raise wrong(f"has a character that nobody types (letter {place + 1:,}). Expected plain words.")
    if long := re.search(rf"\d[\d,]{{{MAX_DIGITS + 2},}}", text):
        raise wrong(
            f"has a number of {len(long[0])} digits (letter {long.start() + 1:,}). Expected measures of a house."
        )
    if not text.strip():
        raise wrong("is empty. Expected some sentences on what is to be done, in which room, to what.")
    return text


def tokens_of(text: str) -> list[Token]:
    """The pieces of a text in order. A blank line, or one that begins a list entry, is a `break`."""
    found: list[Token] = []
    tight = dashed = False
    for match in _TOKEN.finditer(text):
        sort, said = str(match.lastgroup), match[0]
        start, end = match.span()
        if sort == "gap":
            tight, dashed = False, said == "-"
            if _breaks(said, text[end : end + 3]):
                found.append(Token("\n", start, end, "break"))
            continue
        value = None
        if sort == "number":
            value = _number(said)
            sort = "number" if value is not None else "mark"
        elif sort == "word":
            said = said.lower().replace("'", "").replace("’", "")
            watts = said == "w" and bool(found) and found[-1].sort == "number"  # `15 W`, and not `with`
            said = said if watts else short_words("short words").get(said, said)
            if match[0][0].isupper():
                said = short_words("short days").get(said, said)
        elif sort == "name":
            said = said[1:-1].strip()
        elif sort in ("with", "and"):
            sort, said = "word", sort
        elif sort in ("ordinal", "by", "grits"):
            sort, said = "word", short_words("short words").get(said.lower(), said)
        elif sort == "mark" and said in ("=", "≈"):
            sort, said = "word", "is"
        found.append(
            Token(
                said if sort == "name" else said.lower(), start, end, sort, value, tight, match[0][:1].isupper(), dashed
            )
        )
        tight, dashed = True, False
    return _entries(found)


def _entries(tokens: list[Token]) -> list[Token]:
    """`1. empty them, 2. wash them`: numbers that count entries, one after the other from 1, end what stood before."""
    places: list[int] = []
    for place, token in enumerate(tokens[:-2]):
        mark, behind = tokens[place + 1], tokens[place + 2]
        counts = token.sort == "number" and token.value == len(places) + 1 and not token.tight
        before = tokens[place - 1] if place else None
        opens = before is None or before.sort in ("mark", "break") or before.text == "and"
        asked = before is not None and before.text in (":", "?") and (before.text == "?" or behind.capital)
        opens = opens and not asked  # `how many? 2. Then`, `coats: 2. Then`
        if counts and opens and mark.text in (".", ")") and mark.tight and behind.sort == "word" and not behind.tight:
            places.append(place)
    if len(places) < 2:
        return tokens
    heads = set(places)
    return [
        Token(".", t.start, tokens[n + 1].end, "mark") if n in heads else t
        for n, t in enumerate(tokens)
        if n - 1 not in heads
    ]


def _breaks(gap: str, following: str) -> bool:
    lines = gap.count("\n")
    entry = "\n" in gap and (gap.rstrip(" ").endswith("-") or re.match(r"[*•]|\d{1,2}[.)]", following) is not None)
    return lines > 1 or entry


def _number(said: str) -> Fraction | None:
    text = said.replace(",", "")
    for sign, fraction in _VULGAR.items():
        text = text.replace(sign, f" {fraction}").strip()
    whole, _, rest = text.replace("-", " ").rpartition(" ")
    if re.fullmatch(r"\d+/0+", rest) or re.fullmatch(r"1[024]/[234]", rest):  # 12/2 is a name of cable
        return None
    return (Fraction(whole.strip()) if whole.strip() else Fraction(0)) + Fraction(rest)


def folded(phrase: str) -> tuple[str, ...]:
    """A phrase of the vocabulary as the tokens that it would be in a text."""
    if _SIMPLE.fullmatch(phrase):  # nearly all: the index is made anew at each start
        return tuple(phrase.lower().replace("'", "").replace("-", " ").split())
    return tuple(token.text for token in tokens_of(phrase) if token.sort != "break")
