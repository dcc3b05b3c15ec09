"""A server of the page in a process of its own, for tests that go through a browser or the network."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).parents[2]
SMALL = (
    "rooms: {hall: {kind: hallway}}\nparts:\n  lamp: {kind: light, room: hall}\n"
    "steps:\n  - {id: swap, do: replace, to: lamp}\n"
)
WAIT = 60_000  # ms: the machine of the tests may be slow


@contextmanager
def serving(*place: Path, workers: int = 2) -> Iterator[str]:
    """Its address; ended by a signal, which it must obey with status 0 or that of the signal."""
    command = [
        sys.executable,
        "-m",
        "advisor",
        "serve",
        *map(str, place),
        "--port",
        "0",
        "--no-browser",
        "--workers",
        str(workers),
    ]
    process = subprocess.Popen(
        command, stdout=subprocess.PIPE, text=True, env={**os.environ, "PYTHONPATH": str(ROOT)}, cwd=ROOT
    )
    assert process.stdout is not None
    try:
        found = re.search(r"http://localhost:\d+/", process.stdout.readline())
        assert found, "the server did not say where it is"
        yield found[0]
    finally:
        process.terminate()
        process.wait(timeout=30)
        process.stdout.close()
    assert process.returncode in (0, -15), process.returncode
