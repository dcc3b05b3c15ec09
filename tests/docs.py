"""Fills the marked parts of README.md: files shown and commands run. `make docs` writes, a test compares."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

TOP = Path(__file__).parent.parent
_PART = re.compile(r"<!-- (file|run): (.*?) -->\n.*?<!-- end -->", re.DOTALL)


def filled(text: str) -> str:
    """The text with each marked part made anew."""
    return _PART.sub(_fill, text)


def _fill(match: re.Match[str]) -> str:
    kind, what = match.groups()
    if kind == "file":
        body = f"```yaml\n{(TOP / what).read_text(encoding='utf-8')}```"
    else:
        environment = dict(os.environ) | {"NO_COLOR": "1", "COLUMNS": "80"}
        words = [sys.executable, "-m", "advisor", *what.split()[1:]]
        run = subprocess.run(words, cwd=TOP, env=environment, capture_output=True, text=True, check=False)
        # The hash of the rules changes with every word of a rule.
        said = re.sub(r"\brules [0-9a-f]{12}\b", "rules 0123456789ab", run.stdout)
        body = f"```\n$ {what}\n{said}```"
    return f"<!-- {kind}: {what} -->\n{body}\n<!-- end -->"


if __name__ == "__main__":
    readme = TOP / "README.md"
    readme.write_text(filled(readme.read_text(encoding="utf-8")), encoding="utf-8")
