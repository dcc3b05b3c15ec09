"""Templates of the page, beside those of the reports, whose cards they use."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import Any

from jinja2.sandbox import ImmutableSandboxedEnvironment

from advisor.reports.html import environment


def render(template: str, **values: Any) -> str:
    """A template filled; every string is made legible and escaped."""
    return _environment().get_template(template).render(**values)


@lru_cache(maxsize=1)
def _environment() -> ImmutableSandboxedEnvironment:
    return environment(Path(__file__).parent / "templates")
