"""Many plans: found in folders, reviewed on their own or side by side, with the waivers that lie beside them."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from functools import partial
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct, field

from advisor.document import MAX_BYTES
from advisor.errors import InputError, Problem
from advisor.review.finding import Finding
from advisor.review.model import Report

if TYPE_CHECKING:
    from advisor.one_plan import Done
    from advisor.review.set_aside import Waiver

MOST_FILES = 50_000  # of any kind, in one folder and those below
_SAID_FROM, _SAID_EACH = 200, 100  # plans from which on a run without a bar says how far it is, and how often
_ENDINGS = (".yaml", ".yml")
_TOP_KEY = re.compile(rb"^([a-z]+):", re.MULTILINE)
_OTHER_FILES = {b"pack", b"rules", b"waivers"}
_OF_A_PLAN = {b"house", b"rooms", b"parts", b"steps"}


class Reviewed(Struct):
    """What a run came to: reports in the order of the plans, and the mistakes of plans that were not reviewed."""

    reports: list[Report] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)


def find_plans(paths: Sequence[Path]) -> list[Path]:
    """The plan files named, and those in the folders named, sorted by folder; InputError for an empty folder.

    `-` is standard input and stands alone. Rules and waivers that lie in a folder are passed over, with a word.
    """
    from advisor.plan.tree import STANDARD_INPUT
    from advisor.review.waivers import FILE

    if STANDARD_INPUT in paths and len(paths) > 1:
        raise InputError([Problem("-", 0, 0, "is standard input. Expected it alone, with no other plan.")])
    found: list[Path] = []
    for path in paths:
        if not path.is_dir():
            found.append(path)
            continue
        inside = [p for p in _all_in(path) if p.suffix in _ENDINGS and p.name != FILE and p.is_file()]
        inside = sorted(p for p in inside if not any(part.startswith(".") for part in p.relative_to(path).parts))
        inside = [p for p in inside if not _passed_over(p)]
        if not inside:
            raise InputError([Problem(str(path), 0, 0, "holds no plans. Expected files that end in .yaml.")])
        found += inside
    return list(dict.fromkeys(found))


def _all_in(folder: Path) -> Iterator[Path]:
    """All that lies in a folder and below; InputError where that is a whole disk."""
    for number, path in enumerate(folder.rglob("*")):
        if number >= MOST_FILES:
            message = f"holds more than {MOST_FILES:,} files. Expected a folder of plans."
            raise InputError([Problem(str(folder), 0, 0, message)])
        yield path


def _passed_over(path: Path) -> bool:
    """Whether a file of a folder holds rules or waivers and no plan, which is then said."""
    try:
        with path.open("rb") as file:
            keys = set(_TOP_KEY.findall(file.read(MAX_BYTES)))
    except OSError:
        return False  # the review says what is wrong with it
    if not keys & _OTHER_FILES or keys & _OF_A_PLAN:
        return False
    print(f"{path}: skipped, holds {'waivers' if b'waivers' in keys else 'rules'}.", file=sys.stderr)
    return True


def review_many(
    paths: Sequence[Path],
    rules: Sequence[Path],
    jobs: int = 1,
    scheduler: str | None = None,
    matcher: str | None = None,
    units: str = "",
) -> Reviewed:
    """Review the plans; what is wrong with one does not stop the others. A faulty rule raises InputError.

    `jobs` above 1 reviews that many at once in processes; `scheduler` is the address of a Dask cluster.
    """
    from advisor.one_plan import one_after_another, review_one

    work = partial(review_one, tuple(rules), matcher=matcher, units=units, alone=len(paths) == 1)
    if scheduler is None and (jobs < 2 or len(paths) < 2):
        return _gathered(one_after_another(paths, rules, work), len(paths))
    from advisor import bulk

    if scheduler is not None:
        with bulk.cluster(scheduler) as pool:
            return _gathered(bulk.review_all(paths, rules, pool, work), len(paths))
    return _gathered(bulk.review_all(paths, rules, bulk.processes(min(jobs, len(paths))), work), len(paths))


def _gathered(outcomes: Iterable[Done], count: int) -> Reviewed:
    """Reports and mistakes in the order of the plans; a bar shows the way where somebody watches."""
    done = Reviewed()
    for outcome in _watched(outcomes, count):
        if outcome.report is not None:
            done.reports.append(outcome.report)
        done.problems += outcome.problems
    return done


def _watched(outcomes: Iterable[Done], count: int) -> Iterable[Done]:
    if not sys.stderr.isatty():
        return _counted(outcomes, count) if count >= _SAID_FROM else outcomes
    if count < 8:
        return outcomes
    from rich.console import Console
    from rich.progress import track

    return track(outcomes, "Reviewing", total=count, console=Console(file=sys.__stderr__), transient=True)


def _counted(outcomes: Iterable[Done], count: int) -> Iterator[Done]:
    """Say how far a long run is where no bar can be drawn, so that nobody takes it for hung."""
    print(f"Reviewing {count:,} plans. Smaller folders give an answer sooner.", file=sys.stderr)
    for number, outcome in enumerate(outcomes, 1):
        yield outcome
        if not number % _SAID_EACH and number < count:
            print(f"{number:,} of {count:,} plans reviewed.", file=sys.stderr)


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
            if _of_another(waiver, file, homes, paths):
                continue
            if len(homes) == 1:
                add_findings(homes[0], [unmatched(waiver)])
            elif homes or len(paths) > 1:
                lost.append(unmatched(waiver))
        if lost:
            done.reports.append(_of_file(file, lost))


def _of_another(waiver: Waiver, file: Path, homes: Sequence[Report], paths: Sequence[Path]) -> bool:
    """Whether a waiver is, or may be, about a plan beside its file that is not reviewed now."""
    from advisor.review.waivers import FILE, concerns

    reviewed = {path.resolve() for path in paths if path.suffix in _ENDINGS}
    others = [one for one in islice(file.parent.iterdir(), MOST_FILES) if one.suffix in _ENDINGS and one.name != FILE]
    others = [one for one in others if one.resolve() not in reviewed and one.resolve() != file.resolve()]
    if waiver.plan:
        return not homes and any(concerns(waiver, str(one)) for one in others)
    return bool(others)


def _waiver_files(paths: Sequence[Path], given: Path | None) -> list[tuple[Path, Path | None]]:
    from advisor.plan.tree import STANDARD_INPUT
    from advisor.review.waivers import FILE

    if given is not None:
        return [(given, None)]
    folders = dict.fromkeys(path.parent for path in paths if path != STANDARD_INPUT)  # beside that lies nothing
    return [(folder / FILE, folder) for folder in folders if (folder / FILE).is_file()]


def _of_file(file: Path, findings: list[Finding]) -> Report:
    """The findings about a file of waivers, in the form of a report."""
    from advisor.document import Node
    from advisor.plan.model import Plan
    from advisor.review.waivers import add_findings

    plan = Plan(str(file), "Waivers that fit nothing", "us", {}, [], Node(str(file), 1, 1, "mapping"))
    report = Report(plan, [], [], None, [], [], [], {}, ())
    add_findings(report, findings)
    return report
