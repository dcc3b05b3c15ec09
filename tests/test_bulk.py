"""Many plans at once: reports in order, and nothing lost but what is broken itself."""

from __future__ import annotations

import os
import signal
import threading
import warnings
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from functools import partial
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from advisor import bulk
from advisor.bulk import WINDOW, cluster, processes, review_all
from advisor.errors import InputError, Problem
from advisor.one_plan import Done, review_one
from advisor.reports.data import as_json

ROOT = Path(__file__).parents[1]
CORE = sorted((ROOT / "tests/plan/core").glob("*.yaml"))[:4]
BROKEN = ROOT / "tests/plan/broken/empty.yaml"


def _name_it(path: Path) -> Done:
    """Stands for a review: quick, and deadly for some plans."""
    if path.name.startswith("kill"):
        os.kill(os.getpid(), signal.SIGKILL)
    return Done(path, None, [Problem(path.name, 0, 0, "seen")])


def _texts(done: list[Done]) -> list[str]:
    return [as_json(d.report) if d.report else str(d.problems[0]) for d in done]


def test_two_processes_give_what_one_gives_in_the_order_of_the_plans() -> None:
    """A broken plan in the middle costs its own report only."""
    plans = [*CORE[:2], BROKEN, *CORE[2:]]
    one = list(review_all(plans))
    two = list(review_all(plans, pool=processes(2)))

    assert [d.path for d in two] == plans
    assert _texts(two) == _texts(one)
    assert [d.report is None for d in two] == [False, False, True, False, False]


def test_a_killed_worker_loses_its_own_plan_only() -> None:
    """Two plans that kill their process, among more than go through at once."""
    names = [f"plan-{n:02d}" for n in range(WINDOW + 8)]
    names[3], names[WINDOW + 2] = "kill-a", "kill-b"
    done = list(review_all(map(Path, names), pool=processes(2), work=_name_it))

    assert [d.path.name for d in done] == names
    assert [d.path.name for d in done if d.problems[0].message != "seen"] == ["kill-a", "kill-b"]
    assert "ended the process" in done[3].problems[0].message


def test_results_come_while_later_plans_are_still_to_be_read() -> None:
    """Only a window of plans is on its way, whatever their number."""
    asked = []

    def plans() -> object:
        for number in range(1000):
            asked.append(number)
            yield Path(f"plan-{number}")

    results = review_all(plans(), pool=lambda: ThreadPoolExecutor(2), work=_name_it)  # type: ignore[arg-type]
    first = next(results)
    results.close()  # type: ignore[attr-defined]

    assert (first.path.name, len(asked)) == ("plan-0", WINDOW)


def test_a_fault_of_the_program_costs_one_plan(monkeypatch: pytest.MonkeyPatch) -> None:
    """It is named as ours."""
    import advisor.review.reviewing as reviewing

    def fail(*_: object, **__: object) -> None:
        raise ZeroDivisionError("by nought")

    monkeypatch.setattr(reviewing, "review", fail)

    assert [str(p) for p in review_one((), Path("a.yaml")).problems] == [
        "a.yaml: could not be reviewed (ZeroDivisionError: by nought). This is a fault of ours."
    ]


def test_any_executor_will_do() -> None:
    """Threads, with more plans than threads."""
    done = list(review_all(CORE, pool=lambda: ThreadPoolExecutor(2)))

    assert _texts(done) == _texts(list(review_all(CORE)))
    assert threading.active_count() < 10


def test_without_the_extra_a_cluster_is_refused_in_words(monkeypatch: pytest.MonkeyPatch) -> None:
    """An import of None fails as a missing package does."""
    monkeypatch.setitem(__import__("sys").modules, "distributed", None)
    with pytest.raises(InputError) as caught, cluster("tcp://127.0.0.1:1"):
        pass

    assert "pip install 'prework-advisor[cluster]'" in str(caught.value.problems[0])


@pytest.fixture
def dask() -> Iterator[Callable[..., Any]]:
    """A maker of small clusters; skips where Dask is not installed."""
    distributed = pytest.importorskip("distributed", reason="the extra 'cluster' (Dask) is not installed here")
    from dask import config

    settings = {
        # One death is enough for Dask to give up all that waits on that worker, which is the harder case.
        "distributed.scheduler.allowed-failures": 0,
        # It asks a worker that died meanwhile for a result for so long.
        "distributed.comm.timeouts.connect": "2s",
        # A LocalCluster looks so long after a death, and gives up for good who is away then, be it for another one.
        "distributed.deploy.lost-worker-timeout": "1 hour",
    }
    with config.set(settings), warnings.catch_warnings():
        warnings.simplefilter("ignore")
        yield partial(distributed.LocalCluster, threads_per_worker=1, dashboard_address=None, silence_logs=60)


