"""One step of a careful plan put in a wrong place: whether the report names it, and whether the order mends it.

The plans and the displacements were written by somebody who had seen neither needs nor rules. *Named*: a move moves the
step, or the step that it was put before or behind, past it; or a finding that the careful plan does not have speaks at
the step or names it. *Mended*: in the order of work the step stands again on the right side of that step.

    python -m tests.site.displacing            counts, and what was missed
    python -m tests.site.displacing --write    writes what was missed to displaced_missed.yaml
"""

from __future__ import annotations

import copy
import re
import sys
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

import yaml

from advisor.plan import read_plan
from advisor.review.model import Report
from advisor.review.order.told import MovedStep
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import load_rulebase

HERE = Path(__file__).parent
CAREFUL = sorted((HERE / "careful").glob("*.yaml"))
MISSED = HERE / "displaced_missed.yaml"


class _Plain(yaml.CSafeLoader):
    """Scalars as written: `no` stays a word."""


_Plain.yaml_implicit_resolvers = {}


@dataclass(frozen=True)
class Displaced:
    """A step of a careful plan, and the step that it was put before or behind."""

    plan: str
    step: str
    side: str  # to_before, to_after
    other: str
    objection: str

    @property
    def key(self) -> str:
        """A name of its own."""
        return f"{self.plan}: {self.step} {self.side} {self.other}"


def read(path: Path) -> Any:
    """A YAML file with its words as written."""
    return yaml.load(path.read_text(encoding="utf-8"), Loader=_Plain)


def displaced() -> list[Displaced]:
    """All displacements."""
    found = []
    for row in read(HERE / "displaced.yaml"):
        side = next(word for word in ("to_before", "to_after") if word in row)
        found.append(Displaced(row["plan"], row["step"], side, row[side], row["objection"]))
    return found


@lru_cache(maxsize=64)
def careful(name: str) -> tuple[Any, Report]:
    """A careful plan and its report."""
    plan = read(HERE / "careful" / f"{name}.yaml")
    return plan, report_of(plan)


def report_of(plan: dict[str, Any]) -> Report:
    """The whole review of a plan."""
    rulebase = load_rulebase()
    return review_plan(read_plan(copy.deepcopy(plan), rulebase.vocabulary), rulebase)


def with_step_moved(one: Displaced) -> dict[str, Any]:
    """The careful plan with the step in its wrong place."""
    plan = copy.deepcopy(careful(one.plan)[0])
    steps = plan["steps"]
    moved = next(step for step in steps if step["id"] == one.step)
    steps.remove(moved)
    place = next(k for k, step in enumerate(steps) if step["id"] == one.other)
    steps.insert(place if one.side == "to_before" else place + 1, moved)
    return plan


def judge(one: Displaced) -> tuple[bool, bool]:
    """Whether the report names the displaced step, and whether the order of work mends it."""
    report = report_of(with_step_moved(one))
    known = {f.id for f in careful(one.plan)[1].findings}
    name = re.compile(rf"(?<![\w-]){re.escape(one.step)}(?![\w-])")

    def about(move: MovedStep) -> bool:
        steps = (move.step, *move.along)
        return one.step in steps or (one.other in steps and bool(name.search(move.because)))

    spoken = any(
        f.id not in known and (one.step in (f.step, f.first, *f.answer) or bool(name.search(f"{f.what} {f.because}")))
        for f in report.findings
    )
    order = [row.step for row in report.order]
    behind = order.index(one.step) > order.index(one.other)
    return spoken or any(map(about, report.moves)), behind == (one.side == "to_before")


def main() -> None:
    """Print the counts and what was missed."""
    rows = [(one, *judge(one)) for one in displaced()]
    named = [row for row in rows if row[1]]
    mended = [row for row in named if row[2]]
    print(f"{len(rows)} displaced: {len(named)} named ({len(named) / len(rows):.1%}), of those {len(mended)} mended")
    missed = [one for one, was_named, was_mended in rows if not (was_named and was_mended)]
    for one in missed:
        print(f"  {one.key}: {one.objection}")
    if "--write" in sys.argv:
        lines = [f"- {one.key}" for one in missed]
        head = "# Displacements not named or not mended. `python -m tests.site.displacing --write`\n"
        MISSED.write_text(head + "\n".join(f'- "{line[2:]}"' for line in lines) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
