"""A plan as facts: what it states, what is presumed for it, and what it leaves unknown."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from itertools import product

from advisor.errors import InputError, Problem
from advisor.plain import Plain
from advisor.plan.added import part_of_added
from advisor.plan.meaning import action_meant
from advisor.plan.model import Basis, Entity, FactBase, Plan, PlanFact
from advisor.plan.rooms import RoomsOfParts
from advisor.plan.supposed import as_it_is
from advisor.plan.values import BadValueError, scalar_value
from advisor.rulebase.vocabulary import SORTS, Attribute, Presumption, Vocabulary

_SPREAD = ("to", "using")  # a step becomes one fact for each of their pairings
Key = tuple[str, str, str]  # sort, id, attribute


def make_facts(plan: Plan, vocabulary: Vocabulary) -> FactBase:
    """The facts of a plan, in an order that does not depend on how its sections are listed.

    What is still to get is not there (`supposed.py`). Raises InputError only where the vocabulary presumes a value
    that it does not know itself.
    """
    plan = as_it_is(plan)
    base = FactBase([])
    rooms = RoomsOfParts(plan)
    settled: set[Key] = set()
    for sort in sorted(set(SORTS) - {"step"}):
        entities = plan.entities.get(sort, {})
        for own in sorted(entities):
            room = rooms.of(own) if sort == "part" and "room" not in entities[own].values else None
            if room is not None:
                settled.add((sort, own, "room"))
            _entity(entities[own], vocabulary, base, {} if room is None else {"room": room})
    for place, step in enumerate(plan.steps):
        if _step(step, place, plan, rooms, vocabulary, base):
            settled.add(("step", step.id, "in"))
    base.unknowns = Unknowns(plan, vocabulary, base.presumptions, settled)
    return base


def _entity(entity: Entity, vocabulary: Vocabulary, base: FactBase, placed: dict[str, Plain]) -> None:
    values = {n: v for n, v in _stated(entity).items() if n not in meant_elsewhere(entity, vocabulary)} | placed
    presumed = presume(entity, values, vocabulary, base)
    items = list(_items(entity, values, presumed, vocabulary))
    base.facts.append(_fact(entity, {**values, "id": entity.id}, presumed))
    base.facts.extend(items)


def _step(step: Entity, place: int, plan: Plan, rooms: RoomsOfParts, vocabulary: Vocabulary, base: FactBase) -> bool:
    """Add the step's facts; whether each of them has its room."""
    values = _stated(step)
    presumed = presume(step, values, vocabulary, base)
    items = list(_items(step, values, presumed, vocabulary))
    values |= {"id": step.id, "place": place}
    parts, products = (_members(values.pop(name, ())) for name in _SPREAD)
    everywhere = True
    for part, used in product(parts, products):
        own = dict(values)
        if part is not None:
            own["to"] = part
            room = rooms.of(str(part))
            if room is not None:
                own.setdefault("in", room)
        if used is not None:
            own["using"] = used
        if "do" in own:
            own["do"] = action_meant(step, _name(part), _name(used), plan.entities, vocabulary)
        everywhere &= "in" in own
        base.facts.append(_fact(step, own, presumed))
    base.facts.extend(items)
    return everywhere


def meant_elsewhere(entity: Entity, vocabulary: Vocabulary) -> dict[str, str]:
    """What is stated of a thing and says nothing of its kind, with the attribute that is meant there.

    The depth of a sink is that of its bowl or of its cabinet: it is read by no rule as either.
    """
    kind = entity.values.get("kind")
    known = vocabulary.attributes.get(entity.sort, {})
    told = [known[name] for name in sorted(entity.values) if known[name].not_of]
    if kind is None or not told:
        return {}
    classes = {str(kind.plain), *vocabulary.taxonomies[known["kind"].of].above(str(kind.plain))}
    return {one.name: meant for one in told for word, meant in one.not_of if word in classes}


def _name(member: Plain | None) -> str | None:
    return None if member is None else str(member)


def _fact(entity: Entity, values: dict[str, Plain], presumed: frozenset[str]) -> PlanFact:
    return PlanFact(entity.sort, tuple(sorted(values.items())), entity.line, presumed)


def _stated(entity: Entity) -> dict[str, Plain]:
    return {name: _sorted(value.plain) for name, value in entity.values.items()}


def _sorted(plain: Plain) -> Plain:
    # A profile is a tuple of pairs in order of place, so that sorting leaves it alone.
    return tuple(sorted(set(plain))) if isinstance(plain, tuple) else plain


def _members(plain: Plain) -> tuple[Plain | None, ...]:
    return plain if isinstance(plain, tuple) and plain else (None,)


def _items(
    entity: Entity, values: dict[str, Plain], presumed: frozenset[str], vocabulary: Vocabulary
) -> Iterator[PlanFact]:
    """One fact for each member of a list, so that rules can bind members one by one."""
    known = vocabulary.attributes.get(entity.sort, {})
    for name, members in sorted(values.items()):
        if not known[name].many or not isinstance(members, tuple) or (entity.sort == "step" and name in _SPREAD):
            continue
        marks = frozenset({"value"}) if name in presumed else frozenset()
        for member in members:
            cells = (("attribute", name), ("of", entity.id), ("sort", entity.sort), ("value", member))
            yield PlanFact("item", cells, entity.line, marks)


