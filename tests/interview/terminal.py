"""A pseudo-terminal with the program at its other end: what it prints is read, lines and keys are typed."""

from __future__ import annotations

import contextlib
import os
import pty
import select
import signal
import sys
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
PROMPT = "\n> "
PATIENCE = 150.0  # seconds; the machine may be busy


class Terminal:
    """`advisor` run at a terminal of its own, so that Ctrl-C and hanging up do what they do at a desk."""

    def __init__(self, *arguments: str, cwd: Path) -> None:
        self.text = ""
        self.status: int | None = None
        self._read = 0
        self.process, self._end = pty.fork()
        if self.process == 0:
            os.chdir(cwd)
            signal.signal(signal.SIGINT, signal.SIG_DFL)  # a test that runs in the background was told to ignore it
            os.environ.update(PYTHONPATH=str(ROOT), COLUMNS="80", NO_COLOR="1")
            os.execv(sys.executable, [sys.executable, "-m", "advisor", *arguments])

    def shown(self) -> str:
        """What was printed up to the next prompt, or to the end of the program."""
        end = time.monotonic() + PATIENCE
        while PROMPT not in self.text[self._read :]:
            if time.monotonic() > end:
                raise TimeoutError(self.text[-2000:])
            if not self._more():
                break
        else:
            stop = self.text.index(PROMPT, self._read) + len(PROMPT)
            new, self._read = self.text[self._read : stop], stop
            return new
        new, self._read = self.text[self._read :], len(self.text)
        return new

    def _more(self) -> bool:
        """Read what there is; False where the program has ended."""
        if not select.select([self._end], [], [], 1)[0]:
            return True
        try:
            data = os.read(self._end, 65536)
        except OSError:  # the other end is closed
            data = b""
        self.text += data.decode("utf-8", "replace").replace("\r\n", "\n")
        return bool(data)

    def type(self, keys: str) -> None:
        """Type keys; a line ends with a line feed."""
        os.write(self._end, keys.encode())

    def rest(self) -> str:
        """All that is still printed, and the status when the program has ended."""
        end = time.monotonic() + PATIENCE
        while self._more():
            if time.monotonic() > end:
                raise TimeoutError(self.text[-2000:])
        self._wait()
        return self.text[self._read :]

    def hang_up(self) -> None:
        """Close the terminal, as somebody does who closes the window."""
        os.close(self._end)
        self._wait()

    def _wait(self) -> None:
        if self.status is None:
            _, status = os.waitpid(self.process, 0)
            self.status = os.waitstatus_to_exitcode(status)
        with contextlib.suppress(OSError):
            os.close(self._end)
