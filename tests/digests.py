"""Prints one hash a plan of its report as JSON: run under several hash seeds by `test_determinism.py`.

`python tests/digests.py SHUFFLE FIRST LAST`: the demo and the generated plans FIRST to LAST, each with its
sections and attributes listed in an order that SHUFFLE chooses (0: as they are).
"""

from __future__ import annotations

import hashlib
import sys
from pathlib import Path
from typing import Any

import yaml

ROOT = Path(__file__).parents[1]
sys.path[:0] = [str(ROOT / "tests"), str(ROOT)]

from generators import make_plan, shuffled  # noqa: E402

from advisor.plan import read_plan  # noqa: E402
from advisor.reports.data import as_json  # noqa: E402
from advisor.review.reviewing import review_plan  # noqa: E402
from advisor.rulebase.base import RuleBase, load_rulebase  # noqa: E402


class _Plain(yaml.SafeLoader):
    """Scalars as written."""


_Plain.yaml_implicit_resolvers = {}


def demo() -> dict[str, Any]:
    """The plan of `make demo`, as a mapping."""
    text = (ROOT / "scenarios" / "galley-kitchen-faulty.yaml").read_text(encoding="utf-8")
    return dict(yaml.load(text, Loader=_Plain))


def report(plan: dict[str, Any], rulebase: RuleBase, shuffle: int = 0) -> str:
    """The plan's report as JSON text."""
    mixed = shuffled(plan, shuffle) if shuffle else plan
    return as_json(review_plan(read_plan(mixed, rulebase.vocabulary), rulebase))


def main(shuffle: int, first: int, last: int) -> None:
    """Print a hash for each plan."""
    rulebase = load_rulebase()
    for plan in (demo(), *map(make_plan, range(first, last))):
        print(hashlib.sha256(report(plan, rulebase, shuffle).encode()).hexdigest())


if __name__ == "__main__":
    main(*map(int, sys.argv[1:4]))
