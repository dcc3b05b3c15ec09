"""Valid plans from a seed: things of the vocabulary at random, and on purpose what some rules look for.

A purely random plan makes few rules speak. So each plan also takes a few rules and builds the things that
their patterns describe, through the rules that deduce what they read.
"""

from __future__ import annotations

import random
from functools import lru_cache
from typing import Any

from advisor.rulebase.base import RuleBase, load_rulebase
from advisor.rulebase.model import AnyOf, Conclusion, Condition, Given, Pattern, Rule, Test, Var
from advisor.rulebase.vocabulary import Attribute
from advisor.units import BadQuantity, read_quantity

SECTIONS = {"room": "rooms", "part": "parts", "product": "products"}
SINGLE = ("house", "code", "crew", "budget")
_NEEDED = {"room": "kind", "part": "kind", "product": "kind", "step": "do"}
_UNITS = {
    "length": "m", "area": "m2", "volume": "m3", "liquid": "m3", "box_volume": "m3", "mass": "kg", "time": "s",
    "temperature": "K", "airflow": "m3/s", "power": "W", "pressure": "Pa", "current": "A", "voltage": "V",
}  # fmt: skip


@lru_cache(maxsize=1)
def _makers() -> dict[str, list[tuple[Rule, Conclusion]]]:
    found: dict[str, list[tuple[Rule, Conclusion]]] = {}
    for rule in load_rulebase().rules:
        for conclusion in rule.conclusions:
            if conclusion.kind == "deduce":
                found.setdefault(conclusion.deduced, []).append((rule, conclusion))
    return found


def _that_may(pattern: Pattern) -> list[tuple[Rule, Conclusion]]:
    """The rules that deduce what the pattern looks for, by the words that both say; else all of its kind."""
    makers = _makers()[pattern.kind]
    words = {t.attribute: t.values for t in pattern.tests if t.op in ("is", "in")}
    fitting = [
        one for one in makers if all(isinstance(v, Var) or v in words.get(name, (v,)) for name, v in one[1].values)
    ]
    return fitting or makers


@lru_cache(maxsize=1)
def _gathered() -> frozenset[object]:
    """Classes that rules alone speak of, where no list has the word for a plan to say."""
    known = load_rulebase().vocabulary.taxonomies.values()
    classes = {name for one in known for name, term in one.terms.items() if term.gathered}
    return frozenset(classes - {name for one in known for name, term in one.terms.items() if not term.gathered})


@lru_cache(maxsize=128)
def _sayable(taxonomy: str) -> list[str]:
    """The words of a list that a plan may say."""
    terms = load_rulebase().vocabulary.taxonomies[taxonomy].terms
    return sorted(name for name, term in terms.items() if not term.gathered)


def make_plan(seed: int, size: int = 1) -> dict[str, Any]:
    """A valid plan as a mapping, the same for one seed and one rule base. `size` multiplies its things."""
    return _Maker(seed, load_rulebase(), size).plan()


