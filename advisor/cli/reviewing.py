"""`advisor review`: plans in, reports out."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct

from advisor.cli.each import is_folder, write_each
from advisor.cli.files import STANDARD_OUTPUT, put, to_screen
from advisor.cli.many import Reviewed, apply_files, find_plans, review_many
from advisor.cli.outlet import show
from advisor.errors import InputError, Problem, clip, did_you_mean
from advisor.plan.tree import STANDARD_INPUT
from advisor.review.picked import picked
from advisor.rulebase.model import SIGNALS

if TYPE_CHECKING:
    from advisor.reports.text import Shape
    from advisor.review.model import Report

_MOST_STEPS = 60  # that a mistake names
_WIDTH = 80  # where nobody says how wide, as into a file


class Told(Struct, frozen=True):
    """What of a report is told, and how wide."""

    brief: bool = False
    every: bool = False
    working: bool = False
    step: str = ""
    only: str = ""
    units: str = ""
    width: int | None = None
    lines: int | None = None


class Wanted(Struct, frozen=True):
    """What the user asked for on the command line."""

    form: str = "text"
    rules: tuple[Path, ...] = ()
    fail_on: str | None = None
    fail_on_open: str | None = None
    output: str | None = None
    waivers: Path | None = None
    today: str | None = None
    jobs: int = 1
    cluster: str | None = None
    matcher: str | None = None
    told: Told = Told()


def review_files(plans: list[Path], wanted: Wanted) -> int:
    """Review each plan, print or write the reports, and return the exit status."""
    from advisor.cli.mistakes import complain, tell
    from advisor.reports.totals import is_plan

    _fits(wanted)
    paths = find_plans(plans)
    alone = len(paths) == 1 and not plans[0].is_dir()
    # of one plan a folder that is there may be a slip; with a stroke behind its name it is meant
    each = is_folder(wanted.output) and (not alone or str(wanted.output).endswith(("/", os.sep)))
    if not alone:
        _of_one(wanted.told)
    if wanted.cluster is not None and STANDARD_INPUT in paths:
        raise InputError([Problem("-", 0, 0, "is standard input, which a cluster cannot read. Expected a file.")])
    done = review_many(paths, wanted.rules, wanted.jobs, wanted.cluster, wanted.matcher, wanted.told.units)
    if done.problems and alone:
        return complain(InputError(done.problems))
    apply_files(done, paths, wanted.waivers, day(wanted.today))
    if wanted.today is not None:
        for report in done.reports:
            report.dated = day(wanted.today).isoformat()
    output = Path(wanted.output) if wanted.output is not None else None
    if each and output is not None:
        write_each(
            output,
            wanted.form,
            filter(is_plan, done.reports),
            plans,
            lambda report: _render(Reviewed([report]), wanted, True),
            lambda files: _render(done, wanted, False, files),
        )
    elif wanted.form == "text" and to_screen(output):
        show(_render(done, wanted, alone))
    else:
        put(_render(done, wanted, alone), output, wanted.form)
    tell(done.problems)
    if done.problems:
        return 2
    limit, open_limit = _limit(wanted.fail_on), _limit(wanted.fail_on_open)
    return int(any(report.worst() >= limit or report.worst_open() >= open_limit for report in done.reports))


def _fits(wanted: Wanted) -> None:
    """Refuse what shapes the text for another format: a part of the findings must not pass for all of them."""
    told = wanted.told
    of_text = {"--step": told.step, "--working": told.working, "--width": told.width}
    of_text |= {"--lines": told.lines}
    of_pages = {"--brief": told.brief, "--all": told.every}
    for name, given in (of_text | of_pages).items():
        forms = ("text", "html") if name in of_pages else ("text",)
        if given and wanted.form not in forms:
            message = f"shapes {' and '.join(forms)} alone. Expected no {name} with --format {wanted.form}."
            raise InputError([Problem(name, 0, 0, message)])


def _of_one(told: Told) -> None:
    """Refuse for many plans what picks a step of one: a line a plan must not pass for the part asked for."""
    if told.step:
        message = "picks findings of one plan. Expected one plan file with --step, no folder and no second plan."
        message += " For many plans --format csv names the step of each finding."
        raise InputError([Problem("--step", 0, 0, message)])


def _shape(report: Report, told: Told) -> Shape:
    """How the text is told; InputError for a step that the plan does not have."""
    from advisor.reports.text import Shape

    step = _step_meant(report, told.step) if told.step else ""
    return Shape(_width(told), told.lines or 0, told.brief, told.every, told.working, step, told.only)


def _step_meant(report: Report, asked: str) -> str:
    """The step of that id, or of that place in the order of work; InputError where there is none."""
    steps = [step.id for step in report.plan.steps]
    if asked in steps:
        return asked
    for row in report.order:
        if str(row.place) == asked.strip().rstrip("."):
            return row.step
    named = ", ".join(f"{row.place} {row.step}" for row in report.order[:_MOST_STEPS])
    more = f" and {len(report.order) - _MOST_STEPS} more" if len(report.order) > _MOST_STEPS else ""
    such = f"{did_you_mean(asked, steps)} Steps are, by number and by name: {named}{more}."
    raise InputError([Problem(report.plan.file, 0, 0, f"has no step '{clip(asked)}'.{such}")])


def _width(told: Told) -> int:
    """The width asked for, else the terminal's, else that of paper."""
    return max(told.width or (_terminal() if sys.stdout.isatty() else _WIDTH), 40)


def _terminal() -> int:
    from shutil import get_terminal_size  # it brings readers of archives along

    return get_terminal_size().columns


def first_screen(report: Report) -> None:
    """Print the first screen of a review alone."""
    from advisor.reports.text import as_text

    show(as_text(report, colour=True, shape=_shape(report, Told(brief=True))))


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


def _render(done: Reviewed, wanted: Wanted, alone: bool, files: Mapping[str, str] | None = None) -> str:
    """The text; with `files` each report stands in its own, and this one names them."""
    if wanted.form == "html":
        from advisor.reports.html import as_brief_html, as_html

        if wanted.told.brief and alone:
            return as_brief_html(done.reports[0])
        return as_html(done.reports, done.problems, every=wanted.told.every, only=wanted.told.only, files=files)
    if wanted.form == "markdown":
        from advisor.reports.markdown import as_markdown

        return as_markdown(done.reports, done.problems, only=wanted.told.only, files=files)
    if wanted.told.only and not (alone and wanted.form == "text"):  # a text of one plan keeps its first screen whole
        done = Reviewed([picked(report, wanted.told.only) for report in done.reports], done.problems)
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
    from advisor.reports.text import as_text
    from advisor.reports.totals import many_as_text

    if alone:
        report = done.reports[0]
        screen = wanted.output in (None, str(STANDARD_OUTPUT))
        return as_text(report, colour=screen, shape=_shape(report, wanted.told))
    return many_as_text(done.reports, done.problems, _width(wanted.told))
