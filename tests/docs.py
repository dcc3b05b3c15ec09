"""Fills the marked parts of README.md, DEVELOPERS.md and docs/: files shown, commands run, tables made from the code.

`make docs` writes, a test compares.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

TOP = Path(__file__).parent.parent
sys.path.insert(0, str(TOP))

from advisor.rulebase.keys import tables  # noqa: E402

_MADE = {"keys of rules": tables}
DOCS = ("README.md", "DEVELOPERS.md", *sorted(f"docs/{path.name}" for path in (TOP / "docs").glob("*.md")))
_PART = re.compile(r"<!-- (file|run|made): (.*?) -->\n.*?<!-- end -->", re.DOTALL)
# How many practices wait for an answer, and how many are silent, changes with every rule that is added.
_WAITING = re.compile(r"Not judged yet:\s+\d+\s+practices?\s+that\s+waits?\s")
_SILENT = re.compile(r"\d+ not judged yet, \d+ silent")


def filled(text: str) -> str:
    """The text with each marked part made anew."""
    return _PART.sub(_fill, text)


def _fill(match: re.Match[str]) -> str:
    kind, what = match.groups()
    if kind == "made":
        body = f"\n{_MADE[what]()}\n"
    elif kind == "file":
        body = f"```yaml\n{(TOP / what).read_text(encoding='utf-8')}```"
    else:
        environment = dict(os.environ) | {"NO_COLOR": "1", "COLUMNS": "80"}
        words = [sys.executable, "-m", "advisor", *what.split()[1:]]
        run = subprocess.run(words, cwd=TOP, env=environment, capture_output=True, text=True, check=False)
        if run.returncode not in (0, 1):  # 1 is an answer too: mistakes are none that a document shows
            raise SystemExit(f"{what} ended with status {run.returncode}; no document was changed.\n{run.stderr}")
        # The hash of the rules changes with every word of a rule.
        said = re.sub(r"\brules [0-9a-f]{12}\b", "rules 0123456789ab", run.stdout)
        body = f"```\n$ {what}\n{said}```"
    return f"<!-- {kind}: {what} -->\n{body}\n<!-- end -->"


def without_counts(text: str) -> str:
    """The text without the numbers of open and silent practices, and the line break that comes with their digits."""
    return _SILENT.sub("others not judged yet or silent", _WAITING.sub("Not judged yet: those that wait ", text))


if __name__ == "__main__":
    made = {TOP / name: filled((TOP / name).read_text(encoding="utf-8")) for name in DOCS}
    for path, text in made.items():
        path.write_text(text, encoding="utf-8")
