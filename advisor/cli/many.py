"""Many plans: found in folders, reviewed on their own or side by side, with the waivers that lie beside them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import partial
from pathlib import Path

from advisor.errors import InputError, Problem
from advisor.review.model import Finding, Report

_ENDINGS = (".yaml", ".yml")


@dataclass(slots=True)
class Reviewed:
    """What a run came to: reports in the order of the plans, and the mistakes of plans that were not reviewed."""

    reports: list[Report] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)


def find_plans(paths: Sequence[Path]) -> list[Path]:
    """The plan files named, and those in the folders named, sorted by folder; InputError for an empty folder."""
    from advisor.review.waivers import FILE

    found: list[Path] = []
    for path in paths:
        if not path.is_dir():
            found.append(path)
            continue
        inside = [p for p in path.rglob("*") if p.suffix in _ENDINGS and p.name != FILE and p.is_file()]
        inside = sorted(p for p in inside if not any(part.startswith(".") for part in p.relative_to(path).parts))
        if not inside:
            raise InputError([Problem(str(path), 0, 0, "holds no plans. Expected files that end in .yaml.")])
        found += inside
    return list(dict.fromkeys(found))


def review_many(paths: Sequence[Path], rules: Sequence[Path], jobs: int = 1) -> Reviewed:
    """Review the plans; what is wrong with one does not stop the others. A faulty rule raises InputError."""
    from advisor.rulebase.base import load_rulebase

    load_rulebase([Path(folder) for folder in rules])  # said once, not for every plan
    work = partial(_review_one, tuple(rules))
    if jobs > 1 and len(paths) > 1:
        from concurrent.futures import ProcessPoolExecutor

        with ProcessPoolExecutor(min(jobs, len(paths))) as pool:
            outcomes: Iterable[Report | list[Problem]] = list(pool.map(work, paths, chunksize=1))
    else:
        outcomes = map(work, paths)
    done = Reviewed()
    for outcome in outcomes:
        if isinstance(outcome, Report):
            done.reports.append(outcome)
        else:
            done.problems += outcome
    return done


def _review_one(rules: tuple[Path, ...], path: Path) -> Report | list[Problem]:
    from advisor.review.reviewing import review

    try:
        report = review(path, rules)
    except InputError as error:
        return error.problems
    for finding in report.findings:
        finding.drawn = []  # the engine's records are of no use here and costly to hand between processes
    return report


def apply_files(done: Reviewed, paths: Sequence[Path], given: Path | None, today: date) -> None:
    """Apply the waivers of the given file, or of the one beside each plan, to the reports.

    A waiver that fits nothing is a finding: of its plan where it names one or only one was reviewed, else of
    the file of waivers. A waiver of a plan that could not be read stays unjudged.
    """
    from advisor.review.waivers import add_findings, apply_waivers, concerns, read_waivers, unmatched

    broken = {problem.file for problem in done.problems}
    for file, folder in _waiver_files(paths, given):
        waivers = read_waivers(file)
        mine = [r for r in done.reports if folder is None or Path(r.plan.file).parent == folder]
        spoke = {waiver for report in mine for waiver in apply_waivers(report, waivers, today)}
        lost = []
        for waiver in waivers:
            homes = [r for r in mine if concerns(waiver, r.plan.file)]
            if waiver in spoke or (waiver.plan and any(concerns(waiver, name) for name in broken)):
                continue
            if len(homes) == 1:
                add_findings(homes[0], [unmatched(waiver)])
            elif homes or len(paths) > 1:
                lost.append(unmatched(waiver))
        if lost:
            done.reports.append(_of_file(file, lost))


def _waiver_files(paths: Sequence[Path], given: Path | None) -> list[tuple[Path, Path | None]]:
    from advisor.review.waivers import FILE

    if given is not None:
        return [(given, None)]
    folders = dict.fromkeys(path.parent for path in paths)
    return [(folder / FILE, folder) for folder in folders if (folder / FILE).is_file()]


def _of_file(file: Path, findings: list[Finding]) -> Report:
    """The findings about a file of waivers, in the form of a report."""
    from advisor.document import Node
    from advisor.plan.model import Plan
    from advisor.review.waivers import add_findings

    plan = Plan(str(file), "Waivers that fit nothing", "us", {}, [], Node(str(file), 1, 1, "mapping"))
    report = Report(plan, [], [], {}, [], [], [], {}, ())
    add_findings(report, findings)
    return report
