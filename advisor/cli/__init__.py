"""The command line: thin commands over `advisor.review`."""

from __future__ import annotations

import gc
import logging
import os
import sys
import threading
from typing import NoReturn


def run() -> None:
    """Entry point of the `advisor` command; bad input ends with status 2 and no traceback."""
    gc.set_threshold(800_000, 50, 50)  # a review makes a quarter of that; sweeping costs a third of its time
    from advisor.cli.outlet import Unwritten, install

    install()
    try:
        status = _status()
        sys.stdout.flush()
    except Unwritten as error:
        print(error, file=sys.stderr)
        status = 2
    finally:
        gc.disable()  # or the interpreter sweeps everything once more as it ends, for nothing
    _end(status)


def _end(status: int) -> NoReturn:
    """End at once: to take the rules apart object by object costs a tenth of a review. All is written by now."""
    sys.stderr.flush()
    if threading.active_count() == 1 and not sys.getprofile() and not sys.gettrace():
        logging.shutdown()
        os._exit(status)
    sys.exit(status)


def _status() -> int:
    """Run the command that the arguments name, and say what is wrong with them or with their files."""
    import typer

    from advisor.cli.app import program_for
    from advisor.cli.mistakes import complain
    from advisor.cli.outlet import Unwritten
    from advisor.errors import InputError, clip

    try:
        return int(program_for(sys.argv[1] if len(sys.argv) > 1 else "")(standalone_mode=False) or 0)
    except InputError as error:
        return complain(error)
    except typer.Abort:
        print("Given up.", file=sys.stderr)
        return 1
    except Unwritten:
        raise
    except Exception as error:
        if hasattr(error, "format_message"):  # an option or an argument that does not fit: typer's, or click's
            return _misused(error)
        if isinstance(error, OSError) and error.filename is not None:  # nothing but what the user named
            reason = (error.strerror or "it cannot be used").lower()
            print(f"{error.filename}: cannot be used: {reason}.", file=sys.stderr)
            return 2
        if os.environ.get("ADVISOR_DEBUG"):
            raise
        # A fault of ours: no traceback reaches a user who did not ask for it.
        what = f"{type(error).__name__}: {clip(str(error), 120)}"
        print(f"advisor failed on its own account ({what}). ADVISOR_DEBUG=1 shows where.", file=sys.stderr)
        return 70  # EX_SOFTWARE of sysexits.h: neither 0, 1 nor 2 of the contract


def _misused(error: Exception) -> int:
    """Say what is wrong with the arguments. Printed by us: typer would print a strange word as it is."""
    context = getattr(error, "ctx", None)
    if type(error).__name__ != "NoArgsIsHelpError":  # that has printed the help
        if context is not None:
            print(context.get_usage(), file=sys.stderr)
            print(f"'{context.command_path} --help' tells more.", file=sys.stderr)
        print(error.format_message(), file=sys.stderr)  # type: ignore[attr-defined]
    return int(getattr(error, "exit_code", 2))
