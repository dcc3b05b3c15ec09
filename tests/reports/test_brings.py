"""What a tradesperson brings for the work of every scenario is on its list of supplies (`brings.yaml`, by hand)."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import yaml

from advisor.plan.said import action_of, words
from advisor.rulebase.base import load_rulebase
from advisor.tables import rules_folder
from reports.support import SCENARIOS, reviewed
from reports.test_judged_eleventh import planned, ran

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
            if any(_is("action", action_of(step), verb) for verb in row.get("but", [])):
                continue
            if "by" in row and row["by"] not in words(step, "by"):
                continue
            found += [f"{step.id} ({row['do']}): {one}" for one in row["brings"] if not re.search(one, told)]
    return found


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda path: path.stem)
def test_what_a_tradesperson_brings_is_on_the_list(path):
    """A7."""
    assert missing(reviewed(path.stem)) == []


JOBS = sorted((rules_folder() / "jobs").glob("*.yaml"))


def started(path):
    """The review of the starting plan of a job."""
    title = yaml.safe_load(path.read_text(encoding="utf-8"))["job"]
    return planned(ran("new", title))


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.stem)
def test_what_a_tradesperson_brings_is_on_the_list_of_a_starting_plan(path):
    """A7. The list of a usual job, as `advisor new` begins it."""
    assert missing(started(path)) == []


def _core(what: str) -> frozenset[str]:
    """The words of a thing without its size, its pack and what it is like."""
    said = re.split(r",| \(| that | which | for | with | of ", what.lower())[0]
    return frozenset(word.rstrip("s") for word in re.findall(r"[a-z]+", said)) - OFTEN


OFTEN = frozenset(["painter", "plain", "fine", "soft", "cheap", "adjustable", "flexible"])
APART = [  # one word and two things: written by hand
    {"brush", "soft brush for clear coats"}, {"brush", "cheap brush for stripper"},
    {"soft brush for clear coats", "cheap brush for stripper"}, {"sponges", "sponges for grout"},
    {"half mask with cartridges", "half mask with P100"},
    {"half mask with combination cartridges", "half mask with P100"}, {"poles that hold a wall", "pole for the roller"},
]  # fmt: skip


@pytest.mark.parametrize("path", [*SCENARIOS, *JOBS], ids=lambda path: path.stem)
def test_nothing_is_listed_twice_under_two_words(path):
    """A7. An N95 and an N95 or better, a drop cloth and a drop cloth by its size: one thing, one line."""
    report = started(path) if path in JOBS else reviewed(path.stem)
    told = [one.what for one in report.supplies if not one.against]
    seen: dict[frozenset[str], str] = {}
    twice = []
    for what in told:
        core = _core(what)
        if core in seen and not any(
            all(any(one.startswith(said) for said in pair) for one in (what, seen[core])) for pair in APART
        ):
            twice.append((what, seen[core]))
        seen[core] = what
    assert twice == []
