"""The commands. They parse, call and print; nothing else."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer
from msgspec.structs import replace

from advisor.cli.asking import questions, why, why_not
from advisor.cli.calc import app as calc_app
from advisor.cli.checking import check
from advisor.cli.drafting import draft
from advisor.cli.examples import explain
from advisor.cli.interview import interview
from advisor.cli.new import new
from advisor.cli.order import order
from advisor.cli.revising import compare_plans, revise
from advisor.cli.rules import app as rules_app
from advisor.cli.schema import schema
from advisor.cli.serve import serve
from advisor.cli.sheets import checklist, hazards, supplies
from advisor.cli.states import states
from advisor.cli.vocabulary import vocabulary_command

app = typer.Typer(
    name="advisor",
    no_args_is_help=True,
    context_settings={"help_option_names": ["-h", "--help"]},
    pretty_exceptions_enable=False,
    help="Reads a renovation plan before the work: what will go wrong, what must be true first, in which order.",
)

Rules = Annotated[list[Path] | None, typer.Option("--rules", metavar="DIR", help="A folder of rule packs of your own.")]


class Signal(StrEnum):
    """Signal words for `--fail-on`."""

    notice = "notice"
    caution = "caution"
    warning = "warning"
    danger = "danger"


class Units(StrEnum):
    """Systems of units."""

    us = "us"
    metric = "metric"


class Matcher(StrEnum):
    """Names of matchers; the engine's own list is checked against these in the tests."""

    indexed = "indexed"
    stock = "stock"


class Format(StrEnum):
    """Forms of a review."""

    text = "text"
    json = "json"
    html = "html"
    markdown = "markdown"
    sarif = "sarif"
    csv = "csv"


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


def _say_version(wanted: bool) -> None:
    """Print which program this is, and which rules it has."""
    if wanted:
        from advisor.rulebase.base import load_rulebase
        from advisor.version import VERSION

        print(f"prework-advisor {VERSION}, rules {load_rulebase().digest}")
        raise typer.Exit


@app.callback()
def program(
    version: Annotated[
        bool, typer.Option("--version", is_eager=True, callback=_say_version, help="Say which program and rules.")
    ] = False,
) -> None:
    """Options of the program as a whole."""


@app.command()
def review(
    plans: Annotated[list[Path], typer.Argument(metavar="PLAN…", help="Plan files, folders of plans, or - for input.")],
    form: Annotated[
        Format,
        typer.Option(
            "--format", help="text, json, html, markdown, sarif or csv (there, rows of one group count as one finding)."
        ),
    ] = Format.text,
    rules: Rules = None,
    fail_on: Annotated[
        Signal | None,
        typer.Option(help="Exit with status 1 on a finding of this signal word or a graver one."),
    ] = None,
    fail_on_open: Annotated[
        Signal | None,
        typer.Option(help="Exit with status 1 where a practice of this signal word or a graver one is open."),
    ] = None,
    brief: Annotated[
        bool, typer.Option("--brief", help="The first screen alone: text, or html for one sheet.")
    ] = False,
    every: Annotated[bool, typer.Option("--all", help="Everything: sources and controls beside each finding.")] = False,
    step: Annotated[
        str | None,
        typer.Option("--step", metavar="STEP", help="One step alone, by name or number: its time and amounts."),
    ] = None,
    only: Annotated[
        Signal | None,
        typer.Option(
            "--only", help="Findings of this signal word and graver alone, in any format; how many others there are."
        ),
    ] = None,
    units: Annotated[Units | None, typer.Option("--units", help="us or metric, whatever the plan says.")] = None,
    width: Annotated[
        int | None, typer.Option(min=40, max=400, help="Columns of the text; the terminal's by default, else 80.")
    ] = None,
    lines: Annotated[int | None, typer.Option(min=8, help="At most so many lines of text.")] = None,
    working: Annotated[bool, typer.Option("--working", help="Show how each number was worked out.")] = False,
    output: Annotated[
        str | None,
        typer.Option(metavar="PATH", help="Write to this file; a folder (name/) gets a file a plan; - is the screen."),
    ] = None,
    waivers: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Accepted findings; waivers.yaml beside the plan by default.")
    ] = None,
    today: Annotated[
        str | None,
        typer.Option(metavar="DATE", help="The day of the review: stands on each page; waivers are judged by it."),
    ] = None,
    jobs: Annotated[int, typer.Option(min=1, max=64, help="How many plans to review at once.")] = 1,
    cluster: Annotated[
        str | None, typer.Option(metavar="ADDRESS", help="Review on a Dask cluster: its scheduler's address.")
    ] = None,
    matcher: Annotated[Matcher | None, typer.Option(help="How rules are matched; stock is the reference.")] = None,
) -> None:
    """Review plans before the work. Several plans come out with one line each and their totals."""
    from advisor.cli.reviewing import Told, Wanted, review_files

    limit, open_limit = (word.value if word else None for word in (fail_on, fail_on_open))
    wanted = Wanted(form.value, tuple(rules or ()), limit, open_limit, output, waivers, today, jobs, cluster)
    told = Told(
        brief, every, working, step or "", only.value if only else "", units.value if units else "", width, lines
    )
    wanted = replace(wanted, told=told)
    if matcher is not None:
        wanted = replace(wanted, matcher=matcher.value)
    raise typer.Exit(review_files(plans, wanted))


# `advisor --help` lists them in this order: review, the way from a finding to a better plan, sheets, reference.
app.add_typer(rules_app, name="rules")
app.add_typer(calc_app, name="calc")
app.command("interview")(interview)
app.command("draft")(draft)
app.command("new")(new)
app.command("check")(check)
app.command("questions")(questions)
app.command("why")(why)
app.command("why-not")(why_not)
app.command("order")(order)
app.command("states")(states)
app.command("revise")(revise)
app.command("compare")(compare_plans)
app.command("hazards")(hazards)
app.command("checklist")(checklist)
app.command("supplies")(supplies)
app.command("schema")(schema)
app.command("serve")(serve)
app.command("vocabulary", help="What a plan may say: sorts, attributes and words.")(vocabulary_command)
explain(app)
