"""`advisor hazards` and `advisor checklist`: sheets for the wall and for a class."""

from __future__ import annotations

import sys
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from advisor.cli.asking import Own, PlanFile

if TYPE_CHECKING:
    from advisor.cli.many import Reviewed
    from advisor.review.model import Report


class HazardsFormat(StrEnum):
    """Forms of a job hazard analysis."""

    text = "text"
    html = "html"
    csv = "csv"
    json = "json"


class Page(StrEnum):
    """Forms of a checklist."""

    text = "text"
    html = "html"
    json = "json"


class ListForm(StrEnum):
    """Forms of a list of supplies."""

    text = "text"
    csv = "csv"
    json = "json"


class By(StrEnum):
    """What a checklist is grouped by."""

    step = "step"
    day = "day"
    trade = "trade"
    topic = "topic"


Output = Annotated[Path | None, typer.Option(help="Write to this file; - is the screen.")]


def hazards(
    plan: PlanFile,
    form: Annotated[HazardsFormat, typer.Option("--format", help="text, html, csv or json.")] = HazardsFormat.text,
    rules: Own = None,
    output: Output = None,
) -> None:
    """Print a job hazard analysis: task, hazard, controls, worst and likeliest first."""
    from advisor.cli.files import put
    from advisor.reports.hazards import as_hazards_csv, as_hazards_html, as_hazards_json, as_hazards_text

    renderers = {"text": as_hazards_text, "html": as_hazards_html, "csv": as_hazards_csv, "json": as_hazards_json}
    render = renderers[form.value]
    text = render(_report(plan, rules))
    put(text, output, form.value)


def checklist(
    plans: Annotated[
        list[Path] | None, typer.Argument(metavar="[PLAN…]", help="Plan files, folders of plans, or - for input.")
    ] = None,
    job: Annotated[
        list[str] | None, typer.Option("--job", metavar="NAME", help="A blank sheet for a usual job, without a plan.")
    ] = None,
    by: Annotated[By, typer.Option("--by", help="Group by step, day, trade or topic.")] = By.step,
    exercise: Annotated[bool, typer.Option("--exercise", help="The plan and blank lines: find the hazards.")] = False,
    answers: Annotated[bool, typer.Option("--answers", help="The key to the exercise, with sources.")] = False,
    form: Annotated[Page, typer.Option("--format", help="text, html or json.")] = Page.text,
    rules: Own = None,
    output: Output = None,
) -> None:
    """Print a checklist for a class: hold points to tick, an exercise, its key, or a blank sheet for a usual job.

    Of many plans one that cannot be read is told on the error output and stops no other; the status is then 2.
    """
    from advisor.cli.files import put
    from advisor.cli.many import Reviewed
    from advisor.cli.mistakes import tell
    from advisor.reports.checklist import JOB
    from advisor.reports.checklist_data import as_checklist_json
    from advisor.reports.checklist_text import as_checklist_html, as_checklist_text

    if exercise and answers:
        raise typer.BadParameter("take --exercise or --answers, not both.")
    if bool(plans) == bool(job):
        raise typer.BadParameter("name a plan, or a usual job with --job ('advisor new --list' names them); not both.")
    if job and (exercise or answers or by is not By.step):
        raise typer.BadParameter("a blank sheet goes by step; leave out --exercise, --answers and --by.")
    kind = JOB if job else "exercise" if exercise else "answers" if answers else "list"
    render = {"text": as_checklist_text, "html": as_checklist_html, "json": as_checklist_json}[form.value]
    done = Reviewed([_of_jobs(job, rules)]) if job else _reviewed(plans or [], rules)
    tell(done.problems)
    put(render(done.reports, by.value, kind), output, form.value)
    if done.problems:
        broken = len({problem.file for problem in done.problems})
        print(f"No sheet for {broken} plan{'s' * (broken != 1)}: see above.", file=sys.stderr)
        raise typer.Exit(2)


def supplies(
    plan: PlanFile,
    form: Annotated[ListForm, typer.Option("--format", help="text, csv or json.")] = ListForm.text,
    rules: Own = None,
    output: Output = None,
) -> None:
    """List what to buy, rent or borrow, in amounts, by the shelves of a shop."""
    from advisor.cli.files import put
    from advisor.reports.supplies import as_supplies_csv, as_supplies_json, as_supplies_text

    render = {"text": as_supplies_text, "csv": as_supplies_csv, "json": as_supplies_json}[form.value]
    put(render(_report(plan, rules)), output, form.value)


def _report(plan: Path, rules: list[Path] | None) -> Report:
    """The report of one plan; InputError for a folder, of which the first plan must not pass for all."""
    from advisor.errors import InputError, Problem

    if plan.is_dir():
        raise InputError([Problem(str(plan), 0, 0, "is a folder. Expected a YAML file.")])
    return _reviewed([plan], rules).reports[0]


def _of_jobs(names: list[str], rules: list[Path] | None) -> Report:
    """The report of the starting plan of usual jobs: what nobody has filled in yet is unknown in it."""
    from advisor.jobs import find_jobs, join, read_jobs, write_start
    from advisor.plan.reading import read_plan
    from advisor.review.reviewing import review_plan
    from advisor.rulebase.base import load_rulebase

    rulebase = load_rulebase(rules or [])
    start = join(find_jobs(names, read_jobs()))
    return review_plan(read_plan(write_start(start, rulebase.vocabulary), rulebase.vocabulary, start.title), rulebase)


def _reviewed(plans: list[Path], rules: list[Path] | None) -> Reviewed:
    """The reports of the plans, and what is wrong with the others; InputError where none at all can be read."""
    from advisor.cli.many import find_plans, review_many
    from advisor.errors import InputError

    done = review_many(find_plans(plans), rules or [])
    if done.problems and not done.reports:
        raise InputError(done.problems)
    return done
