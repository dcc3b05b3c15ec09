"""From conclusions to a report: findings, order of work, questions, what was not checked.

The package is also the call `advisor.review(plan, rules=None)`: Python sets `advisor.review` to this module
as soon as anything imports from it, so the module itself has to answer.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from types import ModuleType
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from advisor.review.model import Report


class _Room(ModuleType):
    def __call__(
        self,
        plan: str | Path | Mapping[str, Any],
        rules: Path | str | Sequence[Path | str] | None = None,
        **options: Any,
    ) -> Report:
        """Review a plan: see `advisor.review.reviewing.review`."""
        from advisor.review.reviewing import review

        return review(plan, rules, **options)


sys.modules[__name__].__class__ = _Room
