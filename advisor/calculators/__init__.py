"""The trade's arithmetic: pure functions in base units, one topic a file, each with its working.

Importing `advisor.calculators` imports no topic; `find(name)` imports the topic that has it.
"""

from __future__ import annotations

from functools import cache
from importlib import import_module
from pathlib import Path

from advisor.calculators._base import REGISTER, Calculator, OutOfRange, Part, Result

__all__ = ["Calculator", "OutOfRange", "Part", "Result", "find", "load_all"]


def load_all() -> dict[str, Calculator]:
    """Every calculator by name, all topics imported."""
    for path in sorted(Path(__file__).parent.glob("[a-z]*.py")):
        import_module(f"{__name__}.{path.stem}")
    return dict(sorted(REGISTER.items()))


def find(name: str) -> Calculator:
    """The calculator of that name; KeyError where there is none."""
    if name not in REGISTER:
        for topic, text in _texts().items():
            if name.encode() in text:
                import_module(f"{__name__}.{topic}")
                if name in REGISTER:
                    break
        else:
            load_all()
    return REGISTER[name]


@cache
def _texts() -> dict[str, bytes]:
    """The topics as they are written: reading them takes less time than running them all."""
    return {path.stem: path.read_bytes() for path in sorted(Path(__file__).parent.glob("[a-z]*.py"))}
