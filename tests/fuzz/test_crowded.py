"""Small plans and packs made to explode: a report that names what was not checked, or status 2, soon, in little memory.

Each in a process of its own. The time is the processor's, so that a busy machine fails nothing.
"""

from __future__ import annotations

import json
import os
import random
import resource
import subprocess
import sys
from pathlib import Path

import pytest
from fuzz.crowded import PACKS, PLANS, REFUSED, any_crowd

from advisor.errors import InputError
from advisor.plan import read_plan
from advisor.reports.data import as_json
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import load_rulebase

ROOT = Path(__file__).parents[2]
SECONDS, MEGABYTES = 20, 500
FUZZ, FIRST = int(os.environ.get("FUZZ", "3000")), int(os.environ.get("FUZZ_FROM", "0"))


def _limit(seconds: int = SECONDS) -> None:
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 1))


def _review(folder: Path, plan: str, pack: str = "", most: int = MEGABYTES) -> tuple[int, str, str]:
    """Status, output and errors; a process that ends by a signal has a negative status."""
    (folder / "plan.yaml").write_text(plan, encoding="utf-8")
    command = [sys.executable, "-m", "advisor", "review", str(folder / "plan.yaml"), "--format", "json"]
    if pack:
        (folder / "packs").mkdir()
        (folder / "packs" / "own.yaml").write_text(pack, encoding="utf-8")
        command += ["--rules", str(folder / "packs")]
    with (folder / "out").open("w") as out, (folder / "err").open("w") as err:
        told = folder / "peak"
        between = [sys.executable, "-S", "-c", _BETWEEN, str(told), *command]
        done = subprocess.run(
            between,
            cwd=ROOT,
            stdout=out,
            stderr=err,
            preexec_fn=lambda: _limit(SECONDS if most == MEGABYTES else 60),
            check=False,
        )
    assert int(told.read_text()) / 1024 < most
    return done.returncode, (folder / "out").read_text(), (folder / "err").read_text()


# The child of a large process starts with the peak of its parent's memory: a small process stands between.
_BETWEEN = """
import os, sys
child = os.spawnv(os.P_NOWAIT, sys.argv[2], sys.argv[2:])
_, status, used = os.wait4(child, 0)
with open(sys.argv[1], "w") as told:
    told.write(str(used.ru_maxrss))
sys.exit(os.waitstatus_to_exitcode(status))
"""


# Twice what is asked for; what each of ten thousand findings rests on takes 600 MB and some 30 s.
HEAVY = ("two thousand steps on one part",)


@pytest.mark.parametrize("name", PLANS)
def test_a_small_plan_of_crowded_steps_is_answered(name: str, tmp_path: Path) -> None:
    """Each of the first two took more than 100 s. What was given up is named with the word that it might have said."""
    plan, wanted = PLANS[name]
    status, out, err = _review(tmp_path, plan, most=700 if name in HEAVY else MEGABYTES)
    missed = [row for row in json.loads(out)["not_checked"] if row["signal"]]

    assert (status, err) == (0, "")
    assert wanted in {row["rule"] for row in missed}


@pytest.mark.parametrize("name", PACKS)
def test_a_pack_made_to_explode_is_answered(name: str, tmp_path: Path) -> None:
    """Refused with file and line where it can be seen at once, else its rules are named as not checked."""
    make, plan, wanted = PACKS[name]
    status, out, err = _review(tmp_path, plan, make())

    if isinstance(wanted, str):
        assert (status, out) == (2, "")
        assert wanted in err
        assert "own.yaml:7: rule " in err
        assert REFUSED in err
    else:
        rows = {row["rule"]: row for row in json.loads(out)["not_checked"]}
        assert (status, err) == (0, "")
        assert [name for name in wanted if name not in rows] == []


@pytest.mark.parametrize("block", range(4))
def test_any_crowd_is_answered(block: int, tmp_path: Path) -> None:
    """A report or InputError, whatever the degree; as many as the other inputs allow."""
    wrong = []
    count = max(1, FUZZ // 1_500)
    for seed in range(FIRST + block * count, FIRST + (block + 1) * count):
        plan, pack = any_crowd(random.Random(seed))
        (tmp_path / "own.yaml").write_text(pack, encoding="utf-8")
        try:
            rulebase = load_rulebase([tmp_path])
            as_json(review_plan(read_plan(plan, rulebase.vocabulary), rulebase))
        except InputError:
            continue
        except Exception as error:
            wrong.append((seed, repr(error)))
        finally:
            load_rulebase.__globals__["_load"].cache_clear()

    assert wrong == []
