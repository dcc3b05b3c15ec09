"""All that a report says, in every format that people or programs read, as plain text: no mark-up, no line ends."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from typing import Any

from advisor.plan.reading import read_plan
from advisor.reports.data import as_data
from advisor.reports.html import as_html
from advisor.reports.markdown import as_markdown
from advisor.reports.place import place_rows
from advisor.reports.text import Shape, as_text
from advisor.review.model import Report
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import load_rulebase

FORMATS = ("text", "json", "markdown", "html")
FOREIGN = "(from another country, for what it found; it binds nobody where the house stands)"


@lru_cache(maxsize=64)
def report_of(plan: Path) -> Report:
    """The review of a plan file."""
    rulebase = load_rulebase()
    return review_plan(read_plan(plan, rulebase.vocabulary), rulebase)


@lru_cache(maxsize=256)
def told(plan: Path, form: str) -> str:
    """All text of one format; of JSON its sentences, a line each."""
    report = report_of(plan)
    if form == "json":
        return "\n".join(text for text in strings(as_data(report)) if " " in text)
    if form == "markdown":
        return _flat(re.sub(r"\\([\\`*_\[\]<>&|~$#])", r"\1", as_markdown([report])).replace("&#8203;", ""))
    if form == "html":
        page = re.sub(r"<style.*?</style>", "", as_html([report], every=True), flags=re.DOTALL)
        return _flat(html.unescape(re.sub(r"<[^>]+>", " ", page)))
    return _flat(as_text(report, shape=Shape(every=True)))


def without_books(plan: Path, form: str, every: bool = False) -> str:
    """The same without the citations that are marked as foreign; with `every` without any citation."""
    report, text = report_of(plan), told(plan, form)
    cited = {s.citation for f in [*report.findings, *report.latent] for s in f.sources}
    cited |= {source for _, _, source in place_rows(report)} if every else set()
    for cite in sorted(cited, key=len, reverse=True):
        if every or FOREIGN in cite:
            text = text.replace(_flat(cite), "")
    return text


def strings(data: Any) -> Iterator[str]:
    """Every string of some data, one after the other."""
    if isinstance(data, str):
        yield data
    elif isinstance(data, dict):
        for value in data.values():
            yield from strings(value)
    elif isinstance(data, list):
        for value in data:
            yield from strings(value)


def _flat(text: str) -> str:
    return re.sub(r"\s+", " ", text)
