"""Writes the golden files anew: `python tests/reports/golden.py`. Read the difference before you keep it."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from reports.support import FORMATS, HERE, small_report

ENDINGS = {"text": "txt", "json": "json", "html": "html", "markdown": "md", "sarif": "sarif", "csv": "csv"}


def golden(form: str) -> Path:
    """The golden file of a format."""
    return HERE / "golden" / f"small.{ENDINGS[form]}"


if __name__ == "__main__":
    for form, render in FORMATS.items():
        golden(form).write_bytes(render(small_report()).encode("utf-8"))
