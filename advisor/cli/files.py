"""Where a report goes: the screen or the file that the user named."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

from advisor.writing import write_whole

STANDARD_OUTPUT = Path("-")
_PIECE = 1 << 20  # letters of a text that are written at a time, up to the end of the line


def to_screen(output: Path | None) -> bool:
    """Whether no file is named, or `-`, which is standard output."""
    return output is None or output == STANDARD_OUTPUT


def put(text: str, output: Path | None, form: str = "text") -> None:
    """Write a report to the screen or to the file named. `form` says how strange letters are kept from harm."""
    from advisor.reports.clean import json_letters, references

    if output is not None and not to_screen(output):
        if form in ("json", "sarif"):
            text = json_letters(text, "utf-8")
        # A spreadsheet takes UTF-8 for what it is only with the mark.
        write_whole(output, "\ufeff" + text if form == "csv" else text)
        return
    if form in ("html", "svg"):
        text = references(text, _encoding())
    for piece in _pieces(text):
        sys.stdout.write(json_letters(piece, _encoding()) if form in ("json", "sarif") else piece)


def _pieces(text: str) -> Iterator[str]:
    """The text some lines at a time: each is made clean, and a report may have millions."""
    began = 0
    while began < len(text):
        end = text.find("\n", began + _PIECE) + 1 or len(text)
        yield text[began:end]
        began = end


def _encoding() -> str:
    return sys.stdout.encoding or "utf-8"
