"""Makes `tests/` importable, so that tests may share helpers; prints what a test took only a sample of."""

import sys
from pathlib import Path
from typing import Any

sys.path.insert(0, str(Path(__file__).parent))


def pytest_terminal_summary(terminalreporter: Any) -> None:
    """A share that a test recorded as `looked at` is printed, also where other processes ran it."""
    for outcome in ("passed", "failed"):
        for report in terminalreporter.stats.get(outcome, []):
            for name, value in getattr(report, "user_properties", ()):
                if name == "looked at":
                    terminalreporter.write_line(f"Looked at {value}")
