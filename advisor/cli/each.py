"""A file for each plan, in a folder that the user names, and one of what they come to together."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Mapping, Sequence
from pathlib import Path

from advisor.cli.files import put
from advisor.errors import InputError, Problem
from advisor.review.model import Report

OVERVIEW = "overview"
_ENDINGS = {"text": "txt", "json": "json", "html": "html", "markdown": "md", "sarif": "sarif", "csv": "csv"}


def is_folder(output: str | None) -> bool:
    """Whether an output names a folder: one that is there, or a name that ends as folders do."""
    return output is not None and (output.endswith(("/", os.sep)) or Path(output).is_dir())


def write_each(
    folder: Path,
    form: str,
    reports: Iterable[Report],
    given: Sequence[Path],
    render: Callable[[Report], str],
    overview: Callable[[Mapping[str, str]], str],
) -> list[Path]:
    """Write each report and, where there are several plans, their overview; the files, in the order of the plans.

    `render` gives the text of a report, `overview` that of all together from the names of their files by plan. All are
    made before the first is written.
    """
    ending = _ENDINGS[form]
    reports = list(reports)
    names = file_names([Path(report.plan.file) for report in reports], given, ending)
    texts = [(folder / name, render(report)) for name, report in zip(names, reports, strict=True)]
    if len(given) > 1 or any(path.is_dir() for path in given):
        files = {report.plan.file: Path(name).as_posix() for name, report in zip(names, reports, strict=True)}
        texts.append((folder / f"{OVERVIEW}.{ending}", overview(files)))
    for path, text in texts:
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            reason = (error.strerror or "it failed").lower()
            raise InputError([Problem(str(path.parent), 0, 0, f"cannot be made: {reason}.")]) from error
        put(text, path, form)
    return [path for path, _ in texts]


def file_names(plans: Sequence[Path], given: Sequence[Path], ending: str) -> list[str]:
    """The name of each plan's file: its own, below the folder that was given, with the ending of its form.

    Where two would be one, each keeps its whole name, and a number if need be.
    """
    short = [str(_below(plan, given).with_suffix(f".{ending}")) for plan in plans]
    taken = {f"{OVERVIEW}.{ending}"}
    found = []
    for plan, name in zip(plans, short, strict=True):
        one = name if short.count(name) == 1 and name not in taken else f"{_below(plan, given)}.{ending}"
        number = 1
        while one in taken:
            number += 1
            one = f"{_below(plan, given)}-{number}.{ending}"
        taken.add(one)
        found.append(one)
    return found


def _below(plan: Path, given: Sequence[Path]) -> Path:
    for folder in given:
        if folder.is_dir() and plan.is_relative_to(folder):
            return plan.relative_to(folder)
    return Path(plan.name if plan.name not in ("", "<stdin>") else "plan")
