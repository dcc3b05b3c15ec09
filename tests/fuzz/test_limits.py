"""Inputs made to exhaust the machine end in a message within seconds and a bounded memory, in their own process."""

from __future__ import annotations

import resource
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
MEMORY = 1 << 30  # bytes of address space; a review of the demo takes about a tenth
STEPS = "\n".join(f"  - {{id: s{n}, do: sand, to: p{n % 50}}}" for n in range(200))
PARTS = "\n".join(f"  p{n}: {{kind: trim, room: r, coating: paint}}" for n in range(50))
PLAN = "rooms: {r: {kind: hallway}}\nparts:\n  p: {kind: trim, room: r}\nsteps:\n"

CASES = {
    "three megabytes": ("x: y\n" * 600_000).encode(),
    "deep lists": b"house: " + b"[" * 200_000 + b"]" * 200_000,
    "deep mappings": b"{a: " * 100_000,
    "deep blocks": b"\n".join(b" " * n + b"a:" for n in range(1_500)),
    "alias bomb": b"a: &a [x, x]\n" + b"".join(b"%c: &%c [*%c, *%c]\n" % (n, n, n - 1, n - 1) for n in range(98, 122)),
    "one huge number": b"steps: [{do: sand, for: " + b"9" * 1_000_000 + b" h}]",
    "not a number": b"steps: [{do: sand, for: .nan h}, {do: sand, for: 1e999 h}]",
    "one huge word": PLAN.encode() + b"  - {do: sand, to: " + b"p" * 1_900_000 + b"}\n",
    "many mistakes": b"steps:\n" + b"  - {do: sandd, too: q}\n" * 60_000,
    "many names near to one": b"steps: [{do: sand, to: qqqq}]\nparts:\n"
    + b"".join(b"  qqq%d: {kind: trim}\n" % n for n in range(20_000)),
    "bytes of zero": b"\0" * 100_000,
    "utf-16 cut in half": "steps: [{do: sand}]".encode("utf-16")[:-1],
    "half a surrogate": b"title: \xed\xa0\x80\nsteps: [{do: sand}]\n",
    "all of latin-1": bytes(range(256)) * 100,
}  # fmt: skip


def _limit() -> None:
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))


def _review(path: Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "advisor", "review", str(path), "--format", "json"]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=120, preexec_fn=_limit)


@pytest.mark.parametrize("name", CASES)
def test_an_input_made_to_exhaust_ends_with_status_2_and_a_message(name: str, tmp_path: Path) -> None:
    """No traceback, and no more than some lines however many mistakes there are."""
    path = tmp_path / "plan.yaml"
    path.write_bytes(CASES[name])
    done = _review(path)

    assert (done.returncode, done.stdout) == (2, "")
    assert "Traceback" not in done.stderr
    assert 0 < len(done.stderr) < 100_000
    assert done.stderr.rstrip().endswith("nothing was reviewed.")


def test_a_plan_of_hundreds_of_steps_is_reviewed_within_the_bounds(tmp_path: Path) -> None:
    """As large as a whole house: 200 steps over 50 parts."""
    path = tmp_path / "plan.yaml"
    lines = STEPS.split("\n")[:200]
    path.write_text(f"rooms: {{r: {{kind: hallway}}}}\nparts:\n{PARTS}\nsteps:\n" + "\n".join(lines), encoding="utf-8")
    done = _review(path)

    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.count('"rule":') > 10
