"""Many plans through any `concurrent.futures.Executor`: processes of this machine, or a cluster.

Results come in the order of the plans. A plan that is broken, or that ends the process that reviews it, costs
its own report and no other.
"""

from __future__ import annotations

import logging
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import BrokenExecutor, CancelledError, Executor, Future, wait
from contextlib import contextmanager, suppress
from functools import partial
from itertools import chain, islice
from pathlib import Path
from time import monotonic
from typing import Any

from advisor.errors import InputError, Problem, clip
from advisor.one_plan import Done, Work, one_after_another, review_one

WINDOW = 32  # plans on their way at once: enough to keep workers busy, few enough to keep in memory
_LOST = "ended the process that reviewed it (out of memory, or killed). Nothing is known of this plan."
_LOOK = 1.0  # seconds between looks at a cluster that has a plan under way
_ANSWER = 10.0  # seconds that a scheduler may take to answer
_PATIENCE = 60.0  # seconds that a cluster may be without a worker, or take to hand over a result that is there


class ClusterLost(Exception):
    """A cluster will not finish what it was given; says why."""


Going = deque[tuple[Path, Future[Done] | None]]  # None where the executor took no more


def review_all(
    paths: Iterable[Path],
    rules: Sequence[Path] = (),
    pool: Callable[[], Executor] | None = None,
    work: Work | None = None,
) -> Iterator[Done]:
    """Review plans; yields one `Done` a plan, in order, as soon as it and those before it are there.

    `pool` makes an executor: `processes(jobs)`, or what `cluster` gives; without it plans are reviewed one after
    the other here. Where a plan is given up, with a broken executor or a dead worker, those that were on their
    way are let end or tried again alone, so that only the one at fault is lost. Plans left when a cluster is gone
    for good come out as lost. `work` is what is done with a plan. InputError for a faulty rule is raised at once.
    """
    from advisor.rulebase.base import load_rulebase

    task = work or partial(review_one, tuple(rules))
    if pool is None:
        yield from one_after_another(paths, rules, task)
        return
    load_rulebase([Path(folder) for folder in rules])  # said once, not for every plan
    left = iter(paths)
    going: Going = deque()
    try:
        while True:
            with pool() as executor:
                yield from _through(executor, task, left, going)
            if not going:
                return
            yield from _one_by_one(pool, task, going)
    except ClusterLost as error:
        for path in chain([path for path, _ in going], left):
            yield _failed(path, error)


def _through(executor: Executor, task: Work, left: Iterator[Path], going: Going) -> Iterator[Done]:
    """Plans through the executor till none is left, or one is given up: it is then the first of `going`."""
    while True:
        for path in islice(left, WINDOW - len(going)):
            going.append((path, _submit(executor, task, path)))
        if not going:
            return
        ended = _result(executor, going[0][1])
        if isinstance(ended, Exception):
            return
        going.popleft()
        yield ended


def _one_by_one(pool: Callable[[], Executor], task: Work, going: Going) -> Iterator[Done]:
    """Those that ended meanwhile, and the others tried alone: it is then plain which one kills its process."""
    while going:
        with pool() as executor:
            ended: Done | Exception | None = None
            while going and not isinstance(ended, Exception):
                path, future = going[0]
                ended = _result(executor, future)
                if isinstance(ended, Exception):
                    ended = _result(executor, _submit(executor, task, path))
                going.popleft()
                yield _failed(path, ended) if isinstance(ended, Exception) else ended


def _submit(executor: Executor, task: Work, path: Path) -> Future[Done] | None:
    try:
        return executor.submit(task, path)
    except BrokenExecutor:
        return None


def _result(executor: Executor, future: Future[Done] | None) -> Done | Exception:
    """The outcome, or how the executor says that it gave the plan up."""
    if future is None:
        return BrokenExecutor()
    try:
        if isinstance(executor, _OnCluster):
            executor.wait_for(future)
        return future.result()
    except ClusterLost:
        raise
    except Exception as error:
        return error


