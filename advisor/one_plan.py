"""The review of one of several plans: what is wrong with it, or with us, costs its own report and no other."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from pathlib import Path

from msgspec import Struct, field

from advisor.errors import InputError, Problem, clip
from advisor.review.model import Report


class Done(Struct, frozen=True):
    """What one plan came to: its report, or what is wrong with it."""

    path: Path
    report: Report | None
    problems: list[Problem] = field(default_factory=list)


Work = Callable[[Path], Done]


def review_one(
    rules: tuple[Path, ...], path: Path, matcher: str | None = None, units: str = "", alone: bool = False
) -> Done:
    """Review one plan, told in `units` if given; never raises for what the plan or the program does wrong.

    `alone` leaves the answers to questions till they are told; of many plans what they are made of takes much room.
    """
    from advisor.engine.run import DEFAULT_MATCHER
    from advisor.review.reviewing import review

    try:
        report = review(path, rules, matcher=matcher or DEFAULT_MATCHER, units=units)
        for question in () if alone else report.questions:
            len(question.answers)
    except InputError as error:
        return Done(path, None, error.problems)
    except Exception as error:  # a fault of ours must not cost the other plans their reports
        what = f"{type(error).__name__}: {clip(str(error), 120)}"
        return Done(path, None, [Problem(str(path), 0, 0, f"could not be reviewed ({what}). This is a fault of ours.")])
    for finding in (*report.findings, *(a.finding for a in report.answered if a.finding)):
        finding.drawn = []  # the engine's records are of no use here and costly to hand between processes
    return Done(path, report)


def one_after_another(paths: Iterable[Path], rules: Sequence[Path], work: Work) -> Iterator[Done]:
    """What each plan came to, in this process. InputError for a faulty rule is raised at once, and only once."""
    from advisor.rulebase.base import load_rulebase

    load_rulebase([Path(folder) for folder in rules])
    yield from map(work, paths)
