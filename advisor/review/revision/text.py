"""A plan's text with what is written into it: where things stand, and the words that their author used."""

from __future__ import annotations

import re
from collections.abc import Mapping
from math import isclose

from advisor.plain import Plain
from advisor.plan.editing import Content, PlanText
from advisor.plan.model import Basis, Plan
from advisor.review.revision.entries import EntryWriter
from advisor.review.revision.written import ValueWritten, Written
from advisor.review.taken_along import owns, whole
from advisor.rulebase.base import RuleBase
from advisor.rulebase.values import type_of
from advisor.showing import show
from advisor.units import DIMENSIONS, read_quantity

_SECTIONS = {"room": "rooms", "part": "parts", "product": "products", "step": "steps"}


class Writing:
    """One document and the plan that it says, with what was written."""

    def __init__(self, document: PlanText, plan: Plan, rulebase: RuleBase, wished: set[tuple[str, str, str]]) -> None:
        self.document, self.plan, self.rulebase = document, plan, rulebase
        self.wished = wished  # steps asked for in this round: their text, and where
        self.whole = whole()
        self.entries = EntryWriter(document, plan, rulebase.vocabulary)
        self.names: set[str] = set()
        self.waits: dict[str, float] = {}
        self.numbers = {line: n for n, line in enumerate(sorted(s.line for s in plan.steps))}
        self.added: list[int] = []  # where steps went in, each counted in the file as it was then
        self.unknown: list[Basis] = []  # of products and rooms, what the finding could not know
        self.undone_by = ""  # the step that undid what is needed again
        self.written: list[Written] = []
        self.flows: list[float] = []  # fresh air that the finding worked out

    def _written(self, sort: str, name: str, values: list[Plain]) -> Content:
        attribute = self.rulebase.vocabulary.attributes[sort][name]
        kind = type_of(attribute)
        texts = []
        for value in values:
            if kind in DIMENSIONS and isinstance(value, int | float):
                texts.append(measure(float(value), kind, self.plan.units))
            else:
                texts.append(str(value))
        return texts[0] if len(texts) == 1 and not (attribute.many and attribute.type == "term") else texts

    def _place(self, step: str) -> tuple[str, int] | None:
        entity = next((s for s in self.plan.steps if s.id == step), None)
        if entity is None:
            return None
        number = self.numbers[entity.line]
        for place in self.added:
            number += place <= number
        return step, number

    def need(self, gear: str, steps: list[str]) -> None:
        """Gear that the crew does not have is to get."""
        if not owns(self.plan, gear, self.rulebase.vocabulary):
            self.entries.get(gear, steps)

    def _put(self, sort: str, own: str, name: str, value: Content) -> None:
        before = self.document.text
        self.document.set(self._path(sort, own, name), value)
        if self.document.text != before:
            shown = value if isinstance(value, str) else ", ".join(map(str, value))
            self.written.append(ValueWritten(f"{own}: {name.replace('_', ' ')} {shown}"))

    def _add_to(self, sort: str, own: str, name: str, values: list[Plain]) -> None:
        """A list is added to, not overwritten."""
        value = self.plan.entities[sort][own].values.get(name)
        known = value.plain if value and isinstance(value.plain, tuple) else ()
        more = [v for v in values if v not in known]
        if more:
            written = self._written(sort, name, more)
            members = [written] if isinstance(written, str) else [str(one) for one in written]
            self.document.add_to(self._path(sort, own, name), members)
            self.written.append(ValueWritten(f"{own}: {name} {', '.join(members)}"))

    def _path(self, sort: str, own: str, name: str) -> list[str]:
        """Where an attribute is or would be written, by the word that its author used for it."""
        node = self._node(sort, own)
        key = next((k for k in node if (a := self.rulebase.vocabulary.attribute(sort, k)) and a.name == name), name)
        if sort == "step":
            place = self._place(own)
            return ["steps", f"#{place[1]}" if place else own, key]
        return [_SECTIONS[sort], own, key] if sort in _SECTIONS else [sort, key]

    def _node(self, sort: str, own: str) -> Mapping[str, object]:
        """The plan's mapping of one thing."""
        if sort == "step":
            line = next((s.line for s in self.plan.steps if s.id == own), 0)
            steps = self.plan.tree.get("steps")
            return next((item.pairs for item in (steps.items if steps else []) if item.line == line), {})
        section = self.plan.tree.get(_SECTIONS.get(sort, sort))
        node = section.get(own) if section and sort in _SECTIONS else section
        return node.pairs if node else {}

    def _give_id(self, step: str) -> None:
        """A step that others name must have its id written."""
        if not any(k == "id" for k in self._node("step", step)):
            self.document.set(self._path("step", step, "id"), step)

    def _fresh(self, word: str, taken: set[str]) -> str:
        base = re.sub(r"[^\w -]", "", word).strip().replace(" ", "-")[:50] or "step"
        number, name = 1, base
        while name in taken:
            number += 1
            name = f"{base}-{number}"
        return name


def measure(value: float, kind: str, units: str) -> str:
    """A number as text: in the units in which it comes out even, else never less than it is.

    What advice sets to a worked-out number is the least that will do: air, people, height, waiting time.
    """
    for system in (units, "us", "metric"):
        text = show(value, kind, system).text
        if isclose(read_quantity(text, kind).si, value, rel_tol=1e-6):
            return text
    for percent in range(1, 21):
        text = show(value * (1 + percent / 200), kind, units).text
        if read_quantity(text, kind).si >= value:
            return text
    return text


def hours(seconds: float) -> str:
    """A time as it is written in a plan."""
    hours = seconds / 3600
    return f"{hours:g} h" if hours >= 1 else f"{seconds / 60:g} min"
