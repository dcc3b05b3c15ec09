"""`advisor new`: a starting plan for usual jobs."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from advisor.jobs import Job


def new(
    jobs: Annotated[
        list[str] | None, typer.Argument(metavar="[JOB…]", help="Usual jobs, such as 'tile a backsplash'.")
    ] = None,
    listed: Annotated[bool, typer.Option("--list", help="Name the usual jobs.")] = False,
    output: Annotated[Path | None, typer.Option(help="Write to this file instead of the screen.")] = None,
) -> None:
    """Write a starting plan for one or several usual jobs, with the usual precautions as steps and holes to fill in.

    Examples: advisor new "paint cabinet doors" · advisor new faucet disposer --output plan.yaml
    """
    from advisor.cli.files import put, to_screen
    from advisor.errors import InputError, Problem
    from advisor.jobs import find_jobs, join, read_jobs, write_start
    from advisor.rulebase.base import load_rulebase

    known = read_jobs()
    if listed or not jobs:
        put(_list(known), output)
        return
    wanted = find_jobs(jobs, known)
    if output is not None and output.is_file():
        raise InputError([Problem(str(output), 0, 0, "is there already and may hold your plan. Name another file.")])
    put(write_start(join(wanted), load_rulebase().vocabulary), output)
    if not to_screen(output):
        typer.echo(f"Written: {output}. Fill in what you know, then: advisor review {output}")


def _list(known: tuple[Job, ...]) -> str:
    import textwrap

    lines = ["Usual jobs. 'advisor new JOB' writes a starting plan; several jobs make one plan.", ""]
    for job in known:
        lines.append(job.name)
        lines += textwrap.wrap(job.says, 80, initial_indent="    ", subsequent_indent="    ")
        if job.also:
            lines += textwrap.wrap(f"also: {', '.join(job.also)}", 80, initial_indent="    ", subsequent_indent="    ")
    return "\n".join(lines) + "\n"
