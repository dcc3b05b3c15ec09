"""The command line: thin commands over `advisor.review`."""

from __future__ import annotations

import gc
import os
import sys


def run() -> None:
    """Entry point of the `advisor` command; bad input ends with status 2 and no traceback."""
    gc.set_threshold(200_000, 50, 50)  # a command ends soon; sweeping young objects costs a tenth of its time
    from advisor.cli.app import app, complain
    from advisor.errors import InputError, clip

    try:
        app()
    except InputError as error:
        sys.exit(complain(error))
    except BrokenPipeError:
        sys.stderr.close()  # the reader went away; nothing is left to say
        sys.exit(0)
    except Exception as error:  # a fault of ours: no traceback reaches a user who did not ask for it
        if os.environ.get("ADVISOR_DEBUG"):
            raise
        what = f"{type(error).__name__}: {clip(str(error), 120)}"
        print(f"advisor failed on its own account ({what}). ADVISOR_DEBUG=1 shows where.", file=sys.stderr)
        sys.exit(70)  # EX_SOFTWARE of sysexits.h: neither 0, 1 nor 2 of the contract
    finally:
        gc.disable()  # or the interpreter sweeps everything once more as it ends, for nothing