def _seen(done: Iterable[Done]) -> list[str]:
    return [f"{d.path}: {d.problems[0].message}" for d in done]


def test_a_cluster_of_two_workers_gives_what_one_process_gives(dask: Callable[..., Any]) -> None:
    """Dask's executor on two worker processes, with a broken plan in the middle."""
    plans = [*CORE[:2], BROKEN, *CORE[2:]]
    with dask(n_workers=2) as local, cluster(local.scheduler_address) as pool:
        done = list(review_all(plans, pool=pool))

    assert [d.path for d in done] == plans
    assert _texts(done) == _texts(list(review_all(plans)))


def test_plans_that_kill_workers_of_a_cluster_lose_nothing_else(dask: Callable[..., Any]) -> None:
    """Three of them, two side by side, among more than go through at once: each is named, all others are there."""
    names = [f"plan-{n:02d}" for n in range(WINDOW + 8)]
    for place in (3, 4, WINDOW + 2):
        names[place] = f"kill-{place:02d}"
    with dask(n_workers=2) as local, cluster(local.scheduler_address) as pool:
        done = list(review_all(map(Path, names), pool=pool, work=_name_it))

    assert [d.path.name for d in done] == names
    assert [d.path.name for d in done if d.problems[0].message != "seen"] == [n for n in names if n.startswith("kill")]
    assert "ended the process" in done[3].problems[0].message


def test_a_cluster_without_workers_is_not_waited_for_without_end(
    dask: Callable[..., Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every plan is named as not reviewed, with the reason."""
    monkeypatch.setattr(bulk, "_LOOK", 0.01)
    monkeypatch.setattr(bulk, "_PATIENCE", 0.0)
    paths = [Path(f"plan-{n}") for n in range(WINDOW + 1)]
    with dask(n_workers=0, processes=False) as local, cluster(local.scheduler_address) as pool:
        done = list(review_all(paths, pool=pool, work=_name_it))

    assert _seen(done) == [f"{p}: was not reviewed: no worker of the cluster was seen for 0 seconds." for p in paths]


def test_a_scheduler_that_goes_midway_keeps_what_is_there(
    dask: Callable[..., Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The plans that it did not get to are named, with the reason."""
    monkeypatch.setattr(bulk, "_LOOK", 0.01)
    monkeypatch.setattr(bulk, "_ANSWER", 4.0)  # so long the client tries to come back
    paths = [Path(f"plan-{n}") for n in range(3 * WINDOW)]
    with dask(n_workers=1, processes=False) as local, cluster(local.scheduler_address) as pool:
        results = review_all(paths, pool=pool, work=_name_it)
        first = next(results)
        local.close()
        rest = list(results)

    assert [d.path for d in (first, *rest)] == paths
    assert _seen([first, rest[-1]]) == [
        "plan-0: seen",
        f"{paths[-1]}: was not reviewed: the scheduler of the cluster no longer answers.",
    ]


@pytest.mark.parametrize(("status", "patience"), [("error", 60.0), ("finished", 0.0)])
def test_a_result_lost_on_its_way_is_asked_for_again(
    monkeypatch: pytest.MonkeyPatch, status: str, patience: float
) -> None:
    """Dask's executor leaves a future without an end where handing its result over fails: here, the first time."""
    monkeypatch.setattr(bulk, "_LOOK", 0.01)
    monkeypatch.setattr(bulk, "_PATIENCE", patience)
    client = _LosesTheFirst(status)
    done = list(review_all([Path("a"), Path("b")], pool=lambda: bulk._OnCluster(client), work=_name_it))

    assert (_seen(done), client.asked) == (["a: seen", "b: seen"], ["a", "b", "a"])


class _LosesTheFirst:
    """Stands for Dask's client and for its executor: the first result is there, or failed, but that is never said."""

    status = "running"
    scheduler = SimpleNamespace(ncores=lambda: {"worker": 1})

    def __init__(self, first: str) -> None:
        self.futures: dict[str, object] = {}
        self.asked: list[str] = []
        self._first = first

    def get_executor(self) -> _LosesTheFirst:
        return self

    def sync(self, call: Callable[[], object], callback_timeout: float) -> object:
        return call()

    def submit(self, task: Callable[[Path], Done], path: Path, key: str) -> Future[Done]:
        future: Future[Done] = Future()
        if self.asked:
            future.set_result(task(path))
        self.futures[key] = SimpleNamespace(status=self._first)
        self.asked.append(path.name)
        return future

    def shutdown(self, wait: bool) -> None:
        self.futures.clear()
