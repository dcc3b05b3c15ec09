"""The command `advisor review`."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer
from msgspec.structs import replace

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