def presume(entity: Entity, values: dict[str, Plain], vocabulary: Vocabulary, base: FactBase) -> frozenset[str]:
    """Fill in cautious values for what is left out; the names of those that were."""
    presumed = set()
    for name, value in sorted(entity.values.items()):
        if value.presumed:
            presumed.add(name)
            key = (entity.sort, entity.id, name)
            ask = question(vocabulary.attributes[entity.sort][name], entity.id)
            base.presumptions[key] = Basis(*key, str(value.plain), value.presumed, ask)
    for name, attribute in sorted(vocabulary.attributes.get(entity.sort, {}).items()):
        if not attribute.presume or name in entity.values:
            continue
        chosen = next((p for p in attribute.presume if _applies(p, entity, vocabulary)), None)
        if chosen is not None:
            plain = _read(attribute, chosen.value, vocabulary)
            values[name] = (plain,) if attribute.many else plain
            presumed.add(name)
            key = (entity.sort, entity.id, name)
            base.presumptions[key] = Basis(*key, chosen.value, chosen.because, question(attribute, entity.id))
    return frozenset(presumed)


def question(attribute: Attribute, own: str) -> str:
    """The question that settles an attribute of the thing."""
    ask = attribute.ask
    if _PLURAL.search(own):
        verb, space, rest = ask.partition(" ")
        ask = _PLURAL_VERBS.get(verb, verb) + space + rest if rest.startswith("{{") else ask
    return ask.replace("{{ id }}", own).replace("{{id}}", own)


def value_in_words(attribute: Attribute, sort: str, own: str, value: str) -> str:
    """A value of a thing as a person would say it, where several are to be told apart: "door: the kitchen"."""
    name, of = attribute.name.replace("_", " "), own.replace("-", " ")
    if attribute.type == "yes_no":
        return f"{question(attribute, own)} {value.capitalize()}"
    if own == sort:
        return f"{name}: {value}"
    if (sort, attribute.name) == ("step", "do") and (part := part_of_added(own, value)):
        return f"{value} the {part.replace('-', ' ')}"
    if (sort, attribute.name, own) == ("room", "kind", value.replace(" ", "-")):
        return value
    if attribute.type == "ref":
        return f"{of}: {'' if name == 'to' else f'{name} '}the {value.replace('-', ' ')}"
    return f"{of}: {name} {value}"


# `doors` and `upper-shelves`, but no `glass`, `bus` or `basis`; a name with a number is that of one thing
_PLURAL = re.compile("[^aisu]s$|[a-z]es$")
_PLURAL_VERBS = {"Is": "Are", "Does": "Do", "Has": "Have"}


class Unknowns(Mapping[Key, Basis]):
    """Every attribute that is neither stated nor presumed and has a question; made when looked at.

    A large plan leaves hundreds of thousands unknown, and a review asks for a handful.
    """

    def __init__(
        self, plan: Plan, vocabulary: Vocabulary, presumptions: Mapping[Key, Basis], settled: set[Key]
    ) -> None:
        self._entities, self._vocabulary = plan.entities, vocabulary
        self._presumptions, self._settled = presumptions, settled
        self._made: dict[Key, Basis] = {}  # in a crowded plan a thousand findings rest on the same thousand

    def __getitem__(self, key: Key) -> Basis:
        if key in self._made:
            return self._made[key]
        sort, own, name = key
        attribute = self._vocabulary.attributes[sort][name]
        entity = self._entities[sort][own]
        told = name in entity.values or key in self._presumptions or key in self._settled
        if told or not attribute.ask or attribute.quiet:
            raise KeyError(key)
        return self._made.setdefault(key, Basis(*key, "", "", question(attribute, own)))

    def __iter__(self) -> Iterator[Key]:
        for sort in sorted(self._entities):
            for own in sorted(self._entities[sort]):
                for name in sorted(self._vocabulary.attributes.get(sort, {})):
                    if (sort, own, name) in self:
                        yield sort, own, name

    def __len__(self) -> int:
        return sum(1 for _ in self)


def _applies(presumption: Presumption, entity: Entity, vocabulary: Vocabulary) -> bool:
    if presumption.for_kinds:
        name = "do" if entity.sort == "step" else "kind"
        kind = entity.values.get(name)
        attribute = vocabulary.attribute(entity.sort, name)
        if kind is None or attribute is None:
            return False
        classes = {str(kind.plain), *vocabulary.taxonomies[attribute.of].above(str(kind.plain))}
        if not classes.intersection(presumption.for_kinds):
            return False
    return not any(_holds(entity, name, wanted, vocabulary) for name, wanted in presumption.unless)


def _holds(entity: Entity, name: str, wanted: str, vocabulary: Vocabulary) -> bool:
    """Whether the author stated that value, or for a term a kind of it."""
    attribute = vocabulary.attribute(entity.sort, name)
    value = entity.values.get(attribute.name) if attribute else None
    if attribute is None or value is None:
        return False
    plain = _read(attribute, wanted, vocabulary)
    meant = {plain}
    if attribute.type == "term":
        meant |= vocabulary.taxonomies[attribute.of].below(str(plain))
    members = value.plain if isinstance(value.plain, tuple) else (value.plain,)
    return any(member in meant for member in members)


def _read(attribute: Attribute, text: str, vocabulary: Vocabulary) -> Plain:
    if attribute.type == "ref":
        return text
    try:
        return scalar_value(attribute, text, vocabulary, lambda word, taxonomy: "")
    except BadValueError as error:
        place = f"vocabulary of {attribute.sort}"
        raise InputError([Problem(place, 0, 0, f"the presumption of '{attribute.name}'{error}")]) from error
