"""Processes that do the reviewing, so that one slow plan delays nobody else, and can be stopped.

A person's newer change replaces an older one that still waits. Somebody whose last plan was slow may not hold all
workers at once. What takes too long is ended with its process, and a new one takes its place.
"""

from __future__ import annotations

import asyncio
import contextlib
from collections import OrderedDict
from collections.abc import Callable
from multiprocessing.connection import Connection
from time import monotonic
from typing import Any

from advisor.bulk import clean_start

SECONDS = 12.0  # that one answer may take
_BEGINNING = 120.0  # seconds that a process may take to read the rules
_SLOW = 2.0  # seconds: a person whose last answer took longer waits in the slow queue
_MOST_PEOPLE = 20_000  # of whom the last change is remembered
Task = Callable[..., Any]


class SupersededError(Exception):
    """The same person has asked something newer meanwhile."""


class TooSlowError(Exception):
    """It took longer than an answer may."""


class _Worker:
    def __init__(self, context: Any, prepare: Task) -> None:
        self.ours, theirs = context.Pipe()
        self.process = context.Process(target=_serve, args=(theirs, prepare), daemon=True)
        self.process.start()
        theirs.close()
        self._ready = False

    def do(self, task: Task, args: tuple[Any, ...], seconds: float) -> Any:
        """The task's result; TooSlowError where it takes longer, EOFError where the process ends."""
        if not self._ready and not (self.ours.poll(_BEGINNING) and self.ours.recv()):
            raise TooSlowError
        self._ready = True  # reading the rules is not counted
        self.ours.send((task, args))
        if not self.ours.poll(seconds):
            raise TooSlowError
        return self.ours.recv()

    def end(self) -> None:
        self.process.kill()
        self.process.join()
        self.ours.close()


class Workers:
    """As many processes as told; each does one task after another."""

    def __init__(self, count: int, prepare: Task, seconds: float = SECONDS) -> None:
        self._context = clean_start()
        self._prepare, self._seconds, self._count = prepare, seconds, count
        self._all: list[_Worker] = []
        self._latest: OrderedDict[str, int] = OrderedDict()
        self._slow: OrderedDict[str, bool] = OrderedDict()

    async def start(self) -> None:
        """Start the processes; each reads the rules once."""
        self._idle: asyncio.Queue[_Worker] = asyncio.Queue()
        self._few = asyncio.Semaphore(max(1, self._count - 1))
        for _ in range(self._count):
            self._add()

    def _add(self) -> None:
        worker = _Worker(self._context, self._prepare)
        self._all.append(worker)
        self._idle.put_nowait(worker)

    def stop(self) -> None:
        """End all processes."""
        for worker in self._all:
            worker.end()
        self._all.clear()

    async def do(self, task: Task, *args: Any, person: str = "", turn: int = 0) -> Any:
        """Do a task in a process. SupersededError where the person has asked a newer one before it began."""
        if person:
            self._remember(self._latest, person, max(turn, self._latest.get(person, 0)))
        async with self._few if self._slow.get(person) else contextlib.nullcontext():
            worker = await self._idle.get()
            if person and self._latest.get(person, 0) > turn:
                self._idle.put_nowait(worker)
                raise SupersededError
            began = monotonic()
            try:
                failed, result = await asyncio.to_thread(worker.do, task, args, self._seconds)
            except (TooSlowError, EOFError, OSError) as error:
                self._all.remove(worker)
                worker.end()
                self._add()
                raise TooSlowError from error
            else:
                self._idle.put_nowait(worker)
            finally:
                if person:
                    self._remember(self._slow, person, monotonic() - began > _SLOW)
            if failed:
                raise RuntimeError(result)
            return result

    @staticmethod
    def _remember(kept: OrderedDict[str, Any], person: str, value: Any) -> None:
        kept[person] = value
        kept.move_to_end(person)
        while len(kept) > _MOST_PEOPLE:
            kept.popitem(last=False)


def _serve(pipe: Connection, prepare: Task) -> None:
    import signal

    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the server ends us
    prepare()
    pipe.send(True)
    while True:
        try:
            task, args = pipe.recv()
        except EOFError:
            return
        try:
            result = (False, task(*args))
        except Exception as error:  # told to the server, which writes it to its log
            result = (True, f"{type(error).__name__}: {error}")
        pipe.send(result)
