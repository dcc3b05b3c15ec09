"""The twelve thin plans: which expected questions are told or stand among the first eight, and what answers settle."""

from __future__ import annotations

import math
import random
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import yaml
from completions import Plain

from advisor.plan import make_facts, read_plan
from advisor.plan.model import Entity, Plan, Value
from advisor.review.asked import Question
from advisor.review.model import Report
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import RuleBase, load_rulebase
from advisor.site.assume import MISSING
from advisor.site.standing import Standing, standing
from advisor.site.usual import usual_of

THIN = Path(__file__).parent / "thin"  # written by somebody who had not read the rules
MORE = Path(__file__).parent / "thin_more"  # written before they were tried, to see whether the mends are of causes
FIRST = 8
GRAVE = ("danger", "warning")


@dataclass(frozen=True)
class Expected:
    """A question that the writer of a plan would ask."""

    plan: str
    thing: str
    attribute: str
    signal: str
    about: str


def names(folder: Path = THIN) -> list[str]:
    """The plans by name."""
    return sorted(p.stem for p in folder.glob("*.yaml") if not p.stem.endswith(".expect") and p.stem != "told")


def load(path: Path) -> Any:
    """A file as plain words."""
    return yaml.load(path.read_text(encoding="utf-8"), Loader=Plain)


def expected(name: str, folder: Path = THIN) -> Iterator[Expected]:
    """What the writer of the plan would ask."""
    for one in load(folder / f"{name}.expect.yaml")["questions"]:
        yield Expected(name, one["thing"].removeprefix("step "), one["attribute"], one["signal"], one["about"])


def met(one: Expected, report: Report, folder: Path = THIN) -> str:
    """How the report meets an expected question: `told`, `asked` among the first eight, or nothing."""
    kind = one.thing.removeprefix("missing: ").partition(" in ")[0] if one.thing.startswith("missing: ") else ""
    spoken = {finding.rule for finding in report.findings}
    for row in load(folder / "told.yaml"):
        if row["attribute"] in (one.attribute, kind) and spoken & set(row.get("by", ())):
            return "told"
        if row["attribute"] == one.attribute and any(
            (own, name) in {(one.thing, other) for other in row.get("asks", ())}
            for question in report.questions[:FIRST]
            for _, own, name in question.keys
        ):
            return "asked"
    for finding in report.findings:
        if any((b.id, b.attribute) == (one.thing, one.attribute) for b in finding.rests_on):
            return "told"
    return "asked" if any(_asks(question, one, kind) for question in report.questions[:FIRST]) else ""


def _asks(question: Question, one: Expected, kind: str) -> bool:
    if kind:
        return question.sort == "missing" and kind in question.ask.replace("outlets", "outlet").replace(
            "lights", "light"
        )
    return any((own, name) == (one.thing, one.attribute) for _, own, name in question.keys)


def settled(name: str, seed: int, folder: Path = THIN) -> tuple[int, int]:
    """Of what is open at warning or above, how much is so no more after the first eight answers, and how much was."""
    rulebase = load_rulebase()
    plan = read_plan(load(folder / f"{name}.yaml"), rulebase.vocabulary)
    report = review_plan(plan, rulebase)
    before = {(one.rule, one.step or "") for one in report.open if one.signal in GRAVE}
    found = standing(plan, make_facts(plan, rulebase.vocabulary), rulebase)
    no_such: set[str] = set()
    after = answer(plan, report.questions[:FIRST], found, rulebase, random.Random(seed), no_such)
    left = standing(after, make_facts(after, rulebase.vocabulary), rulebase)
    open_still = {
        (one.rule.id, one.step)
        for one in left.open
        if any(MISSING not in way or not way[MISSING][2] <= no_such for way in one.ways)
    }
    return len(before - open_still), len(before)


def answer(
    plan: Plan, asked: list[Question], found: Standing, rulebase: RuleBase, pick: random.Random, no_such: set[str]
) -> Plan:
    """The plan with answers drawn by how usual they are; `no_such` gets the things that turn out not to be there."""
    entities = {sort: dict(things) for sort, things in plan.entities.items()}
    for question in asked:
        if question.sort == "missing":
            mine = [a for a in found.absent.values() if a.ask == question.ask]
            there = pick.choice(mine) if pick.random() < 0.5 else None
            no_such |= {a.id for a in mine if a is not there}
            if there is not None:
                _add(there, found, entities, rulebase)
            continue
        for sort, own, name in question.keys:
            cell = found.cells.get((sort, own, name))
            if cell is None or own == "?room":
                continue
            if own.startswith("?product of "):  # who names a product says what it is
                step = own.removeprefix("?product of ")
                kinds = sorted(found.cells["product", own, "kind"].allowed)
                kind = Value(pick.choice(kinds), "", 0, 0)
                own = f"product-of-{step}"
                entities["product"].setdefault(own, Entity("product", own, {"kind": kind}, 0))
                old = entities["step"][step]
                using = Value((own,), own, 0, 0)
                entities["step"][step] = Entity("step", step, {**old.values, "using": using}, old.line, old.note)
                if name == "kind":
                    continue
            plain = _drawn(cell, sort, name, rulebase, pick)
            if isinstance(plain, str) and plain.startswith("?product of "):
                made = f"product-of-{own}"
                kinds = sorted(found.cells["product", plain, "kind"].allowed)
                values = {"kind": Value(pick.choice(kinds), "", 0, 0)}
                entities["product"].setdefault(made, Entity("product", made, values, 0))
                plain = made
            old = entities[sort].get(own)
            if plain is None or old is None:
                continue
            many = rulebase.vocabulary.attributes[sort][name].many
            value = Value((plain,) if many and not isinstance(plain, tuple) else plain, str(plain), 0, 0)
            entities[sort][own] = Entity(old.sort, old.id, {**old.values, name: value}, old.line, old.note)
    steps = [entities["step"][step.id] for step in plan.steps]
    return Plan(plan.file, plan.title, plan.units, entities, steps, plan.tree, plan.note)


def _add(there: Any, found: Standing, entities: dict[str, dict[str, Entity]], rulebase: RuleBase) -> None:
    fact = next(f for f in found.possible.site.facts if f.values.get("id") == there.id)
    values = {"kind": Value(there.kind, "", 0, 0)}
    for name, value in fact.values.items():
        if name in ("in", "on", "room") and isinstance(value, str):
            many = rulebase.vocabulary.attributes["part"][name].many
            values[name] = Value((value,) if many else value, "", 0, 0)
    entities["part"]["one-more"] = Entity("part", "one-more", values, 0)


def _drawn(cell: Any, sort: str, name: str, rulebase: RuleBase, pick: random.Random) -> Any:
    usual = usual_of(rulebase)
    attribute = rulebase.vocabulary.attributes[sort][name]
    if cell.sort == "w":
        if not cell.allowed:
            return None
        words = sorted(cell.allowed)
        known = usual.often.get((sort, name), {})
        weights = [known.get(word, 0.15 if known else 0.3) for word in words]
        word = pick.choices(words, weights)[0]
        return () if cell.many and pick.random() < 0.4 else word
    if cell.sort == "n":
        low, high = usual.ranges.get((sort, name), (cell.low, cell.high))
        if attribute.type == "year":
            return pick.randint(1920, 2015)
        if attribute.type == "count":
            return pick.randint(0, 3)
        low, high = max(low, 0.05), min(high, 50.0)
        return math.exp(pick.uniform(math.log(low), math.log(max(high, low * 2))))
    return None
