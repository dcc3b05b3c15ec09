"""Mistakes of an input, told on standard error."""

from __future__ import annotations

import sys
from collections.abc import Sequence

MOST_MISTAKES = 50  # told one by one; nobody reads the thousandth


def tell(problems: Sequence[object]) -> None:
    """Print mistakes, the first of them where there are very many."""
    for problem in problems[:MOST_MISTAKES]:
        print(problem, file=sys.stderr)
    if len(problems) > MOST_MISTAKES:
        print(f"and {len(problems) - MOST_MISTAKES:,} more.", file=sys.stderr)


def complain(error: Exception) -> int:
    """Print every mistake of an input and return the exit status for it."""
    from advisor.errors import InputError

    if isinstance(error, InputError):
        tell(error.problems)
        count = len(error.problems)
        print(f"{count:,} mistake{'s' * (count != 1)}; nothing was reviewed.", file=sys.stderr)
    return 2
