"""Answers put into a plan: can an open practice be made to speak by some of them? Found by search."""

from __future__ import annotations

import math
import random

from msgspec.structs import replace

from advisor.plain import Plain
from advisor.plan import make_facts
from advisor.plan.model import Entity, Plan, Value
from advisor.rulebase.base import RuleBase
from advisor.site.assume import MISSING, Set
from advisor.site.run import run
from advisor.site.standing import Practice, Standing

TRIES = 40


def can_speak(practice: Practice, plan: Plan, found: Standing, rulebase: RuleBase, seed: int = 0) -> bool:
    """Whether some answers to what it hangs on make the practice speak at its step."""
    pick = random.Random(seed)
    sets = list(practice.ways)
    for turn in range(TRIES):
        one = sets[turn % len(sets)]
        made = answered(plan, one, found, rulebase, pick)
        if made is None:
            continue
        outcome = run(rulebase, make_facts(made, rulebase.vocabulary).facts)
        for drawn in outcome.drawn:
            step = drawn.conclusion.step
            at = "" if step is None else str(drawn.env[step.name])
            if drawn.why.variant.rule.id == practice.rule.id and at == practice.step:  # type: ignore[attr-defined]
                return True
    return False


def answered(plan: Plan, assumed: Set, found: Standing, rulebase: RuleBase, pick: random.Random) -> Plan | None:
    """The plan with answers that fit the assumptions, where a constraint leaves a choice one at random."""
    entities = {sort: dict(things) for sort, things in plan.entities.items()}
    changed: dict[tuple[str, str], dict[str, Value]] = {}
    renamed = {}
    if MISSING in assumed:
        own = next(iter(assumed[MISSING][2]))
        absent = found.absent[own]
        values = {"kind": _value(absent.kind)}
        fact = next(f for f in found.possible.site.facts if f.values.get("id") == own)
        for name, value in fact.values.items():
            if name in ("in", "on", "beside", "above", "room") and isinstance(value, str):
                many = rulebase.vocabulary.attributes["part"][name].many
                values[name] = _value((value,) if many else value)
        renamed[own] = "one-more"
        entities["part"]["one-more"] = Entity("part", "one-more", values, 0)
    for key, constraint in sorted(assumed.items()):
        sort, own, name = key
        if key == MISSING or sort in ("!", "~") or constraint[0] == "k" or constraint[1]:
            continue
        if own == "?room":
            own = renamed.setdefault(own, "a-room")
            entities["room"].setdefault(own, Entity("room", own, {"kind": _value("living room")}, 0))
        if own.startswith("?product of "):
            made = f"product-of-{own[len('?product of ') :]}"
            renamed[own] = made
            kinds = sorted(found.cells["product", own, "kind"].allowed)
            entities["product"].setdefault(made, Entity("product", made, {"kind": _value(pick.choice(kinds))}, 0))
            changed.setdefault(("step", own[len("?product of ") :]), {})["using"] = _value((made,))
            own = made
        plain = _choice(constraint, key, found, rulebase, pick)
        if plain is None:
            return None
        attribute = rulebase.vocabulary.attributes[sort][name]
        for one in plain if isinstance(plain, tuple) else (plain,):
            if isinstance(one, str) and one.startswith("?product of "):
                made = f"product-of-{one[len('?product of ') :]}"
                kinds = sorted(found.cells["product", one, "kind"].allowed)
                entities["product"].setdefault(made, Entity("product", made, {"kind": _value(pick.choice(kinds))}, 0))
                plain = tuple(made if p == one else p for p in plain) if isinstance(plain, tuple) else made
        if isinstance(plain, str) and plain.startswith("?"):
            entities["room"].setdefault("a-room", Entity("room", "a-room", {"kind": _value("living room")}, 0))
            plain = "a-room"
        if attribute.many and not isinstance(plain, tuple):
            plain = (plain,)
        changed.setdefault((sort, own), {})[name] = _value(plain)
    steps = list(plan.steps)
    for (sort, own), values in changed.items():
        old = entities[sort].get(own)
        if old is None:
            return None
        new = Entity(old.sort, old.id, {**old.values, **values}, old.line, old.note)
        entities[sort][own] = new
        steps = [new if step is old else step for step in steps]
    return replace(plan, entities=entities, steps=steps)


def _value(plain: Plain) -> Value:
    return Value(plain, str(plain), 0, 0)


def _choice(constraint, key, found, rulebase, pick):  # type: ignore[no-untyped-def]
    cell = found.cells.get(key)
    sort, _, name = key
    attribute = rulebase.vocabulary.attributes[sort][name]
    tag = constraint[0]
    if tag == "w":
        return pick.choice(sorted(constraint[2]))
    if tag == "l":
        members = {pick.choice(sorted(one)) for one in sorted(constraint[2], key=sorted) if one}
        if any(m in constraint[3] for m in members):
            return None
        if not members:
            left = sorted((cell.allowed if cell else frozenset()) - constraint[3])
            members = {pick.choice(left)} if left else set()
        return tuple(sorted(members)) if members else None
    whole = attribute.type in ("year", "count")
    low, high = (constraint[2], constraint[3]) if tag == "n" else (-math.inf, math.inf)
    if tag == "n" or (cell is not None and cell.sort == "n"):
        low, high = max(low, cell.low if cell else low), min(high, cell.high if cell else high)
        value = _number(low, high, attribute.type, pick)
        return round(value) if whole else value
    if attribute.type == "yes_no":
        return pick.choice(("yes", "no"))
    if cell is not None and cell.allowed:
        return pick.choice(sorted(cell.allowed))
    if attribute.type == "profile":
        return tuple((place * 0.6, pick.choice((0.0, 0.005, 0.02, 0.04))) for place in range(6))
    return "some words" if attribute.type == "text" else None


def _number(low: float, high: float, kind: str, pick: random.Random) -> float:
    """A number between the limits, of any size that things have."""
    if kind == "year":
        low, high = max(low, 1880.0), min(high, 2025.0)
        return pick.uniform(low, high) if low < high else low
    if kind == "temperature":
        return pick.uniform(max(low, 255.0), min(high, 330.0)) if low < 330.0 else low + 1
    if low > 0 and not math.isinf(high) and high / low < 10:
        return pick.uniform(low, high)
    if high <= 0:  # an outlet that hangs below the top
        return -math.exp(pick.uniform(math.log(max(-high, 1e-3)), math.log(max(min(-low, 10.0), 2e-3))))
    bottom = math.log(max(low, 1e-3) if low > 0 else 1e-3)
    top = math.log(max(min(high, 1e4), 2e-3))
    if pick.random() < 0.5 and low > 0:
        top = min(top, math.log(low * 4))
    return math.exp(pick.uniform(bottom, top)) if bottom < top else max(low, 0.0) * 1.0001
