"""`advisor draft`: plain sentences in, a plan out, its doubts in the open."""

from __future__ import annotations

import sys
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from advisor.draft.draft import Draft


class DraftFormat(StrEnum):
    """How a draft is printed."""

    yaml = "yaml"
    json = "json"


def draft(
    file: Annotated[Path, typer.Argument(metavar="[FILE]", help="A text in plain words; - is standard input.")] = Path(
        "-"
    ),
    into: Annotated[Path | None, typer.Option(metavar="PLAN", help="Add what is said to this plan.")] = None,
    form: Annotated[DraftFormat, typer.Option("--format", help="yaml or json.")] = DraftFormat.yaml,
    write: Annotated[
        bool, typer.Option("--write", "--yes", help="With --into: write the plan; the old text stays in PLAN.bak.")
    ] = False,
    output: Annotated[Path | None, typer.Option(help="Write to this file; - is the screen.")] = None,
    rules: Annotated[
        list[Path] | None, typer.Option("--rules", metavar="DIR", help="A folder of rule packs of your own.")
    ] = None,
) -> None:
    """Make a plan of plain sentences. What was unsure or not understood stands beside it, and nothing is made up."""
    from advisor.draft.draft import draft as hear
    from advisor.draft.tokens import checked
    from advisor.rulebase.base import load_rulebase

    if write and into is None:
        print("--write goes with --into: it writes what is added into that plan.", file=sys.stderr)
        raise typer.Exit(2)
    text = checked(_bytes(file), "<stdin>" if str(file) == "-" else str(file))
    rulebase = load_rulebase(rules or [])
    if into is not None:
        _add(into, text, rules or [], write)
        return
    heard = hear(text, rulebase)
    if not heard.plan.get("steps"):
        _doubts(heard)
        print("no work was heard. Say what is done to what, as in 'we sand the kitchen doors'.", file=sys.stderr)
        raise typer.Exit(2)
    _print(heard, form.value, output)


def _print(heard: Draft, form: str, output: Path | None) -> None:
    from advisor.cli.files import put
    from advisor.draft.writing import as_json, as_yaml

    if form == "json":
        put(as_json(heard), output, "json")
        return
    put(as_yaml(heard), output)
    _doubts(heard)


def _doubts(heard: Draft) -> None:
    from advisor.draft.writing import doubts

    for line in doubts(heard):
        print(line, file=sys.stderr)


def _bytes(file: Path) -> bytes:
    """The bytes of the text, one more than may be at most."""
    from advisor.draft.tokens import MAX_BYTES
    from advisor.errors import InputError, Problem

    if str(file) == "-":
        try:
            return sys.stdin.buffer.read(MAX_BYTES + 1)
        except (OSError, ValueError, AttributeError) as error:
            raise InputError([Problem("<stdin>", 0, 0, "cannot be read.")]) from error
    try:
        if file.is_dir():
            raise InputError([Problem(str(file), 0, 0, "is a folder. Expected a text in plain words.")])
        with file.open("rb") as opened:
            return opened.read(MAX_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = (getattr(error, "strerror", None) or "cannot be read").lower()
        raise InputError([Problem(str(file), 0, 0, f"cannot be opened: {reason}.")]) from error


def _add(plan: Path, text: str, rules: list[Path], write: bool) -> None:
    """Show what the words change in a plan, and write it where that was asked for."""
    from advisor.cli.revising import Written, difference, write_plan
    from advisor.draft.adding import add
    from advisor.rulebase.base import load_rulebase

    before = Written.read(plan)
    after, heard = add(before.text, str(plan), text, load_rulebase(rules))
    difference(before.text, after, plan)
    _doubts(heard)
    if write and after != before.text:
        write_plan(plan, before, after)
        print(f"\nWritten to {plan}; the plan as it was is in {plan.name}.bak.")
