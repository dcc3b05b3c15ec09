"""The command line: thin commands over `advisor.review`."""

from __future__ import annotations

import gc
import os
import re
import sys
import threading
from importlib import import_module
from pathlib import Path
from typing import NoReturn

from advisor import later


def run() -> None:
    """Entry point of the `advisor` command; bad input ends with status 2 and no traceback."""
    gc.set_threshold(800_000, 50, 50)  # a review makes a quarter of that; sweeping costs a third of its time
    _import_with_patterns_left()
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


_LIBRARIES = ("logging", "textwrap", "msgspec", "yaml")
_OF_A_REVIEW = ("advisor.cli.reviewing", "advisor.review.reviewing", "advisor.reports.text", "advisor.reports.supplies")


def _import_with_patterns_left() -> None:
    """Import what has patterns of which most are for what nobody asks here: each is compiled once it is used.

    PyYAML has those of its readers in Python. msgspec takes from typing_extensions, where it finds it, what Python has
    itself: its import would cost more than that of msgspec.
    """
    compiled, re.compile = re.compile, later.pattern  # type: ignore[assignment]
    hidden = "typing_extensions" not in sys.modules
    if hidden:
        sys.modules["typing_extensions"] = None  # type: ignore[assignment]
    try:
        for name in _LIBRARIES + (_OF_A_REVIEW if _is_plain(sys.argv) else ()):
            import_module(name)
    finally:
        re.compile = compiled
        if hidden:
            del sys.modules["typing_extensions"]


def _end(status: int) -> NoReturn:
    """End at once: to take the rules apart object by object costs a tenth of a review. All is written by now."""
    sys.stderr.flush()
    if threading.active_count() == 1 and not sys.getprofile() and not sys.gettrace():
        import_module("logging").shutdown()
        os._exit(status)
    sys.exit(status)


def _status() -> int:
    """Run the command that the arguments name, and say what is wrong with them or with their files."""
    from advisor.cli.mistakes import complain
    from advisor.cli.outlet import Unwritten
    from advisor.errors import InputError, clip

    try:
        return _alone(sys.argv) if _is_plain(sys.argv) else _read_by_typer()
    except InputError as error:
        return complain(error)
    except Unwritten:
        raise
    except Exception as error:
        if type(error).__name__ == "Abort":  # typer's
            print("Given up.", file=sys.stderr)
            return 1
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


def _is_plain(words: list[str]) -> bool:
    """Whether the words are `review PLAN` and no more: with nothing to read, what reads options is not imported."""
    return len(words) == 3 and words[1] == "review" and words[2][:1] not in ("", "-") and os.name == "posix"


def _alone(words: list[str]) -> int:
    """Review one plan, all options as they are by default."""
    from advisor.cli.reviewing import Wanted, review_files

    return review_files([Path(words[2])], Wanted())


def _read_by_typer() -> int:
    """Run the command with its options."""
    from advisor.cli.app import program_for

    return int(program_for(sys.argv[1] if len(sys.argv) > 1 else "")(standalone_mode=False) or 0)


def _misused(error: Exception) -> int:
    """Say what is wrong with the arguments. Printed by us: typer would print a strange word as it is."""
    context = getattr(error, "ctx", None)
    if type(error).__name__ != "NoArgsIsHelpError":  # that has printed the help
        if context is not None:
            print(context.get_usage(), file=sys.stderr)
            print(f"'{context.command_path} --help' tells more.", file=sys.stderr)
        print(error.format_message(), file=sys.stderr)  # type: ignore[attr-defined]
    return int(getattr(error, "exit_code", 2))
