"""`advisor serve`: the page in a browser."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer


def serve(
    place: Annotated[
        Path | None,
        typer.Argument(metavar="[PLAN or FOLDER]", help="Plans to work on; without it they stay in the browser."),
    ] = None,
    port: Annotated[int, typer.Option(min=0, max=65535, help="The port; 0 takes any that is free.")] = 8642,
    address: Annotated[
        str, typer.Option(help="Another address than this machine alone. Know what you do.")
    ] = "127.0.0.1",
    name: Annotated[
        list[str] | None, typer.Option("--name", metavar="HOST", help="A name under which a proxy calls the page.")
    ] = None,
    browser: Annotated[bool, typer.Option("--browser/--no-browser", help="Open a browser.")] = True,
    workers: Annotated[int, typer.Option(min=0, max=64, help="Reviews at once; 0 is one a core.")] = 0,
) -> None:
    """Show the page: tell a plan in plain words, see what it says, answer its questions, print its sheets."""
    from advisor.errors import InputError, Problem

    try:
        from advisor.page.server import serve as run
    except ImportError as error:
        message = "needs the extra 'page'. Install it with: pip install 'prework-advisor[page]'"
        raise InputError([Problem("serve", 0, 0, message)]) from error
    run(place, address, port, name or (), browser, workers)
