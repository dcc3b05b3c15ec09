"""`advisor.review` as a call from Python."""

import subprocess
import sys
from pathlib import Path

import pytest

import advisor

PLAN = Path(__file__).parent.parent / "scenarios" / "trim-in-an-old-hall.yaml"


def test_a_path_a_text_and_a_mapping_give_the_same_findings() -> None:
    """Three ways to hand over one plan."""
    casing = {"kind": "trim", "room": "hall", "material": "pine", "coating": "paint", "area": "22 sqft"}
    mapping = {
        "title": "Old hall trim",
        "house": {"built": 1957, "children_under_6": 1},
        "rooms": {"hall": {"kind": "hallway", "length": "14 ft", "width": "4 ft", "height": "8 ft"}},
        "parts": {"casing": casing},
        "steps": [{"id": "smooth", "do": "sand", "to": "casing", "with": ["random-orbit sander"], "for": "3 h"}],
    }
    ids = [[f.id for f in advisor.review(plan).findings] for plan in (PLAN, PLAN.read_text(), mapping)]

    assert "test-for-lead@smooth" in ids[0]
    assert ids[0] == ids[1] == ids[2]


def test_a_broken_plan_raises_with_every_problem() -> None:
    """Two mistakes, one exception."""
    text = "title: x\nparts:\n  a: {kind: base cabnets}\nsteps:\n  - {do: sand, to: b}\n"

    with pytest.raises(advisor.InputError) as caught:
        advisor.review(text)

    assert [p.line for p in caught.value.problems] == [3, 5]


def test_the_call_works_first_thing_and_after_imports() -> None:
    """`advisor.review` is a package too; the call must work whichever came first."""
    code = (
        "import advisor, sys; a = advisor.review(sys.argv[1]); import advisor.review.model;"
        "b = advisor.review(sys.argv[1]); print(len(a.findings) == len(b.findings) > 0)"
    )
    run = subprocess.run([sys.executable, "-c", code, str(PLAN)], capture_output=True, text=True, check=False)

    assert (run.stdout, run.stderr) == ("True\n", "")
