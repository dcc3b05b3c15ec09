"""`advisor review`: plans in, reports out."""

from __future__ import annotations

import sys
from pathlib import Path

from advisor.errors import InputError
from advisor.review.model import Report
from advisor.rulebase.model import SIGNALS


def review_files(
    plans: list[Path], form: str, rules: list[Path], fail_on: str | None, output: Path | None, working: bool
) -> int:
    """Review each plan, print or write the reports, and return the exit status."""
    from advisor.cli.app import complain
    from advisor.review.reviewing import review

    reports, status = [], 0
    for plan in plans:
        try:
            reports.append(review(plan, rules))
        except InputError as error:
            status = complain(error)
    if status and len(plans) == 1:
        return status
    text = "".join(_render(report, form, output, working) for report in reports)
    if output is not None:
        write_whole(output, text)
    else:
        sys.stdout.write(text)
    if status:
        return status
    limit = SIGNALS.index(fail_on) if fail_on else len(SIGNALS)
    return int(any(report.worst() >= limit for report in reports))


def _render(report: Report, form: str, output: Path | None, working: bool) -> str:
    if form == "json":
        from advisor.reports.data import as_json

        return as_json(report)
    from advisor.reports.text import as_text

    return as_text(report, colour=output is None, working=working)


def write_whole(path: Path, text: str) -> None:
    """Write a file so that it is there whole or not at all; InputError where it cannot be written."""
    import os
    import tempfile

    from advisor.errors import Problem

    try:
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
        try:
            with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
                file.write(text)
            os.chmod(name, 0o644)
            os.replace(name, path)
        except BaseException:
            os.unlink(name)
            raise
    except OSError as error:
        reason = (error.strerror or "cannot be written").lower()
        raise InputError([Problem(str(path), 0, 0, f"cannot be written: {reason}.")]) from error
