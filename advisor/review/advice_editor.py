"""One finding's advice as changes of the plan's text."""

from __future__ import annotations

import re
from collections.abc import Mapping
from math import isclose

from advisor.engine.guards import value_of
from advisor.engine.run import Drawn
from advisor.plan.editing import Content, PlanText, flow
from advisor.plan.model import Plain, Plan
from advisor.review.advised import product_name
from advisor.review.model import Finding
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import Advice, Operand
from advisor.rulebase.values import type_of
from advisor.units import DIMENSIONS, read_quantity, show

_SECTIONS = {"room": "rooms", "part": "parts", "product": "products", "step": "steps"}


def has_advice(finding: Finding) -> bool:
    """Whether its rule advises a change; one that orders two steps or sets a wait changes the plan without."""
    return any(isinstance(d, Drawn) and d.conclusion.advice for d in finding.drawn)


def _first(drawn: Drawn) -> str:
    """The step that comes first, of a match that orders two."""
    first = drawn.conclusion.first
    return str(drawn.env[first.name]) if first else ""


class Editor:
    """Writes one finding's advice into the document."""

    def __init__(self, document: PlanText, plan: Plan, rulebase: RuleBase, wished: set[tuple[str, str, str]]) -> None:
        self.document, self.plan, self.rulebase = document, plan, rulebase
        self.wished = wished  # steps asked for in this round: their text, and where
        self.names: set[str] = set()
        self.waits: dict[str, float] = {}
        self.numbers = {line: n for n, line in enumerate(sorted(s.line for s in plan.steps))}
        self.added: list[int] = []  # where steps went in, each counted in the file as it was then

    def take(self, finding: Finding) -> None:
        drawn = [d for d in finding.drawn if isinstance(d, Drawn)]
        for index, advice in enumerate(drawn[0].conclusion.advice if drawn else ()):
            matches = [(d.conclusion.advice[index], d) for d in drawn]
            self._advise(advice, [{n: value_of(v, d.env) for n, v in self._cells(a)} for a, d in matches], drawn[0])
        if finding.kind == "precede" and finding.step and not has_advice(finding):
            for one in drawn:
                self._after(finding.step, _first(one))
        elif finding.kind == "wait":
            for one in drawn:
                self._wait(_first(one), one)
        elif finding.kind == "refer" and finding.step and not has_advice(finding):
            self._who(finding.step, finding.to)

    def _cells(self, advice: Advice) -> list[tuple[str, Operand]]:
        # Several values of one attribute stand one by one; numbering keeps them apart in a mapping.
        return [(f"{n}#{i}", v) for i, (n, v) in enumerate(advice.values)]

    def _advise(self, advice: Advice, matches: list[dict[str, Plain]], drawn: Drawn) -> None:
        cells: dict[str, list[Plain]] = {}
        for match in matches:
            for key, value in match.items():
                known = cells.setdefault(key.partition("#")[0], [])
                if value not in known:
                    known.append(value)
        step = str(drawn.env[advice.place[1].name]) if advice.place else ""
        if advice.form == "add" and advice.place:
            self._add(cells, advice.place[0], step)
        elif advice.form == "use":
            self._use(cells, step, drawn)
        elif advice.form == "set":
            self._set(matches)
        elif advice.form == "own":
            self._add_to("crew", "crew", "owns", cells["owns"])

    def _written(self, sort: str, name: str, values: list[Plain]) -> Content:
        attribute = self.rulebase.vocabulary.attributes[sort][name]
        kind = type_of(attribute)
        texts = []
        for value in values:
            if kind in DIMENSIONS and isinstance(value, int | float):
                texts.append(_measure(float(value), kind, self.plan.units))
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

    def _add(self, cells: dict[str, list[Plain]], where: str, step: str) -> None:
        place = self._place(step)
        if place is None:
            return
        new: dict[str, Content] = {name: self._written("step", name, values) for name, values in cells.items()}
        wish = (flow(new), where, step)
        if wish in self.wished:
            return  # another finding of this round asked for the very same
        self.wished.add(wish)
        taken = {s.id for s in self.plan.steps} | self.names
        own = self._fresh(str(cells["do"][0]), taken)
        self.names.add(own)
        self.document.add_step({"id": own, **new}, where, step, place[1])
        self.added.append(place[1] + (where == "after"))

    def _use(self, cells: dict[str, list[Plain]], step: str, drawn: Drawn) -> None:
        entity = next((s for s in self.plan.steps if s.id == step), None)
        if entity is None:
            return
        using = entity.values.get("using")
        old = [str(w) for w in using.plain] if using and isinstance(using.plain, tuple) else []
        products = self.plan.entities["product"]
        kind = cells.get("kind", [""])[0]
        faulted = [o for o in old if o in drawn.env.values()]
        alike = [o for o in faulted or old if (k := products[o].values.get("kind")) and k.plain == kind]
        same = next(iter(alike or faulted or old), None)
        name = self._fresh(product_name({k: v[0] for k, v in cells.items()}), set(products))
        new = {attribute: self._written("product", attribute, values) for attribute, values in cells.items()}
        if same and "amount" in products[same].values and "amount" not in new:
            new["amount"] = products[same].values["amount"].text
        self.document.add_entry("products", name, new)
        replaced = [name if o == same else o for o in old] or [name]
        self.document.set(self._path("step", step, "using"), replaced[0] if len(replaced) == 1 else replaced)

    def _set(self, matches: list[dict[str, Plain]]) -> None:
        for number, match in enumerate(matches):
            if match in matches[:number]:
                continue
            cells: dict[str, list[Plain]] = {}
            for key, value in match.items():
                cells.setdefault(key.partition("#")[0], []).append(value)
            sort = next(s for s in ("step", "part", "product", "room", "house", "crew") if s in cells)
            own = str(cells.pop(sort)[0])
            for name, values in cells.items():
                if self.rulebase.vocabulary.attributes[sort][name].many:
                    self._add_to(sort, own, name, values)
                else:
                    self.document.set(self._path(sort, own, name), self._written(sort, name, values))

    def _add_to(self, sort: str, own: str, name: str, values: list[Plain]) -> None:
        """A list is added to, not overwritten."""
        value = self.plan.entities[sort][own].values.get(name)
        known = value.plain if value and isinstance(value.plain, tuple) else ()
        more = [v for v in values if v not in known]
        if more:
            written = self._written(sort, name, more)
            self.document.add_to(self._path(sort, own, name), [written] if isinstance(written, str) else written)

    def _after(self, step: str, first: str) -> None:
        if all(any(s.id == one for s in self.plan.steps) for one in (step, first)):
            self._give_id(first)
            self._add_to("step", step, "after", [first])

    def _wait(self, step: str, drawn: Drawn) -> None:
        entity = next((s for s in self.plan.steps if s.id == step), None)
        if entity is None or drawn.conclusion.duration is None:
            return
        wanted = value_of(drawn.conclusion.duration, drawn.env)
        planned = self.waits.get(step, entity.values["wait"].plain if "wait" in entity.values else 0)
        if isinstance(wanted, int | float) and isinstance(planned, int | float) and wanted > planned:
            self.waits[step] = wanted
            self.document.set(self._path("step", step, "wait"), _hours(wanted))

    def _who(self, step: str, to: str) -> None:
        attribute = self.rulebase.vocabulary.attributes["step"].get("who")
        found = self.rulebase.vocabulary.taxonomies[attribute.of].find(to) if attribute else None
        if found and any(s.id == step for s in self.plan.steps):
            self.document.set(self._path("step", step, "who"), found)

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


def _measure(value: float, kind: str, units: str) -> str:
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


def _hours(seconds: float) -> str:
    hours = seconds / 3600
    return f"{hours:g} h" if hours >= 1 else f"{seconds / 60:g} min"
