"""The commands. They parse, call and print; nothing else."""

from __future__ import annotations

from importlib import import_module
from typing import Annotated

import typer

from advisor.cli.examples import explain

# `advisor --help` lists them in this order: review, the way from a finding to a better plan, sheets, reference.
COMMANDS = {
    "review": "review", "interview": "interview", "draft": "drafting", "new": "new", "check": "checking",
    "questions": "asking", "why": "asking", "why-not": "asking", "order": "order", "states": "states",
    "revise": "revising", "compare": "revising", "hazards": "sheets", "checklist": "sheets", "supplies": "sheets",
    "schema": "schema", "serve": "serve", "vocabulary": "vocabulary",
}  # fmt: skip
GROUPS = {"rules": "rules", "calc": "calc"}
_CALLED = {"compare": "compare_plans", "vocabulary": "vocabulary_command"}  # where the function has another name
_HELP = {"vocabulary": "What a plan may say: sorts, attributes and words."}  # where its own words say less


def _say_version(wanted: bool) -> None:
    """Print which program this is, and which rules it has."""
    if wanted:
        from advisor.rulebase.base import load_rulebase
        from advisor.version import VERSION

        print(f"prework-advisor {VERSION}, rules {load_rulebase().digest}")
        raise typer.Exit


def program(
    version: Annotated[
        bool, typer.Option("--version", is_eager=True, callback=_say_version, help="Say which program and rules.")
    ] = False,
) -> None:
    """Options of the program as a whole."""


def program_for(name: str = "") -> typer.Typer:
    """The program with that command alone; with all of them where it is no command.

    To read what twenty commands take costs more than to check a plan, and one of them is run.
    """
    made = typer.Typer(
        name="advisor",
        no_args_is_help=True,
        context_settings={"help_option_names": ["-h", "--help"]},
        pretty_exceptions_enable=False,
        help="Reads a renovation plan before the work: what will go wrong, what must be true first, in which order.",
    )
    made.callback()(program)
    alone = name in COMMANDS or name in GROUPS
    for group, module in GROUPS.items():
        if not alone or group == name:
            made.add_typer(import_module(f"advisor.cli.{module}").app, name=group)
    for command, module in COMMANDS.items():
        if not alone or command == name:
            called = _CALLED.get(command, command.replace("-", "_"))
            made.command(command, help=_HELP.get(command))(getattr(import_module(f"advisor.cli.{module}"), called))
    explain(made)
    return made


def __getattr__(name: str) -> typer.Typer:
    """`app`, the whole program, made when it is first asked for."""
    if name != "app":
        raise AttributeError(name)
    whole = globals()["app"] = program_for()
    return whole
