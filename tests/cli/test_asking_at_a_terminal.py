"""`questions --ask` through a pseudo-terminal: *don't know* to all ends, asks none twice, changes no byte."""

from __future__ import annotations

import os
import pty
import select
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
PLAN = ROOT / "scenarios" / "trim-in-an-old-hall.yaml"


def talk(path: Path, *answers: str, then: str) -> tuple[str, int]:
    """All that stands on the terminal, and the status: the answers first, then `then` to every prompt."""
    ours, theirs = pty.openpty()
    command = [sys.executable, "-m", "advisor", "questions", "--ask", str(path)]
    ran = subprocess.Popen(command, stdin=theirs, stdout=theirs, stderr=theirs, cwd=ROOT, close_fds=True)
    os.close(theirs)
    said, waiting, text, end = list(answers), True, "", time.monotonic() + 120
    prompts = 0
    while time.monotonic() < end:
        ready, _, _ = select.select([ours], [], [], 1)
        if ready:
            try:
                data = os.read(ours, 65536)
            except OSError:  # the other end is closed
                break
            if not data:
                break
            text += data.decode()
        waiting = text.count("\n> ") > prompts
        if waiting:
            prompts += 1
            os.write(ours, f"{said.pop(0) if said else then}\n".encode())
    os.close(ours)
    return text, ran.wait(timeout=60)


def test_dont_know_to_all_ends_asks_none_twice_and_changes_no_byte(tmp_path: Path) -> None:
    """Every question is numbered on, none comes again, and no copy is made."""
    path = tmp_path / "plan.yaml"
    path.write_bytes(PLAN.read_bytes())
    text, status = talk(path, then="don't know")
    lines = text.replace("\r\n", "\n").split("\n")
    asked = [line.partition(". ")[2] for line in lines if line.partition(". ")[0].isdecimal()]

    assert status == 0
    assert len(asked) == len(set(asked)) > 10
    assert "No answer; nothing was written. No question is left that was not asked." in " ".join(lines)
    assert path.read_bytes() == PLAN.read_bytes()
    assert [p.name for p in tmp_path.iterdir()] == ["plan.yaml"]


def test_the_first_text_is_kept_once(tmp_path: Path) -> None:
    """After two answers the copy is still the plan as it was at first."""
    path = tmp_path / "plan.yaml"
    path.write_bytes(PLAN.read_bytes())
    text, status = talk(path, "1", "1", then="stop")

    assert (status, text.count("Written. ")) == (0, 2)
    assert (tmp_path / "plan.yaml.bak").read_bytes() == PLAN.read_bytes()
    assert path.read_bytes() != PLAN.read_bytes()
