"""What a tradesperson brings for the work of every scenario is on its list of supplies (`brings.yaml`, by hand)."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import yaml

from advisor.plan.said import action_of, words
from advisor.rulebase.base import load_rulebase
from reports.support import SCENARIOS, reviewed

BRINGS = yaml.safe_load((Path(__file__).parent / "brings.yaml").read_text(encoding="utf-8"))


def _is(sort: str, word: str, kind: str) -> bool:
    terms = load_rulebase().vocabulary.taxonomies[sort]
    return word == kind or word in terms.below(kind)


def missing(report) -> list[str]:
    """What work of a plan takes and nobody is told to get."""
    plan, found = report.plan, []
    told = " ; ".join(one.what for one in report.supplies if not one.against).lower()
    crew = plan.entities.get("crew", {}).get("crew")
    told += " ; " + " ; ".join(words(crew, "owns") if crew else ())
    not_done = {f.step for f in report.findings if f.rule in ("asbestos-made-dust", "flame-on-lead-paint")}
    hired = load_rulebase().vocabulary.members("who", "paid firm")
    for step in plan.steps:
        if step.id in not_done or set(words(step, "who")) & hired:
            continue
        kinds = [k for name in words(step, "to") for k in words(plan.entities["part"].get(name), "kind")]
        for row in BRINGS:
            if not _is("action", action_of(step), row["do"]):
                continue
            if "to" in row and not any(_is("part_kind", kind, row["to"]) for kind in kinds):
                continue
            if "by" in row and row["by"] not in words(step, "by"):
                continue
            found += [f"{step.id} ({row['do']}): {one}" for one in row["brings"] if not re.search(one, told)]
    return found


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda path: path.stem)
def test_what_a_tradesperson_brings_is_on_the_list(path):
    """A7."""
    assert missing(reviewed(path.stem)) == []
