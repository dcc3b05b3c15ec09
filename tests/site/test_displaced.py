"""Careful plans are left alone; one displaced step is named and put back.

All of `displaced.yaml` with DISPLACED=all (`make displaced`); else a tenth, by a hash of its name. What is missed is
listed in `displaced_missed.yaml`: less than a tenth of all, and nothing else may be missed.
"""

from __future__ import annotations

import hashlib
import os
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

import displacing

ALL = displacing.displaced()
MISSED = set(displacing.read(displacing.MISSED))


def chosen() -> list[displacing.Displaced]:
    """All displacements, or the tenth of them whose hash says so; never those that are known to be missed."""
    whole = os.environ.get("DISPLACED") == "all"
    return [
        one
        for one in ALL
        if one.key not in MISSED and (whole or hashlib.sha256(one.key.encode()).digest()[0] % 10 == 0)
    ]


@pytest.mark.parametrize("path", displacing.CAREFUL, ids=lambda p: p.stem)
def test_a_careful_plan_is_not_moved(path: Path) -> None:
    """Nor does it bring a false need, or one that no order keeps."""
    report = displacing.careful(path.stem)[1]

    assert report.moves == []
    assert report.given_up == []
    assert [f.id for f in report.findings if f.answer] == []


@pytest.mark.parametrize("one", chosen(), ids=lambda one: one.key)
def test_a_displaced_step_is_named_and_mended(one: displacing.Displaced) -> None:
    assert displacing.judge(one) == (True, True), one.objection


def test_few_are_missed() -> None:
    """Nine in ten are named and mended; the rest is listed, and the list holds nothing that does not exist."""
    assert len(ALL) >= 320
    assert set(MISSED) <= {one.key for one in ALL}
    assert len(MISSED) <= len(ALL) / 10
