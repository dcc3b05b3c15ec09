"""Advice as facts: what a finding tells people to use or do is checked by the same rules."""

from __future__ import annotations

import re
from collections.abc import Iterable

from advisor.engine.guards import value_of
from advisor.engine.run import Drawn
from advisor.plain import Plain
from advisor.plan.model import FactBase, Plan, PlanFact
from advisor.rulebase.model import Advice
from advisor.rulebase.vocabulary import Vocabulary


def advised_facts(drawn: Iterable[Drawn], plan: Plan, base: FactBase, vocabulary: Vocabulary) -> tuple[PlanFact, ...]:
    """The facts that advised products and steps come to, in a fixed order, each marked as advised."""
    places = {step.id: place for place, step in enumerate(plan.steps)}
    steps: dict[str, list[PlanFact]] = {}
    for fact in base.facts:
        if fact.kind == "step":
            steps.setdefault(str(fact.get("id")), []).append(fact)
    facts: set[PlanFact] = set()
    for one in drawn:
        for advice in one.conclusion.advice:
            if advice.place is None or advice.form not in ("use", "add"):
                continue
            step = str(one.env[advice.place[1].name])
            if step not in places:
                continue  # advice upon advice: the plan has no such step
            values = [(name, value_of(operand, one.env)) for name, operand in advice.values]
            if advice.form == "use":
                facts.update(_use(values, steps[step], vocabulary))
            else:
                facts.update(_add(values, advice, step, places[step], steps[step], vocabulary))
    return tuple(sorted(facts, key=lambda f: (f.kind, repr(f.values))))


def neighbor(advised_step: str) -> str:
    """The step of the plan that an advised step stands beside, from its name."""
    if "(advised " not in advised_step:
        return ""
    found = re.search(r" \(advised (?:before|after) (.*)\)$", advised_step)
    return found.group(1) if found else ""


def product_name(values: dict[str, Plain]) -> str:
    """What an advised product is called in a plan: `shellac primer`."""
    return " ".join(str(values[k]) for k in ("binder", "kind") if k in values)


def _group(values: list[tuple[str, Plain]], sort: str, vocabulary: Vocabulary) -> dict[str, Plain]:
    known = vocabulary.attributes.get(sort, {})
    grouped: dict[str, Plain] = {}
    for name, value in values:
        if name in known and known[name].many and name not in ("to", "using"):
            before = grouped.get(name, ())
            grouped[name] = tuple(sorted({*(before if isinstance(before, tuple) else ()), value}, key=str))
        else:
            grouped[name] = value
    return grouped


def _items(sort: str, own: str, values: dict[str, Plain]) -> list[PlanFact]:
    return [
        PlanFact("item", (("attribute", name), ("of", own), ("sort", sort), ("value", member)), advised=True)
        for name, value in sorted(values.items())
        if isinstance(value, tuple)
        for member in value
    ]


def _use(values: list[tuple[str, Plain]], facts_of_step: list[PlanFact], vocabulary: Vocabulary) -> list[PlanFact]:
    product = _group(values, "product", vocabulary)
    product["id"] = f"{product_name(product)} (advised)"
    facts = [PlanFact("product", tuple(sorted(product.items())), advised=True)]
    facts += _items("product", str(product["id"]), product)
    for fact in facts_of_step:
        changed = dict(fact.values) | {"using": product["id"]}
        facts.append(PlanFact("step", tuple(sorted(changed.items())), fact.line, fact.presumed, True))
    return facts


def _add(
    values: list[tuple[str, Plain]],
    advice: Advice,
    step: str,
    place: int,
    facts_of_step: list[PlanFact],
    vocabulary: Vocabulary,
) -> list[PlanFact]:
    added = _group(values, "step", vocabulary)
    before = bool(advice.place and advice.place[0] == "before")
    added["id"] = f"{added.get('do', 'step')} (advised {'before' if before else 'after'} {step})"
    added["place"] = place - 0.5 if before else place + 0.5
    if "in" not in added:
        room = facts_of_step[0].get("in")
        if room is not None:
            added["in"] = room
    facts = [PlanFact("step", tuple(sorted(added.items())), advised=True)]
    return facts + _items("step", str(added["id"]), added)
