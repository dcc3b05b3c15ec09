"""What must hold of every plan into which all advice was taken, judged by other means than the rules that advised.

Facts are compared as YAML, needs of the order by a planning library, air by the calculators, and what is answered by
taking its entries out again.
"""

from __future__ import annotations

import hashlib
import os
import random
from functools import lru_cache
from typing import Any

import yaml
from msgspec.structs import replace

from advisor.calculators.airflow import airflow_for_exposure_limit
from advisor.plan import read_plan
from advisor.plan.model import Entity
from advisor.plan.supposed import as_it_is
from advisor.review.model import Report
from advisor.review.reviewing import review_plan
from advisor.review.revision.revise import Revision, apply, reordered
from advisor.rulebase.base import RuleBase, load_rulebase
from advisor.rulebase.model import SIGNALS
from advisor.tables import table
from advisor.units import to_base


class Plain(yaml.CSafeLoader):
    """Scalars as written: `no` stays a word."""


Plain.yaml_implicit_resolvers = {}
# Of a can of up to a quart a rag along a joint takes two fluid ounces (common practice).
QUART, RAG = to_base(1, "qt", "volume"), to_base(2, "floz", "volume")
GRAVE = SIGNALS.index("warning")
FULL = os.environ.get("TAKEN") == "all"
# How a crew works and keeps its things is theirs to decide; all other facts stay.
DECIDED = {"hours_per_day", "days_in_a_row", "closed_can"}
FACTS = ("title", "house", "code", "rooms", "parts", "products", "budget")


def taken(name: str, one_in: int = 10) -> bool:
    """Whether this run takes the plan: all with TAKEN=all (`make taken`), else a tenth by a hash of its name."""
    return FULL or int(hashlib.sha256(name.encode()).hexdigest(), 16) % one_in == 0


@lru_cache(maxsize=1)
def rules() -> RuleBase:
    """The built-in rules."""
    return load_rulebase()


def as_text(plan: dict[str, Any]) -> str:
    """A plan as YAML, its steps a line each."""
    return yaml.safe_dump(plan, sort_keys=False, allow_unicode=True, width=1000)


def grave(report: Report) -> set[tuple[str, str]]:
    """Rule and step of what is a warning or worse."""
    return {(f.rule, f.step or "") for f in report.findings if f.rank >= GRAVE}


def wrong(revision: Revision) -> list[str]:
    """All that does not hold of a revision, in words."""
    before, after = (yaml.load(t, Loader=Plain) for t in (revision.before, revision.after))
    return [*facts_changed(before, after), *silent(revision, before, after), *in_vain(revision), *thin_air(revision)]


def facts_changed(before: dict[str, Any], after: dict[str, Any]) -> list[str]:
    """Stated facts that are other now, gear that is suddenly owned, and steps that are gone."""
    found = []
    for section in (*FACTS, "crew"):
        for path, value in _leaves(before.get(section), (section,)):
            now = _at(after, path)
            if now != value and path[-1] not in DECIDED:
                found.append(f"{'.'.join(map(str, path))} was {value!r} and is {now!r}")
    owned = [_many(_at(plan, ("crew", "owns"))) for plan in (before, after)]
    found += [f"{gear} is owned now" for gear in owned[1] if gear not in owned[0]]
    ids = {step.get("id") for step in after["steps"]}
    return found + [f"step {s['id']} is gone" for s in before["steps"] if s.get("id") and s["id"] not in ids]


def silent(revision: Revision, before: dict[str, Any], after: dict[str, Any]) -> list[str]:
    """Grave findings that are gone although no entry answers them and nothing near their step was changed."""
    still = {f.id for f in revision.new.findings}
    answered = {one.about.id for one in revision.new.answered}
    old = _by_id(read_plan(revision.before, rules().vocabulary, "x"), before)
    new = _by_id(read_plan(revision.after, rules().vocabulary, "x"), after)
    found = []
    for finding in revision.old.findings:
        if finding.rank < GRAVE or finding.id in still | answered:
            continue
        added = [own for own in new if own not in old]
        about = {finding.step, finding.first, *finding.answer[1:], *_before_at_it(finding.step, after)} - {None}
        changed = finding.step is None or any(old.get(own) != new.get(own) for own in about)  # type: ignore[arg-type]
        if not changed and not added and list(old) == [own for own in new if own in old]:
            found.append(f"{finding.id} is silent and nothing was changed")
    return found


