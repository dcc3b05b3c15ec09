"""Files written by the commands: in the place named, whole or not at all, with nothing left lying about."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from cli.test_terminal import PLAN, ROOT, advisor

pytestmark = pytest.mark.skipif(os.name == "nt", reason="modes, links and devices of POSIX")


def mode(path: Path) -> int:
    """The mode's nine bits."""
    return stat.S_IMODE(path.stat().st_mode)


def test_a_dash_is_standard_output() -> None:
    assert advisor("review", PLAN, "--output", "-").stdout == advisor("review", PLAN).stdout
    assert not (ROOT / "-").exists()


def test_a_device_is_written_to_and_stays() -> None:
    before = os.stat("/dev/null")
    done = advisor("review", PLAN, "--output", "/dev/null")

    assert (done.returncode, done.stdout, done.stderr) == (0, b"", b"")
    assert stat.S_ISCHR(os.stat("/dev/null").st_mode)
    assert os.path.samestat(before, os.stat("/dev/null"))


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="there is no /dev/full")
def test_a_device_that_is_full_is_said_and_stays() -> None:
    done = advisor("review", PLAN, "--output", "/dev/full")

    assert (done.returncode, done.stderr.splitlines()[0]) == (
        2,
        b"/dev/full: cannot be written: no space left on device.",
    )
    assert stat.S_ISCHR(os.stat("/dev/full").st_mode)


def test_a_pipe_with_a_name_is_written_to_and_stays(tmp_path: Path) -> None:
    pipe, read = tmp_path / "pipe", []
    os.mkfifo(pipe)
    reader = threading.Thread(target=lambda: read.append(pipe.read_bytes()))
    reader.start()
    done = advisor("order", PLAN, "--output", pipe)
    if not stat.S_ISFIFO(pipe.lstat().st_mode):  # or the reader would wait for ever
        os.unlink(pipe)
        pytest.fail("the pipe was replaced")
    reader.join(20)

    assert done.returncode == 0
    assert read == [advisor("order", PLAN).stdout]


@pytest.mark.parametrize("name", ["/dev/stdout", "/dev/fd/1", "/proc/self/fd/1"])
def test_standard_output_by_its_name_is_added_to(name: str, tmp_path: Path) -> None:
    """`>>` of the shell: what stood there before stays."""
    if not os.path.exists(os.path.dirname(name)):
        pytest.skip(f"there is no {name}")
    log, alias = tmp_path / "log", tmp_path / "alias"
    log.write_bytes(b"before\n")
    alias.symlink_to(name)
    for place in (name, alias):
        with log.open("ab") as out:
            done = advisor(
                "rules", "list", "--pack", "nosuch", stdout=out, stderr=subprocess.PIPE, capture_output=False
            )
            done = advisor("hazards", PLAN, "--output", place, stdout=out, stderr=subprocess.PIPE, capture_output=False)
        assert (done.returncode, done.stderr) == (0, b"")
    text = advisor("hazards", PLAN).stdout

    assert log.read_bytes() == b"before\n" + text + text
    assert sorted(p.name for p in tmp_path.iterdir()) == ["alias", "log"]


@pytest.mark.parametrize("there", [True, False])
def test_a_link_is_followed_and_stays_a_link(there: bool, tmp_path: Path) -> None:
    target, link = tmp_path / "deep" / "target.txt", tmp_path / "link.txt"
    target.parent.mkdir()
    link.symlink_to("deep/target.txt")
    if there:
        target.write_text("old", encoding="utf-8")
    done = advisor("hazards", PLAN, "--output", link)

    assert done.returncode == 0
    assert os.readlink(link) == "deep/target.txt"
    assert target.read_bytes() == advisor("hazards", PLAN).stdout
    assert os.listdir(target.parent) == ["target.txt"]


def test_links_in_a_ring_are_one_message(tmp_path: Path) -> None:
    one, two = tmp_path / "one", tmp_path / "two"
    one.symlink_to(two)
    two.symlink_to(one)
    done = advisor("hazards", PLAN, "--output", one)

    assert done.returncode == 2
    assert b"too many levels of symbolic links" in done.stderr


@pytest.mark.parametrize("bits", [0o600, 0o640, 0o664])
def test_an_output_file_keeps_its_mode(bits: int, tmp_path: Path) -> None:
    out = tmp_path / "out.txt"
    out.write_text("old", encoding="utf-8")
    out.chmod(bits)

    assert advisor("hazards", PLAN, "--output", out).returncode == 0
    assert (mode(out), out.read_bytes()[:3] == b"old") == (bits, False)


