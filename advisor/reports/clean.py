"""Text of strangers made fit to print: what cannot be seen, or turns the text around it, becomes visible."""

from __future__ import annotations

import re
import unicodedata

_KEPT = "\u200c\u200d"  # joiners that some scripts are written with
_UNSEEN = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})


def legible(text: str) -> str:
    """`text` on one line, with control characters and direction marks as U+FFFD."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(_shown(c) for c in text)


def _shown(char: str) -> str:
    if char in "\n\r\t":
        return " "
    if char.isprintable() or char in _KEPT:
        return char
    return "\ufffd" if unicodedata.category(char) in _UNSEEN else char


_NOT_PLAIN = re.compile(r"\r\n|[^\n\t -~]")


def legible_lines(text: str) -> str:
    """`text` of many lines, with line ends and tabs as they are and the rest as `legible` has it."""
    return _NOT_PLAIN.sub(lambda m: m[0] if len(m[0]) == 2 else _shown(m[0]), text)


def json_letters(text: str, encoding: str) -> str:
    """JSON with letters escaped that cannot be seen, turn the text, or are lacking in the encoding: the same data."""
    return _NOT_PLAIN.sub(lambda m: m[0] if _fits(m[0], encoding) else _escaped(m[0]), text)


def references(text: str, encoding: str) -> str:
    """HTML or SVG with letters that the encoding lacks as character references."""
    return text.encode(encoding, "xmlcharrefreplace").decode(encoding)


def _fits(char: str, encoding: str) -> bool:
    if char == "\r\n":
        return True
    if _shown(char) != char:
        return False
    try:
        char.encode(encoding)
    except UnicodeEncodeError:
        return False
    return True


def _escaped(char: str) -> str:
    units = char.encode("utf-16-be", "surrogatepass")
    return "".join(f"\\u{units[k]:02x}{units[k + 1]:02x}" for k in range(0, len(units), 2))
