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
from advisor.review.answered import wants_to_know
from advisor.review.entries import EntryWriter
from advisor.review.model import Finding
from advisor.review.whole import dropped, many, owns, whole
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
    """Writes one finding's advice into the document. It changes no fact: what is not there is to get or to find out."""

    def __init__(self, document: PlanText, plan: Plan, rulebase: RuleBase, wished: set[tuple[str, str, str]]) -> None:
        self.document, self.plan, self.rulebase = document, plan, rulebase
        self.wished = wished  # steps asked for in this round: their text, and where
        self.whole = whole()
        self.entries = EntryWriter(document, plan, rulebase.vocabulary)
        self.names: set[str] = set()
        self.waits: dict[str, float] = {}
        self.numbers = {line: n for n, line in enumerate(sorted(s.line for s in plan.steps))}
        self.added: list[int] = []  # where steps went in, each counted in the file as it was then
        self.notes: list[str] = []  # what was written, in words
        self.flows: list[float] = []  # fresh air that the finding worked out

    def take(self, finding: Finding, way: str = "") -> None:
        """Put the advice in: that of a way of the hierarchy of controls, else the usual one as far as it is reached."""
        drawn = [d for d in finding.drawn if isinstance(d, Drawn)]
        self.flows = [n.value for n in finding.numbers if n.dimension == "airflow"]
        for index, _ in enumerate(self._chosen(drawn[0], way) if drawn else ()):
            matches = [(self._chosen(d, way)[index], d) for d in drawn]
            steps = dict.fromkeys(s for d in drawn if (s := _step_of(finding, d)))
            cells = [{n: value_of(v, d.env) for n, v in self._cells(a)} for a, d in matches]
            gear: dict[str, list[str]] = {}
            for one, match in zip(drawn, cells, strict=True):
                for value in match.values():
                    own = gear.setdefault(str(value), [])
                    own += [s for s in [_step_of(finding, one)] if s and s not in own]
            places = self.entries.steps
            gear = {name: sorted(own, key=lambda s: places.get(s, 0)) for name, own in gear.items()}
            ordered = sorted(steps, key=lambda s: places.get(s, 0))
            self._advise(matches[0][0], cells, drawn[0], ordered, gear)
        for one in drawn:
            for sort, whose, attribute in wants_to_know(one):
                self.entries.ask(sort, whose, attribute, [s for s in [_step_of(finding, one)] if s])
        if finding.kind == "precede" and finding.step and not has_advice(finding):
            for one in drawn:
                self._after(finding.step, _first(one))
        elif finding.kind == "wait":
            for one in drawn:
                self._wait(_first(one), one)
        elif finding.kind == "refer" and finding.step and not has_advice(finding):
            self._who(finding.step, finding.to)

    def _chosen(self, drawn: Drawn, way: str) -> tuple[Advice, ...]:
        """The advice of the way asked for; where the usual one cannot be reached, that of the best way that can."""
        conclusion = drawn.conclusion
        ways = dict(conclusion.ways)
        if way:
            return ways.get(way, conclusion.advice)
        out_of_reach = any(not self.whole.reached("airflow", flow) for flow in self.flows) and any(
            n in ("ventilation", "airflow") for a in conclusion.advice for n, _ in a.values
        )
        other = next((level for level in ways if level != "engineer"), "")
        return ways[other] if out_of_reach and other else conclusion.advice

    def _cells(self, advice: Advice) -> list[tuple[str, Operand]]:
        # Several values of one attribute stand one by one; numbering keeps them apart in a mapping.
        return [(f"{n}#{i}", v) for i, (n, v) in enumerate(advice.values)]

    def _advise(self, advice: Advice, matches: list[dict[str, Plain]], drawn: Drawn, steps: list[str],
                before: dict[str, list[str]]) -> None:  # fmt: skip
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
            self._set(matches, steps)
        elif advice.form == "own":
            for gear, own in before.items():
                self.entries.get(gear, own)

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
        with_it = self._with_it(str(cells["do"][0]), new, own)
        self.document.add_step({"id": own, **new, **with_it}, where, step, place[1])
        self.notes.append(f"new step {own} {where} {step}")
        self.added.append(place[1] + (where == "after"))
        self.entries.steps.setdefault(own, self.entries.steps.get(step, 0))
        for tool in many({**new, **with_it}.get("with", [])):
            self.need(str(tool), [own])
        if str(cells["do"][0]) in self.whole.tests and where == "before":
            self._two_ways(own, str(cells["do"][0]), step)

    def _with_it(self, do: str, new: dict[str, Content], own: str) -> dict[str, Content]:
        """Product, tools, time and people that such a step takes along."""
        found: dict[str, Content] = {}
        for name, said in self.whole.steps.get(do, {}).items():
            if name in new:
                continue
            found[name] = self._product(said, own) if name == "using" else said
        return found

    def _product(self, cells: dict[str, str], step: str) -> str:
        """The name of a product of the plan with that kind and carrier; it is added where there is none."""
        for own, product in self.plan.entities["product"].items():
            plain = {name: value.plain for name, value in product.values.items()}
            if plain.get("kind") == cells["kind"] and plain.get("carrier") in (None, cells.get("carrier")):
                return own
        name = self._fresh(cells["kind"], {*self.plan.entities["product"], *self.names})
        self.names.add(name)
        self.document.add_entry("products", name, cells)
        self.notes.append(f"new product {name}")
        self.entries.get(name, [step], sort="product")
        return name

    def _two_ways(self, test: str, do: str, step: str) -> None:
        """With nothing found the step is done as planned; else by those who may, in the way that the test asks for."""
        entity = next(s for s in self.plan.steps if s.id == step)
        if "if_test" in entity.values:
            return
        self._give_id(step)
        place = self._place(step)
        assert place is not None
        kept: dict[str, Content] = {n: entity.values[n].text for n in ("do", "to", "in", "area") if n in entity.values}
        if isinstance(entity.values["to"].plain if "to" in entity.values else "", tuple):
            to = [str(one) for one in entity.values["to"].plain]  # type: ignore[union-attr]
            kept |= {"to": to[0] if len(to) == 1 else to}
        if self.document.has(["steps", f"#{place[1]}", "if"]):
            return
        self.document.set(["steps", f"#{place[1]}", "if"], {f"result of {test}": "negative"})
        other: dict[str, Content] = {"id": self._fresh(f"{step}-if-found", {s.id for s in self.plan.steps}), **kept}
        other |= {**self.whole.tests[do], "if": {f"result of {test}": "positive"}}
        self.document.add_step(other, "after", step, place[1])
        self.notes.append(f"{step} only if {test} finds nothing, else {other['id']}")
        self.added.append(place[1] + 1)

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
        if same and "kind" not in new and "kind" in products[same].values:
            new = {"kind": products[same].values["kind"].text, **new}
        if same and "amount" in products[same].values and "amount" not in new:
            new["amount"] = products[same].values["amount"].text
        self.document.add_entry("products", name, new)
        replaced = [name if o == same else o for o in old] or [name]
        self.document.set(self._path("step", step, "using"), replaced[0] if len(replaced) == 1 else replaced)
        self.notes.append(f"{step} uses {name}")
        self.entries.get(name, [step], sort="product")

    def _set(self, matches: list[dict[str, Plain]], steps: list[str]) -> None:
        for number, match in enumerate(matches):
            if match in matches[:number]:
                continue
            cells: dict[str, list[Plain]] = {}
            for key, value in match.items():
                cells.setdefault(key.partition("#")[0], []).append(value)
            sort = next(s for s in ("step", "part", "product", "room", "house", "crew") if s in cells)
            own = str(cells.pop(sort)[0])
            if sort == "step":
                self._set_step(own, cells)
            elif self.whole.decided >= set(cells):
                for name, values in cells.items():
                    self._put(sort, own, name, self._written(sort, name, values))
            else:
                self._see_to(sort, own, cells, steps)

    def _set_step(self, own: str, cells: dict[str, list[Plain]]) -> None:
        """A decision about a step, with the gear that it hangs on."""
        if not any(s.id == own for s in self.plan.steps):
            return
        if "ventilation" in cells and self.flows:
            cells.setdefault("airflow", [max(self.flows)])
        for name in sorted(cells, key=lambda n: n == "ventilation"):
            values = cells[name]
            gear = self.whole.gear_for(name, values[0])
            if gear and not owns(self.plan, gear, self.rulebase.vocabulary):
                said = {name: self._written("step", name, values)}
                if name == "airflow" and "ventilation" in cells:
                    said["ventilation"] = self._written("step", "ventilation", cells.pop("ventilation"))
                    self.entries.get(gear, [own], said)
                    return
                self.entries.get(gear, [own], said)
            elif name == "by":
                self._method(own, str(values[0]))
            elif self.rulebase.vocabulary.attributes["step"][name].many:
                self._add_to("step", own, name, values)
                for tool in values if name in ("with", "wearing") else ():
                    self.need(str(tool), [own])
            else:
                self._put("step", own, name, self._written("step", name, values))
        if "people" in cells:
            self.need("helper", [own])

    def need(self, gear: str, steps: list[str]) -> None:
        """Gear that the crew does not have is to get."""
        if not owns(self.plan, gear, self.rulebase.vocabulary):
            self.entries.get(gear, steps)

    def _method(self, step: str, by: str) -> None:
        """A changed method takes its tool along and leaves those of the old one behind."""
        self._put("step", step, "by", by)
        said = self.whole.methods.get(by)
        value = next(s for s in self.plan.steps if s.id == step).values.get("with")
        if said is None:
            return
        old = value.plain if value is not None and isinstance(value.plain, tuple) else ()
        kept = dropped(old, many(said["drops"]), self.rulebase.vocabulary)
        if said["takes"] not in kept:
            kept.append(said["takes"])
        if kept != list(old):
            self._put("step", step, "with", kept)
        self.need(said["takes"], [step])

    def _see_to(self, sort: str, own: str, cells: dict[str, list[Plain]], steps: list[str]) -> None:
        """What a thing itself should be is no fact yet: it is to get so, or to be found out."""
        said = {name: self._written(sort, name, values) for name, values in cells.items()}
        if sort == "house" and self.whole.known >= set(said):
            for name in said:
                self.entries.ask(sort, own, name, steps)
        elif sort == "house":
            for name, value in said.items():
                self.entries.get(self.whole.house_gear.get(name, "helper"), steps, {name: value})
        elif sort == "crew":
            self.entries.get("helper", steps, said)
        else:
            self.entries.get(own, steps, said, sort)

    def _add_to(self, sort: str, own: str, name: str, values: list[Plain]) -> None:
        """A list is added to, not overwritten."""
        value = self.plan.entities[sort][own].values.get(name)
        known = value.plain if value and isinstance(value.plain, tuple) else ()
        more = [v for v in values if v not in known]
        if more:
            written = self._written(sort, name, more)
            members = [written] if isinstance(written, str) else [str(one) for one in written]
            self.document.add_to(self._path(sort, own, name), members)
            self.notes.append(f"{own}: {name} {', '.join(members)}")

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
            self._put("step", step, "wait", _hours(wanted))

    def _who(self, step: str, to: str) -> None:
        attribute = self.rulebase.vocabulary.attributes["step"].get("who")
        found = self.rulebase.vocabulary.taxonomies[attribute.of].find(to) if attribute else None
        if found and any(s.id == step for s in self.plan.steps):
            self._put("step", step, "who", found)

    def _put(self, sort: str, own: str, name: str, value: Content) -> None:
        before = self.document.text
        self.document.set(self._path(sort, own, name), value)
        if self.document.text != before:
            shown = value if isinstance(value, str) else ", ".join(map(str, value))
            self.notes.append(f"{own}: {name.replace('_', ' ')} {shown}")

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


def _step_of(finding: Finding, drawn: Drawn) -> str:
    """The step that a match is about, where the finding itself is about the whole plan."""
    return finding.step or next((str(v) for n, v in drawn.env.items() if n == "step"), "")


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
