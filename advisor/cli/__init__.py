"""The command line: thin commands over `advisor.review`."""

from __future__ import annotations

import sys


def run() -> None:
    """Entry point of the `advisor` command; bad input ends with status 2 and no traceback."""
    from advisor.cli.app import app, complain
    from advisor.errors import InputError

    try:
        app()
    except InputError as error:
        sys.exit(complain(error))
    except BrokenPipeError:
        sys.stderr.close()  # the reader went away; nothing is left to say
        sys.exit(0)
