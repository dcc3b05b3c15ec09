"""Text of strangers made fit to print: what cannot be seen, or turns the text around it, becomes visible."""

from __future__ import annotations

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
