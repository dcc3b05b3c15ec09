"""A plan as facts: what it states, what is presumed for it, and what it leaves unknown."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from advisor.plan.model import Basis, Entity, FactBase, Plain, Plan, PlanFact
from advisor.rulebase.values import read_literal, type_of
from advisor.rulebase.vocabulary import Attribute, Presumption, Vocabulary

_BY_PLACE = ("to", "using")


def make_facts(plan: Plan, vocabulary: Vocabulary) -> FactBase:
    """The facts of a plan, in an order that does not depend on how its sections are listed."""
    base = FactBase([])
    for sort in ("house", "code", "crew", "budget", "room", "part", "product"):
        for own in sorted(plan.entities.get(sort, {})):
            _entity(plan.entities[sort][own], vocabulary, base)
    for place, step in enumerate(plan.steps):
        _step(step, place, plan, vocabulary, base)
    return base


def _entity(entity: Entity, vocabulary: Vocabulary, base: FactBase) -> None:
    values: dict[str, Plain] = {name: value.plain for name, value in entity.values.items()}
    presumed = _presume(entity, values, vocabulary, base)
    values["id"] = entity.id
    base.facts.append(PlanFact(entity.sort, tuple(sorted(values.items())), entity.line, presumed))
    base.facts.extend(_items(entity, values, presumed))


def _step(step: Entity, place: int, plan: Plan, vocabulary: Vocabulary, base: FactBase) -> None:
    values: dict[str, Plain] = {name: value.plain for name, value in step.values.items()}
    presumed = _presume(step, values, vocabulary, base)
    parts, products = values.pop("to", ()), values.pop("using", ())
    values |= {"id": step.id, "place": place}
    for part, used in product(_or_none(parts), _or_none(products)):
        own = dict(values)
        if part is not None:
            own["to"] = part
            room = plan.entities["part"][str(part)].values.get("room")
            if "in" not in own and room is not None:
                own["in"] = room.plain
        if used is not None:
            own["using"] = used
        base.facts.append(PlanFact("step", tuple(sorted(own.items())), step.line, presumed))
    base.facts.extend(_items(step, values, presumed))


def _or_none(words: Plain) -> tuple[Plain | None, ...]:
    return words if isinstance(words, tuple) and words else (None,)


def _items(entity: Entity, values: dict[str, Plain], presumed: frozenset[str]) -> Iterator[PlanFact]:
    """One fact a member of a list, so that rules can bind members one by one."""
    for name, members in sorted(values.items()):
        if not isinstance(members, tuple) or name in _BY_PLACE or any(isinstance(m, tuple) for m in members):
            continue
        for member in members:
            cells = (("attribute", name), ("of", entity.id), ("sort", entity.sort), ("value", member))
            yield PlanFact("item", cells, entity.line, frozenset({"value"}) if name in presumed else frozenset())


def _presume(entity: Entity, values: dict[str, Plain], vocabulary: Vocabulary, base: FactBase) -> frozenset[str]:
    """Fill in cautious values for what is left out, and note every open question."""
    presumed = set()
    for name, attribute in sorted(vocabulary.attributes.get(entity.sort, {}).items()):
        if name in entity.values:
            continue
        ask = attribute.ask.replace("{{ id }}", entity.id).replace("{{id}}", entity.id)
        key = (entity.sort, entity.id, name)
        chosen = next((p for p in attribute.presume if _applies(p, entity, vocabulary)), None)
        if chosen is not None:
            plain = read_literal(chosen.value, type_of(attribute), vocabulary)
            values[name] = (plain,) if attribute.many else plain
            presumed.add(name)
            base.presumptions[key] = Basis(*key, chosen.value, chosen.because, ask)
        elif ask and not attribute.quiet:
            base.unknowns[key] = Basis(*key, "", "", ask)
    return frozenset(presumed)


def _applies(presumption: Presumption, entity: Entity, vocabulary: Vocabulary) -> bool:
    if presumption.for_kinds:
        kind = entity.values.get("kind")
        attribute = vocabulary.attributes[entity.sort].get("kind")
        if kind is None or attribute is None or not _is_one(str(kind.plain), presumption.for_kinds, attribute, vocabulary):
            return False
    return not any(_stated(entity, name, wanted, vocabulary) for name, wanted in presumption.unless)


def _is_one(kind: str, classes: tuple[str, ...], attribute: Attribute, vocabulary: Vocabulary) -> bool:
    return bool(set(classes) & {kind, *vocabulary.taxonomies[attribute.of].above(kind)})


def _stated(entity: Entity, name: str, wanted: str, vocabulary: Vocabulary) -> bool:
    value = entity.values.get(name)
    if value is None:
        return False
    attribute = vocabulary.attributes[entity.sort][name]
    if attribute.type != "term":
        return str(value.plain) == wanted
    words = value.plain if isinstance(value.plain, tuple) else (value.plain,)
    return any(_is_one(str(word), (wanted,), attribute, vocabulary) for word in words)