def _failed(path: Path, error: Exception) -> Done:
    kind = type(error).__name__
    if isinstance(error, ClusterLost):
        what = f"was not reviewed: {error}."
    elif isinstance(error, BrokenExecutor) or kind == "KilledWorker":  # Dask's: its workers died of this plan
        what = _LOST
    elif isinstance(error, CancelledError):
        what = "was not reviewed: the cluster dropped it twice."
    else:
        what = f"could not be reviewed ({kind}: {clip(str(error), 120)})."
    return Done(path, None, [Problem(str(path), 0, 0, what)])


def processes(jobs: int) -> Callable[[], Executor]:
    """A maker of process pools."""
    from concurrent.futures import ProcessPoolExecutor  # here and below: threads and a cluster need none of it

    context = clean_start()
    return lambda: ProcessPoolExecutor(jobs, mp_context=context)


def clean_start() -> Any:
    """A context in which processes start clean: forking a program with threads can hang it."""
    import multiprocessing

    methods = multiprocessing.get_all_start_methods()
    return multiprocessing.get_context("forkserver" if "forkserver" in methods else "spawn")


class _OnCluster(Executor):
    """Dask's executor with an end to its waiting, which would last for ever on a cluster without workers."""

    def __init__(self, client: Any) -> None:
        self._client = client
        self._dask = client.get_executor()
        self._keys: dict[Future[Any], str] = {}  # of what is under way
        self._moved = monotonic()  # when it was last seen at work, or handing over

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        # Dask makes the key from the arguments, and would give a plan that failed its old outcome again.
        from uuid import uuid4

        key = f"plan-{uuid4()}"
        try:
            future: Future[Any] = self._dask.submit(fn, *args, key=key, **kwargs)
        except Exception as error:  # Dask has no type of its own for this in all its versions
            self._look()
            raise BrokenExecutor(str(error)) from error
        self._keys[future] = key
        return future

    def wait_for(self, future: Future[Any]) -> None:
        """Wait till the future has ended; ClusterLost where nobody is left to end it."""
        manned = monotonic()
        while future in self._keys and not wait([future], _LOOK).done:
            if self._look():
                manned = monotonic()
            elif monotonic() - manned > _PATIENCE:
                raise ClusterLost(f"no worker of the cluster was seen for {_PATIENCE:.0f} seconds")
            state = self._client.futures.get(self._keys[future])
            status = state.status if state is not None else "cancelled"
            if status in ("pending", "lost"):
                self._moved = monotonic()
            elif status != "finished" or monotonic() - self._moved > _PATIENCE:
                future.cancel()  # where handing a result over fails, Dask's executor never says so
                break
        else:
            self._moved = monotonic()
        if self._keys.pop(future, None) and future.cancelled():
            self._look()  # a client whose scheduler is gone cancels all

    def _look(self) -> bool:
        """Whether there are workers; ClusterLost where there is no scheduler."""
        if self._client.status in ("closing", "closed"):
            raise ClusterLost("the scheduler of the cluster no longer answers")
        try:
            return bool(self._client.sync(self._client.scheduler.ncores, callback_timeout=_ANSWER))
        except Exception:  # whatever is wrong on the way, no worker was seen
            return False

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        try:
            for future in list(self._keys) if wait and not cancel_futures else ():
                self.wait_for(future)
        finally:
            self._keys.clear()
            with suppress(Exception):  # a client that is closed has nothing left to cancel
                self._dask.shutdown(wait=False)

    def __exit__(self, kind: type[BaseException] | None, *_: object) -> None:
        self.shutdown(wait=kind is None)


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
    for name in ("distributed", "distributed.client", "tornado.application"):
        logging.getLogger(name).setLevel(logging.CRITICAL)  # what they would say, with tracebacks, our messages say
    try:
        client = Client(address, timeout=f"{_ANSWER}s")
    except (OSError, ValueError, TypeError, RuntimeError) as error:  # the last two for what is no plain TCP
        message = f"'{clip(address)}' does not answer. Expected a scheduler such as 'tcp://host:8786'."
        raise InputError([Problem("--cluster", 0, 0, message)]) from error
    try:
        yield partial(_OnCluster, client)
    finally:
        with suppress(Exception):  # a scheduler that is gone cannot be taken leave of
            client.close()
