"""`advisor review`: plans in, reports out."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from advisor.cli.files import put, to_screen
from advisor.cli.many import Reviewed, apply_files, find_plans, review_many
from advisor.cli.outlet import show
from advisor.errors import InputError, Problem
from advisor.plan.tree import STANDARD_INPUT
from advisor.rulebase.model import SIGNALS


@dataclass(frozen=True, slots=True)
class Wanted:
    """What the user asked for on the command line."""

    form: str = "text"
    rules: tuple[Path, ...] = ()
    fail_on: str | None = None
    fail_on_open: str | None = None
    output: Path | None = None
    working: bool = False
    waivers: Path | None = None
    today: str | None = None
    jobs: int = 1
    cluster: str | None = None
    matcher: str | None = None


def review_files(plans: list[Path], wanted: Wanted) -> int:
    """Review each plan, print or write the reports, and return the exit status."""
    from advisor.cli.app import complain, tell

    paths = find_plans(plans)
    alone = len(paths) == 1 and not plans[0].is_dir()
    if wanted.cluster is not None and STANDARD_INPUT in paths:
        raise InputError([Problem("-", 0, 0, "is standard input, which a cluster cannot read. Expected a file.")])
    done = review_many(paths, wanted.rules, wanted.jobs, wanted.cluster, wanted.matcher)
    if done.problems and alone:
        return complain(InputError(done.problems))
    apply_files(done, paths, wanted.waivers, day(wanted.today))
    text = _render(done, wanted, alone)
    if wanted.form == "text" and to_screen(wanted.output):
        show(text)
    else:
        put(text, wanted.output, wanted.form)
    tell(done.problems)
    if done.problems:
        return 2
    limit, open_limit = _limit(wanted.fail_on), _limit(wanted.fail_on_open)
    return int(any(report.worst() >= limit or report.worst_open() >= open_limit for report in done.reports))


def _limit(word: str | None) -> int:
    return SIGNALS.index(word) if word else len(SIGNALS)


def day(text: str | None) -> date:
    """The day given, or today: the only place where a review looks at the clock."""
    if text is None:
        return date.today()
    try:
        return date.fromisoformat(text)
    except ValueError as error:
        message = "is no day. Expected one such as 2030-01-31."
        raise InputError([Problem(f"--today {text[:40]}", 0, 0, message)]) from error


def _render(done: Reviewed, wanted: Wanted, alone: bool) -> str:
    if wanted.form == "html":
        from advisor.reports.html import as_html

        return as_html(done.reports, done.problems)
    if wanted.form == "markdown":
        from advisor.reports.markdown import as_markdown

        return as_markdown(done.reports, done.problems)
    if wanted.form == "sarif":
        from advisor.reports.sarif import as_sarif

        return as_sarif(done.reports, done.problems)
    if wanted.form == "csv":
        from advisor.reports.table_csv import as_csv

        return as_csv(done.reports, done.problems)
    if wanted.form == "json":
        return _json(done, alone)
    return _text(done, wanted, alone)


def _json(done: Reviewed, alone: bool) -> str:
    from advisor.reports.data import as_json
    from advisor.reports.totals import many_as_json

    return as_json(done.reports[0]) if alone else many_as_json(done.reports, done.problems)


def _text(done: Reviewed, wanted: Wanted, alone: bool) -> str:
    from advisor.reports.text import Shape, as_text
    from advisor.reports.totals import many_as_text

    if alone:
        return as_text(done.reports[0], colour=to_screen(wanted.output), shape=Shape(working=wanted.working))
    return many_as_text(done.reports, done.problems)
