"""Reads a renovation plan before the work and says what to do first.

`review(plan, rules=None)` gives a `Report`; nothing is printed, no state is kept, threads and processes may
call it at once. Importing the package imports neither the rules nor the engine.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from advisor.errors import InputError, Problem
    from advisor.review.finding import Finding
    from advisor.review.model import Report
    from advisor.review.reviewing import review

__all__ = ["Finding", "InputError", "Problem", "Report", "review"]

_HOMES = {
    "review": "advisor.review.reviewing",
    "Report": "advisor.review.model",
    "Finding": "advisor.review.model",
    "InputError": "advisor.errors",
    "Problem": "advisor.errors",
}


def __getattr__(name: str) -> Any:
    """Import what is asked for when it is asked for."""
    if name not in _HOMES:
        raise AttributeError(name)
    from importlib import import_module

    return getattr(import_module(_HOMES[name]), name)