def test_a_new_file_has_the_mode_that_the_user_masks_for(tmp_path: Path) -> None:
    out = tmp_path / "out.txt"
    command = f'umask 077; exec "$0" -m advisor hazards "{PLAN}" --output "{out}"'
    subprocess.run(["sh", "-c", command, sys.executable], cwd=ROOT, timeout=60, check=True)

    assert mode(out) == 0o600


@pytest.mark.parametrize("bits", [0o600, 0o644])
@pytest.mark.parametrize("coding", ["utf-8", "utf-8-sig", "utf-16"])
def test_a_revised_plan_and_its_copy_keep_mode_and_encoding(bits: int, coding: str, tmp_path: Path) -> None:
    """A copy that lay there open to all becomes as private as the plan."""
    plan, copy = tmp_path / "plan.yaml", tmp_path / "plan.yaml.bak"
    old = "title: Küche\nhouse: {built: 1960}\nsteps: [{do: sand}]\n"
    plan.write_text(old, encoding=coding)
    plan.chmod(bits)
    copy.write_text("older", encoding="utf-8")
    before = plan.read_bytes()
    done = advisor("revise", plan, "--set", "house.built=1985", "--write")

    assert done.returncode == 0
    assert (mode(plan), mode(copy)) == (bits, bits)
    assert copy.read_bytes() == before
    assert plan.read_text(encoding=coding) == old.replace("1960", "1985")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["plan.yaml", "plan.yaml.bak"]


def test_a_plan_behind_a_link_is_revised_where_it_lies(tmp_path: Path) -> None:
    plan, link = tmp_path / "plan.yaml", tmp_path / "link.yaml"
    plan.write_text("house: {built: 1960}\nsteps: [{do: sand}]\n", encoding="utf-8")
    link.symlink_to(plan)

    assert advisor("revise", link, "--set", "house.built=1985", "--write").returncode == 0
    assert link.is_symlink()
    assert "1985" in plan.read_text(encoding="utf-8")


KILLED = """
import os, random, signal, sys, time
from pathlib import Path
from advisor.writing import write_whole
folder, kills, fresh = Path(sys.argv[1]), int(sys.argv[2]), sys.argv[3] == "fresh"
target, pick, left, hit = folder / "report.txt", random.Random(13), 0, 0
texts = [bytes([65 + k]) * 3_000_000 for k in range(2)]
for number in range(kills):
    if fresh:
        target.unlink(missing_ok=True)
    else:
        write_whole(target, texts[0])
    child = os.fork()
    if child == 0:
        write_whole(target, texts[1])
        os._exit(0)
    time.sleep(pick.uniform(0, 0.004))
    os.kill(child, signal.SIGKILL)
    hit += os.waitpid(child, 0)[1] != 0
    left += len(set(os.listdir(folder)) - {"report.txt"})
    found = target.read_bytes() if target.exists() else None
    assert found in ([None, texts[1]] if fresh else texts), (number, len(found or b""))
write_whole(target, texts[0])
print(hit, left, os.listdir(folder))
"""


@pytest.mark.parametrize("how", ["fresh", "there"])
def test_a_kill_in_mid_write_leaves_the_old_or_the_new_file_and_nothing_else(how: str, tmp_path: Path) -> None:
    """200 kills. A name left by a kill between the last two calls, a few in a thousand, goes with the next write."""
    command = [sys.executable, "-c", KILLED, str(tmp_path), "200", how]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=120, check=False)
    assert done.stderr == ""
    hit, left, names = done.stdout.split(maxsplit=2)

    assert names == "['report.txt']\n"
    assert int(hit) > 20  # or nothing was tried
    assert int(left) <= (0 if how == "fresh" else 10)


def test_what_a_killed_run_left_is_removed_and_a_running_one_is_let_alone(tmp_path: Path) -> None:
    gone = subprocess.Popen([sys.executable, "-c", ""])
    gone.wait()
    for number in (gone.pid, os.getppid()):
        (tmp_path / f".out.txt.{number}.advisor-new").write_bytes(b"half")
    advisor("hazards", PLAN, "--output", tmp_path / "out.txt")

    assert sorted(os.listdir(tmp_path)) == sorted([f".out.txt.{os.getppid()}.advisor-new", "out.txt"])