class _Maker:
    def __init__(self, seed: int, rulebase: RuleBase, size: int) -> None:
        self.random = random.Random(seed)
        self.rulebase = rulebase
        self.words = rulebase.vocabulary
        self.things: dict[str, dict[str, dict[str, Any]]] = {s: {} for s in (*SECTIONS, "step")}
        self.single: dict[str, dict[str, Any]] = {s: {} for s in SINGLE}
        self.size = size

    def plan(self) -> dict[str, Any]:
        pick = self.random
        for sort, most in (("room", 3), ("part", 5), ("product", 4), ("step", 5)):
            for _ in range(pick.randint(1, most) * self.size):
                self._thing(sort, {})
        for rule in pick.sample(self.rulebase.rules, min(len(self.rulebase.rules), 5 * self.size)):
            self._aim_at(rule, {}, 3)
        for sort, known in self.things.items():
            for own in list(known):
                self._fill(sort, own, known[own], pick.choice((1, 2, 4, 8)))
        for sort, values in self.single.items():
            self._fill(sort, sort, values, pick.choice((0, 2, 6)))
        steps = [{"id": own, **values} for own, values in self.things["step"].items()]
        pick.shuffle(steps)
        plan: dict[str, Any] = {"title": "A generated plan", "units": pick.choice(("us", "metric"))}
        plan |= {sort: values for sort, values in self.single.items() if values}
        plan |= {section: self.things[sort] for sort, section in SECTIONS.items()}
        return {**plan, "steps": steps}

    def _thing(self, sort: str, values: dict[str, Any]) -> str:
        own = f"{sort}-{len(self.things[sort]) + 1}"
        self.things[sort][own] = values
        return own

    def _aim_at(self, rule: Rule, env: dict[str, Any], depth: int) -> None:
        """Build what the rule's patterns look for, as far as that is simple."""
        for condition in rule.conditions:
            self._meet(condition, env, depth)

    def _meet(self, condition: Condition, env: dict[str, Any], depth: int) -> None:
        if isinstance(condition, AnyOf):
            for inside in self.random.choice(condition.branches):
                self._meet(inside, env, depth)
        elif isinstance(condition, Given) and isinstance(condition.left, Var):
            plain = [v for v in condition.right if not isinstance(v, Var) and v not in _gathered()]
            if plain and condition.op in ("is", "in"):
                env.setdefault(condition.left.name, self.random.choice(plain))
        elif not isinstance(condition, Pattern):
            return
        elif condition.kind in _makers() and depth:
            maker, conclusion = self.random.choice(_that_may(condition))
            inner: dict[str, Any] = {}
            cells = dict(conclusion.values)
            for test in condition.tests:
                value = self._wanted(test, env)
                target = cells.get(test.attribute)
                if isinstance(target, Var) and value is not None:
                    inner[target.name] = value
            self._aim_at(maker, inner, depth - 1)
            for test in condition.tests:
                target = cells.get(test.attribute)
                if test.op == "bind" and isinstance(target, Var) and target.name in inner:
                    env.setdefault(test.values[0].name, inner[target.name])
        elif condition.kind in self.things or condition.kind in self.single:
            self._build(condition, env)

    def _build(self, pattern: Pattern, env: dict[str, Any]) -> None:
        sort = pattern.kind
        named = next((t for t in pattern.tests if t.attribute == "id"), None)
        if sort in self.single:
            values = self.single[sort]
        else:
            own = self._wanted(named, env) if named else None
            if own not in self.things[sort]:
                own = self._thing(sort, {})
            values = self.things[sort][own]
            if named and named.op == "bind":
                env[named.values[0].name] = own
        for test in pattern.tests:
            attribute = self.words.attributes[sort].get(test.attribute)
            if attribute is None or test.attribute in ("id", "place", "after") or test.op in ("unknown", "not_in"):
                continue
            plain = self._wanted(test, env)
            if plain is None and test.op in ("bind", "known"):
                plain = self._bound(attribute, test, env)
            if plain is not None and (text := self._written(attribute, plain, test)) is not None:
                values.setdefault(test.attribute, text)

    def _wanted(self, test: Test, env: dict[str, Any]) -> Any:
        if test.op in ("unknown", "not_in", "known"):
            return None
        said = [v for v in test.values if v not in _gathered()]
        value = self.random.choice(said) if said else None
        return env.get(value.name) if isinstance(value, Var) else value

    def _bound(self, attribute: Attribute, test: Test, env: dict[str, Any]) -> Any:
        if attribute.type == "ref" and attribute.of in self.things:
            known = self.things[attribute.of]
            value: Any = self._thing(attribute.of, {}) if self.random.random() < 0.7 or not known else None
            value = value or self.random.choice(sorted(known))
            if test.op == "bind":
                env[test.values[0].name] = value
            return value
        if attribute.type == "term" and test.op == "bind":
            value = self.random.choice(_sayable(attribute.of))
            env[test.values[0].name] = value
            return value
        return None

    def _written(self, attribute: Attribute, plain: Any, test: Test) -> Any:
        """A value that a rule wants, as an author would write it; None where that is not simple."""
        if isinstance(plain, tuple) or (attribute.type == "term" and plain not in _sayable(attribute.of)):
            return None
        if attribute.type in ("term", "ref", "yes_no", "text"):
            return [str(plain)] if attribute.many else str(plain)
        if not isinstance(plain, int | float):
            return None
        if attribute.type in ("year", "count"):
            shift = {"above": 1, "below": -1}.get(test.op, 0)
            return self._checked(attribute, str(round(plain) + shift))
        factor = {"above": 1.3, "at_least": 1.3, "below": 0.8, "at_most": 0.8}.get(test.op, 1.0)
        if attribute.type in _UNITS:
            return self._checked(attribute, f"{plain * factor:.6f} {_UNITS[attribute.type]}")
        return None

    def _checked(self, attribute: Attribute, text: str) -> str | None:
        """The text if it lies within the attribute's limits."""
        try:
            if attribute.type in ("year", "count"):
                low, high = float(attribute.least or 1500), float(attribute.most or 1_000_000)
                return text if low <= float(text) <= high else None
            value = read_quantity(text, attribute.type).si
            low = read_quantity(attribute.least, attribute.type).si if attribute.least else 0.0
            high = read_quantity(attribute.most, attribute.type).si if attribute.most else value
        except BadQuantity:
            return None
        return text if low <= value <= high else None

    def _fill(self, sort: str, own: str, values: dict[str, Any], count: int) -> None:
        """The needed attribute, and some others."""
        known = self.words.attributes[sort]
        needed = _NEEDED.get(sort)
        if needed and needed not in values:
            values[needed] = self._random_value(known[needed], own)
        if sort == "step" and self.random.random() < 0.9:
            values.setdefault("to", [self.random.choice(sorted(self.things["part"]))])
        for name in self.random.sample(sorted(known), min(count, len(known))):
            if name not in values and name != "after":
                value = self._random_value(known[name], own)
                if value is not None:
                    values[name] = value

    def _random_value(self, attribute: Attribute, own: str) -> Any:
        if attribute.many and attribute.type != "profile":
            found = [self._scalar(attribute, own) for _ in range(self.random.choice((1, 1, 2)))]
            return sorted({v for v in found if v is not None}) or None
        return self._scalar(attribute, own)

    def _scalar(self, attribute: Attribute, own: str) -> Any:
        pick = self.random
        if attribute.type == "term":
            return pick.choice(_sayable(attribute.of))
        if attribute.type == "ref":
            others = sorted(n for n in self.things.get(attribute.of, {}) if n != own)
            return pick.choice(others) if others else None
        if attribute.type == "yes_no":
            return pick.choice(("yes", "no"))
        if attribute.type == "text":
            return pick.choice(("as it is", "not sure yet", "Größe 3"))
        if attribute.type == "date":
            return f"2030-0{pick.randint(1, 9)}-1{pick.randint(0, 9)}"
        if attribute.type == "year":
            return str(pick.choice((1900, 1957, 1977, 1978, 1994, 2010)))
        if attribute.type == "count":
            return self._checked(attribute, str(pick.choice((0, 1, 2, 3, 5, 8, 40, 120, 400))))
        if attribute.type == "profile":
            return {f"{place} ft": f"{pick.randint(0, 12)}/8 in" for place in range(0, pick.randint(2, 9), 2)}
        number, _, unit = (attribute.example.partition(":")[2].strip() or "1").partition(" ")
        del number
        return self._checked(attribute, f"{pick.choice((0.1, 0.5, 1, 2, 5, 12, 30, 80, 400))} {unit}".strip())


def shuffled(plan: dict[str, Any], seed: int) -> dict[str, Any]:
    """The same plan with its sections, things and attributes listed in another order; steps keep theirs."""
    pick = random.Random(seed)

    def mix(value: Any) -> Any:
        if not isinstance(value, dict):
            return value
        keys = list(value)
        pick.shuffle(keys)
        return {key: mix(value[key]) for key in keys}

    return {**mix(plan), "steps": [mix(step) for step in plan["steps"]]}
