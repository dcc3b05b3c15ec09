"""The one place where text leaves for the terminal: made clean, made readable there, and never lost unsaid.

Plans, packs, file names and arguments are strangers' text. Whatever of it is printed passes an `Outlet`, so that no
command has to think of escape sequences, of letters that the terminal lacks, or of a disk that is full.
"""

from __future__ import annotations

import codecs
import errno
import io
import os
import re
import sys
import unicodedata
from typing import IO, Any

from advisor.reports.clean import legible_lines

READABLE = "advisor-readable"  # the name of the way in which letters that are lacking are written
_STYLE = re.compile(r"(\x1b\[[\d;]*m)")
_PLAIN = {
    "…": "...", "–": "-", "—": "-", "−": "-", "‐": "-", "‑": "-", "‘": "'", "’": "'", "′": "'", "“": '"', "”": '"',
    "″": '"', "•": "*", "·": "*", "×": "x", "÷": "/", "≤": "<=", "≥": ">=", "≠": "!=", "≈": "~", "±": "+/-",
    "°": "deg ", "µ": "u", "μ": "u", "Ω": "ohm", "§": "section ", "→": "->", "←": "<-", "☐": "[ ]", "☑": "[x]",
    "✓": "x", "€": "EUR", "£": "GBP", "¢": "c", "ß": "ss", "ẞ": "SS", "æ": "ae", "Æ": "AE", "ø": "o", "Ø": "O",
    "œ": "oe", "Œ": "OE", "đ": "d", "ł": "l", "Ł": "L", "²": "^2", "³": "^3", "\u2044": "/", "\u200b": "",
    "\u200c": "", "\u200d": "",
}  # fmt: skip


class Unwritten(Exception):
    """The output could not be written; the message says why. No OSError, which typer would take for its own."""


class _Nowhere(io.RawIOBase):
    """Stands for an output that was closed before the program began."""

    def writable(self) -> bool:
        """Yes; what is written then fails, as it would on any closed file."""
        return True

    _told = False

    def write(self, data: Any, /) -> int:
        """Refuse once; what is held back is then dropped, or the interpreter would complain as it ends."""
        if self._told:
            return len(data)
        self._told = True
        raise OSError(errno.EBADF, os.strerror(errno.EBADF))


class Outlet(io.TextIOWrapper):
    """Standard output or standard error as the commands see it.

    Control and direction characters become visible; letters that the encoding lacks are written as near as can be.
    Where the reader went away the rest is dropped without a word, and the command still ends with its own status.
    """

    def __init__(self, stream: IO[str] | None, vital: bool) -> None:
        raw: Any = io.BufferedWriter(_Nowhere()) if stream is None else stream.buffer  # type: ignore[attr-defined]
        lines = stream is None or bool(getattr(stream, "line_buffering", False))
        encoding = (getattr(stream, "encoding", None) or "utf-8") if stream is not None else "utf-8"
        super().__init__(raw, encoding=encoding, errors=READABLE, line_buffering=lines)
        self._vital = vital
        self.rich_proxied_file = _Styled(self)  # where rich writes: https://rich.readthedocs.io, `FileProxy`

    def write(self, text: str, /) -> int:
        """Write the text cleaned; Unwritten where it cannot be."""
        return self.pass_on(legible_lines(text))

    def flush(self) -> None:
        """Send what is held back; Unwritten where that fails."""
        try:
            super().flush()
        except OSError as error:
            self._failed(error)

    def pass_on(self, text: str) -> int:
        """Write what is clean already."""
        try:
            return super().write(text)
        except OSError as error:
            self._failed(error)
            return len(text)

    def _failed(self, error: OSError) -> None:
        # What is still held back would fail again as the interpreter ends, with words of its own.
        try:
            nowhere = os.open(os.devnull, os.O_WRONLY)
            os.dup2(nowhere, self.fileno())
            os.close(nowhere)
        except (OSError, ValueError):
            pass
        if self._vital and error.errno != errno.EPIPE:
            raise Unwritten(f"The output cannot be written: {(error.strerror or 'it failed').lower()}.") from error


class _Styled:
    """The same for text with the program's own colours: lets these pass and nothing else.

    Strangers' words in such text are cleaned where they are put in.
    """

    def __init__(self, outlet: Outlet) -> None:
        self._outlet = outlet

    def write(self, text: str) -> int:
        """Write the text with its colours."""
        parts = _STYLE.split(text)  # every second one is a colour
        parts[::2] = map(legible_lines, parts[::2])
        return self._outlet.pass_on("".join(parts))

    def __getattr__(self, name: str) -> Any:
        return getattr(self._outlet, name)


def install() -> None:
    """Put the outlets in the place of the interpreter's own streams."""
    codecs.register_error(READABLE, _readable)
    if not isinstance(sys.stdout, Outlet):
        sys.stdout = Outlet(sys.stdout, vital=True)
    if not isinstance(sys.stderr, Outlet):
        sys.stderr = Outlet(sys.stderr, vital=False)  # nobody is left to be told that it is lost


def show(text: str) -> None:
    """Print text that carries colours of ours; its strange words are clean."""
    getattr(sys.stdout, "rich_proxied_file", sys.stdout).write(text)


def bold(text: str) -> str:
    """A heading, bold where a terminal shows it."""
    if not sys.stdout.isatty() or os.environ.get("NO_COLOR"):
        return text
    return f"\x1b[1m{text}\x1b[0m"


def _readable(error: UnicodeError) -> tuple[str, int]:
    """For `codecs`: the letters that cannot be encoded, in ASCII."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    made: list[str] = []
    for at in range(error.start, error.end):
        before = made[-1][-1:] if made else error.object[at - 1 : at]
        made.append(_in_ascii(error.object[at], before or " "))
    return "".join(made), error.end


def _in_ascii(char: str, before: str) -> str:
    if char in _PLAIN:
        return _PLAIN[char]
    if char.isspace():
        return " "
    if "─" <= char <= "╿":  # lines of boxes
        return "-" if char in "─━┄┅┈┉╌╍═" else "|" if char in "│┃┆┇┊┋╎╏║" else "+"
    parts = unicodedata.normalize("NFKD", char)
    text = "".join(_PLAIN.get(c, c) for c in parts if not unicodedata.combining(c))
    if not text.isascii() or not text.isprintable():
        return "?"
    # '1½' must not be read as eleven halves.
    return f"-{text}" if "\u2044" in parts and before.isdigit() else text
