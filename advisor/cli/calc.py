"""`advisor calc`: the calculators on the command line. Thin: reads options, calls, prints."""

from __future__ import annotations

import sys
from typing import Annotated, Any

import typer
from typer.core import TyperGroup


class _Calculators(TyperGroup):
    """Takes any word as the name of a calculator, so that none is imported before one is wanted."""

    def get_command(self, ctx: Any, cmd_name: str) -> Any:
        """The one command behind every name; the name itself stays in its context."""
        return super().get_command(ctx, "calculator")


app = typer.Typer(
    name="calc",
    cls=_Calculators,
    help="The trade's arithmetic with its working. 'advisor calc NAME --help' explains one.",
    add_completion=False,
    pretty_exceptions_enable=False,
)


@app.callback(invoke_without_command=True)
def calculators(
    ctx: typer.Context, form: Annotated[str, typer.Option("--format", help="text or json.")] = "text"
) -> None:
    """The trade's arithmetic with its working: alone it lists the calculators, with a NAME it runs one."""
    if ctx.invoked_subcommand is None:
        _finish(_listing, form)


@app.command(
    "calculator",
    hidden=True,
    context_settings={"allow_extra_args": True, "ignore_unknown_options": True, "help_option_names": []},
)
def calculator(ctx: typer.Context) -> None:
    """Run the calculator whose name was typed."""
    _finish(_run, str(ctx.info_name), list(ctx.args))


def _finish(work: Any, *args: Any) -> None:
    from advisor.cli.calc_options import OptionError

    try:
        print(work(*args))
    except OptionError as error:
        print(f"advisor calc: {error}", file=sys.stderr)
        raise typer.Exit(2) from None


def _listing(form: str) -> str:
    from advisor.calculators import load_all
    from advisor.cli.calc_options import one_of
    from advisor.cli.calc_show import listing

    return listing(load_all(), one_of("--format", form, ("text", "json")))


def _run(word: str, args: list[str]) -> str:
    from advisor.calculators import OutOfRange
    from advisor.cli.calc_options import OptionError, find_calculator, read_request
    from advisor.cli.calc_show import explain, result_json, result_text
    from advisor.errors import clip
    from advisor.reports.clean import json_letters

    found = find_calculator(word)
    if "--help" in args or "-h" in args:
        return explain(found)
    request = read_request(found, args)
    try:
        result = found.function(**request.arguments)
    except OutOfRange as error:
        raise OptionError(str(error)) from error
    except (ValueError, ArithmeticError) as error:
        raise OptionError(f"{clip(word)} cannot be worked out: {error}") from error
    if request.form == "json":
        return json_letters(result_json(found, request, result), sys.stdout.encoding or "utf-8")
    return result_text(found, request, result)
