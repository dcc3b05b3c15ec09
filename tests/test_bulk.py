"""Many plans at once: reports in order, and nothing lost but what is broken itself."""

from __future__ import annotations

import os
import signal
import threading
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from advisor.bulk import WINDOW, Done, cluster, processes, review_all, review_one
from advisor.errors import InputError, Problem
from advisor.reports.data import as_json

ROOT = Path(__file__).parents[1]
FOUNDING = sorted((ROOT / "tests/plan/founding").glob("*.yaml"))[:4]
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
    plans = [*FOUNDING[:2], BROKEN, *FOUNDING[2:]]
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
    done = list(review_all(FOUNDING, pool=lambda: ThreadPoolExecutor(2)))

    assert _texts(done) == _texts(list(review_all(FOUNDING)))
    assert threading.active_count() < 10


def test_without_the_extra_a_cluster_is_refused_in_words(monkeypatch: pytest.MonkeyPatch) -> None:
    """An import of None fails as a missing package does."""
    monkeypatch.setitem(__import__("sys").modules, "distributed", None)
    with pytest.raises(InputError) as caught, cluster("tcp://127.0.0.1:1"):
        pass

    assert "pip install 'prework-advisor[cluster]'" in str(caught.value.problems[0])


@pytest.mark.filterwarnings("ignore")
def test_a_cluster_of_two_workers_gives_what_one_process_gives() -> None:
    """Dask's executor on two worker processes; one of them is killed by a plan and comes back."""
    distributed = pytest.importorskip("distributed", reason="the extra 'cluster' (Dask) is not installed here")
    plans = [*FOUNDING[:2], BROKEN, *FOUNDING[2:]]
    with (
        distributed.LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as local,
        cluster(local.scheduler_address) as pool,
    ):
        done = list(review_all(plans, pool=pool))
        names = ["plan-a", "kill-b", "plan-c"]
        killed = list(review_all(map(Path, names), pool=pool, work=_name_it))

    assert _texts(done) == _texts(list(review_all(plans)))
    assert [d.path.name for d in killed if d.problems[0].message != "seen"] == ["kill-b"]
