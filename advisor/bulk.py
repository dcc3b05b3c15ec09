"""Many plans through any `concurrent.futures.Executor`: processes of this machine, or a cluster.

Results come in the order of the plans. A plan that is broken, or that ends the process that reviews it, costs
its own report and no other.
"""

from __future__ import annotations

import multiprocessing
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import BrokenExecutor, Executor, Future, ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import partial
from itertools import islice
from pathlib import Path

from advisor.errors import InputError, Problem, clip
from advisor.review.model import Report

WINDOW = 32  # plans on their way at once: enough to keep workers busy, few enough to keep in memory
_LOST = "ended the process that reviewed it (out of memory, or killed). Nothing is known of this plan."


@dataclass(frozen=True, slots=True)
class Done:
    """What one plan came to: its report, or what is wrong with it."""

    path: Path
    report: Report | None
    problems: list[Problem] = field(default_factory=list)


Work = Callable[[Path], Done]


def review_one(rules: tuple[Path, ...], path: Path, matcher: str | None = None) -> Done:
    """Review one plan; never raises for what the plan or the program does wrong."""
    from advisor.engine.run import DEFAULT_MATCHER
    from advisor.review.reviewing import review

    try:
        report = review(path, rules, matcher=matcher or DEFAULT_MATCHER)
    except InputError as error:
        return Done(path, None, error.problems)
    except Exception as error:  # a fault of ours must not cost the other plans their reports
        what = f"{type(error).__name__}: {clip(str(error), 120)}"
        return Done(path, None, [Problem(str(path), 0, 0, f"could not be reviewed ({what}). This is a fault of ours.")])
    for finding in report.findings:
        finding.drawn = []  # the engine's records are of no use here and costly to hand between processes
    return Done(path, report)


def review_all(
    paths: Iterable[Path],
    rules: Sequence[Path] = (),
    pool: Callable[[], Executor] | None = None,
    work: Work | None = None,
) -> Iterator[Done]:
    """Review plans; yields one `Done` a plan, in order, as soon as it and those before it are there.

    `pool` makes an executor: `processes(jobs)`, or `lambda: client.get_executor()` for Dask (see `cluster`);
    without it plans are reviewed one after the other here. It is called again where a worker's death breaks the
    executor; the plans that were on their way are then tried alone, so that only the one at fault is lost.
    `work` is what is done with a plan. InputError for a faulty rule is raised at once.
    """
    from advisor.rulebase.base import load_rulebase

    load_rulebase([Path(folder) for folder in rules])  # said once, not for every plan
    task = work or partial(review_one, tuple(rules))
    if pool is None:
        yield from map(task, paths)
        return
    left = iter(paths)
    while True:
        broken: list[Path] = []
        with pool() as executor:
            yield from _through(executor, task, left, WINDOW, broken)
        if not broken:
            return
        yield from _one_by_one(pool, task, broken)


def _one_by_one(pool: Callable[[], Executor], task: Work, paths: list[Path]) -> Iterator[Done]:
    """With one plan on its way at a time it is plain which one breaks the executor."""
    left = iter(paths)
    while True:
        guilty: list[Path] = []
        with pool() as executor:
            yield from _through(executor, task, left, 1, guilty)
        if not guilty:
            return
        yield Done(guilty[0], None, [Problem(str(guilty[0]), 0, 0, _LOST)])


def _through(executor: Executor, task: Work, left: Iterator[Path], window: int, broken: list[Path]) -> Iterator[Done]:
    """Plans through the executor till none is left, or it breaks: `broken` then names those under way."""
    going: deque[tuple[Path, Future[Done] | None]] = deque()
    while True:
        for path in islice(left, window - len(going)):
            going.append((path, _submit(executor, task, path)))
        if not going:
            return
        path, future = going.popleft()
        done = None if future is None else _result(future, path)
        if done is None:
            broken += [path, *(p for p, _ in going)]
            return
        yield done


def _submit(executor: Executor, task: Work, path: Path) -> Future[Done] | None:
    try:
        return executor.submit(task, path)
    except BrokenExecutor:
        return None


def _result(future: Future[Done], path: Path) -> Done | None:
    """The outcome, or None where the executor broke."""
    try:
        return future.result()
    except BrokenExecutor:
        return None
    except Exception as error:  # how a cluster says that it gave the plan up
        return Done(path, None, [Problem(str(path), 0, 0, f"{_LOST} ({type(error).__name__})")])


def processes(jobs: int) -> Callable[[], Executor]:
    """A maker of process pools. Workers start clean: forking a program with threads can hang it."""
    methods = multiprocessing.get_all_start_methods()
    context = multiprocessing.get_context("forkserver" if "forkserver" in methods else "spawn")
    return lambda: ProcessPoolExecutor(jobs, mp_context=context)


@contextmanager
def cluster(address: str) -> Iterator[Callable[[], Executor]]:
    """A maker of executors on the Dask cluster at `address`, whose workers see the same files.

    InputError where the `cluster` extra is not installed or nobody answers.
    """
    try:
        from distributed import Client
    except ImportError as error:
        message = "needs the extra 'cluster'. Install it with: pip install 'prework-advisor[cluster]'"
        raise InputError([Problem("--cluster", 0, 0, message)]) from error
    try:
        client = Client(address, timeout="10s")
    except (OSError, ValueError) as error:
        message = f"'{clip(address)}' does not answer. Expected a scheduler such as 'tcp://host:8786'."
        raise InputError([Problem("--cluster", 0, 0, message)]) from error
    try:
        yield client.get_executor
    finally:
        client.close()