def _before_at_it(step: str | None, plan: dict[str, Any]) -> list[str]:
    """The earlier steps at what the step is done to: droppings that were wetted by then are not stirred up dry."""
    ids = [one.get("id") for one in plan["steps"]]
    if step not in ids:
        return []
    place = ids.index(step)
    parts = set(_many(plan["steps"][place].get("to")))
    return [own for own, one in zip(ids[:place], plan["steps"], strict=False) if parts & set(_many(one.get("to")))]


def in_vain(revision: Revision) -> list[str]:
    """Grave findings that count as answered and do not speak again once all entries are taken out of the plan."""
    plan = revision.new.plan
    waiting = [one.about for one in revision.new.answered if one.finding and one.about.rank >= GRAVE]
    if not waiting:
        return []
    bare = review_plan(replace(as_it_is(plan), to_get=(), to_find_out=()), rules())
    speaking = {f.id for f in bare.findings}
    places = {step.id: place for place, step in enumerate(plan.steps)}
    found = [
        f"{one.id} counts as answered and is not there without entries" for one in waiting if one.id not in speaking
    ]
    for one in revision.new.answered:
        if one.finding is None or one.about.step is None:
            continue
        for point in one.by:
            first = min((places[s] for s in point.before), default=-1)
            if first > places[one.about.step]:
                found.append(f"{one.about.id} is answered only later, before {point.before}")
    return found


def thin_air(revision: Revision) -> list[str]:
    """Fans to get that move less air than the calculator asks for, of solvents whose make-up the plan states."""
    plan = revision.new.plan
    found = []
    for entry in plan.to_get:
        flow = next((v.plain for _, name, v in entry.values if name == "airflow"), None)
        for step in plan.steps:
            if flow is None or step.id not in entry.steps or "using" not in step.values:
                continue
            amount = step.values["amount"].plain if "amount" in step.values else None
            rag = amount is None and str(step.values["by"].plain if "by" in step.values else "") == "wipe"
            for own in step.values["using"].plain:  # type: ignore[union-attr]
                product = plan.entities["product"][str(own)]
                small = "amount" in product.values and float(product.values["amount"].plain) <= QUART  # type: ignore[arg-type]
                needed = air_for(product, RAG if rag and small else amount)
                if needed is not None and flow < needed * (1 - 1e-9):  # type: ignore[operator]
                    found.append(f"{entry.what} at {step.id} moves {flow} and {own} needs {needed}")
    return found


def air_for(product: Entity, amount: Any) -> float | None:
    """Air for the exposure limit of a product that is dry within an hour; None where the plan lacks its label."""
    said = {name: value.plain for name, value in product.values.items()}
    row = table("solvents").row(str(said.get("carrier")))
    amount = amount or said.get("amount")
    if (
        row is None
        or amount is None
        or "solvent_fraction" not in said
        or not isinstance(row.cells.get("niosh_rel"), float)
    ):
        return None
    cells: dict[str, Any] = row.cells
    share = float(said["solvent_fraction"])  # type: ignore[arg-type]
    return airflow_for_exposure_limit(amount, share, cells["sg"], cells["mw"], cells["niosh_rel"], 3600.0).value


def in_random_order(text: str, name: str, seed: int) -> Report:
    """All advice taken one finding at a time, in an order of the seed, until nothing changes any more."""
    pick, base = random.Random(seed), rules()
    for _ in range(12):
        plan = read_plan(text, base.vocabulary, name)
        report = review_plan(plan, base)
        before = text
        findings = list(report.findings)
        pick.shuffle(findings)
        text = apply(text, plan, findings, base, name, as_given=True)
        if text == before:
            text = reordered(text, report, {"all"}, base, name)
        if text == before:
            break
    return review_plan(read_plan(text, base.vocabulary, name), base)


def _by_id(plan: Any, said: dict[str, Any]) -> dict[str, Any]:
    """Each step's mapping by its id, in the order of the file."""
    names = sorted(plan.steps, key=lambda step: step.line)
    return {step.id: raw for step, raw in zip(names, said["steps"], strict=True)}


def _leaves(value: Any, path: tuple[Any, ...]) -> list[tuple[tuple[Any, ...], Any]]:
    if isinstance(value, dict):
        return [leaf for key, inner in value.items() for leaf in _leaves(inner, (*path, key))]
    return [(path, value)] if value is not None else []


def _at(value: Any, path: tuple[Any, ...]) -> Any:
    for key in path:
        value = value.get(key) if isinstance(value, dict) else None
    return value


def _many(value: Any) -> list[Any]:
    return value if isinstance(value, list) else [] if value is None else [value]
