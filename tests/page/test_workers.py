"""Workers: a slow answer delays nobody else and can be stopped; a newer change replaces an older one."""

from __future__ import annotations

import asyncio
import os
import time
from collections.abc import Awaitable, Callable
from typing import Any

import pytest

from advisor.page.workers import SupersededError, TooSlowError, Workers


def nothing() -> None:
    """Nothing to prepare."""


def double(number: int) -> int:
    """Twice."""
    return 2 * number


def sleep(seconds: float) -> str:
    """Slow work."""
    time.sleep(seconds)
    return "slept"


def die() -> None:
    """A process that ends."""
    os._exit(3)


def fail() -> None:
    """A fault of ours."""
    raise ValueError("inside")


def run(play: Callable[[Workers], Awaitable[Any]], count: int = 2, seconds: float = 5.0) -> Any:
    async def all_of_it() -> Any:
        workers = Workers(count, nothing, seconds)
        await workers.start()
        try:
            return await play(workers)
        finally:
            workers.stop()

    return asyncio.run(all_of_it())


def test_answers_come_back() -> None:
    async def play(workers: Workers) -> list[int]:
        return await asyncio.gather(*(workers.do(double, n) for n in range(10)))

    assert run(play) == [2 * n for n in range(10)]


def test_what_takes_too_long_is_ended_and_the_next_one_is_answered() -> None:
    async def play(workers: Workers) -> int:
        with pytest.raises(TooSlowError):
            await workers.do(sleep, 60.0)
        return await workers.do(double, 4)

    assert run(play, count=1, seconds=0.3) == 8


def test_a_process_that_ends_costs_its_own_answer_alone() -> None:
    async def play(workers: Workers) -> int:
        with pytest.raises(TooSlowError):
            await workers.do(die)
        return await workers.do(double, 5)

    assert run(play, count=1) == 10


def test_a_fault_is_raised_here() -> None:
    async def play(workers: Workers) -> None:
        with pytest.raises(RuntimeError, match="ValueError: inside"):
            await workers.do(fail)

    run(play)


def test_a_newer_change_of_the_same_person_replaces_one_that_waits() -> None:
    async def play(workers: Workers) -> list[Any]:
        busy = asyncio.create_task(workers.do(sleep, 0.5))
        await asyncio.sleep(0.1)
        turns = [workers.do(double, n, person="ann", turn=n) for n in (1, 2, 3)]
        other = workers.do(double, 50, person="bob", turn=1)
        found = await asyncio.gather(*turns, other, return_exceptions=True)
        await busy
        return list(found)

    first, second, third, other = run(play, count=1)
    assert isinstance(first, SupersededError)
    assert isinstance(second, SupersededError)
    assert (third, other) == (6, 100)


def test_who_was_slow_does_not_hold_all_workers(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("advisor.page.workers._SLOW", 0.2)

    async def play(workers: Workers) -> float:
        await asyncio.gather(*(workers.do(sleep, 0.3, person=p, turn=1) for p in ("slow", "slower")))
        again = [asyncio.create_task(workers.do(sleep, 1.0, person=p, turn=2)) for p in ("slow", "slower")]
        await asyncio.sleep(0.1)
        began = time.monotonic()
        await workers.do(double, 1, person="quick", turn=1)
        took = time.monotonic() - began
        await asyncio.gather(*again)
        return took

    assert run(play) < 0.8  # it did not wait for either
