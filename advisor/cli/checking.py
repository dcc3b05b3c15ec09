"""`advisor check`: reads plans and looks at their form only; no rule is asked."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer


def check(
    plans: Annotated[list[Path], typer.Argument(metavar="PLAN…", help="Plan files, folders of plans, or - for input.")],
    rules: Annotated[
        list[Path] | None, typer.Option("--rules", metavar="DIR", help="A folder of rule packs of your own.")
    ] = None,
) -> None:
    """Read plans and say what is wrong with their form: names, units, spelling. The work itself is not reviewed."""
    raise typer.Exit(check_files(plans, rules or []))


def check_files(plans: list[Path], rules: list[Path]) -> int:
    """Every mistake of every plan on standard error, as `review` words it; 2 where there is one, else 0."""
    from advisor.cli.many import find_plans
    from advisor.errors import InputError
    from advisor.plan import read_plan
    from advisor.rulebase.base import load_rulebase

    paths = find_plans(plans)
    vocabulary = load_rulebase(rules).vocabulary
    mistakes = broken = 0
    for path in paths:
        try:
            read_plan(path, vocabulary)
        except InputError as error:
            for problem in error.problems:
                print(problem, file=sys.stderr)
            mistakes += len(error.problems)
            broken += 1
    read = len(paths) - broken
    if mistakes:
        print(f"{_count(mistakes, 'mistake')} in {_count(broken, 'plan')}; nothing was reviewed.", file=sys.stderr)
    if read:
        print(f"{_count(read, 'plan')} can be read. Nothing was reviewed: 'advisor review' looks at the work.")
    return 2 if mistakes else 0


def _count(number: int, what: str) -> str:
    return f"{number} {what}{'s' * (number != 1)}"
