"""One finding's advice as changes of the plan's text."""

from __future__ import annotations

from collections.abc import Mapping

from advisor.engine.guards import value_of
from advisor.engine.run import Drawn
from advisor.plain import Plain
from advisor.plan.editing import Content
from advisor.review.advised import product_name
from advisor.review.finding import Finding
from advisor.review.hold_points import wants_to_know
from advisor.review.revision.details import Details
from advisor.review.revision.text import hours
from advisor.review.revision.written import ValueWritten
from advisor.rulebase.model import Advice, Operand
from advisor.site.verdicts import AGAIN


def has_advice(finding: Finding) -> bool:
    """Whether its rule advises a change; one that orders two steps or sets a wait changes the plan without."""
    return any(drawn.conclusion.advice for drawn in finding.drawn)


def _first(drawn: Drawn) -> str:
    """The step that comes first, of a match that orders two."""
    first = drawn.conclusion.first
    return str(drawn.env[first.name]) if first else ""


def _step_of(finding: Finding, drawn: Drawn) -> str:
    """The step that a match is about, where the finding itself is about the whole plan."""
    return finding.step or next((str(v) for n, v in drawn.env.items() if n == "step"), "")


class Editor(Details):
    """Writes one finding's advice into the document. It changes no fact: what is not there is to get or to find out."""

    def take(self, finding: Finding, way: str = "") -> None:
        """Put the advice in: that of a way of the hierarchy of controls, else the usual one as far as it is reached."""
        drawn = finding.drawn
        self.flows = [n.value for n in finding.numbers if n.dimension == "airflow"]
        self.unknown = [b for b in finding.rests_on if not b.value and b.sort in ("product", "room")]
        self.undone_by = finding.answer[1] if finding.answer[:1] == (AGAIN,) else ""
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

    def replaces(self, finding: Finding) -> bool:
        """Whether its advice puts something milder in the place of what is planned: that is taken before the rest."""
        self.flows = [n.value for n in finding.numbers if n.dimension == "airflow"]
        return any(a.form == "use" for drawn in finding.drawn[:1] for a in self._chosen(drawn, ""))

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
        new = {attribute: self._written("product", attribute, values) for attribute, values in cells.items()}
        if same and "kind" not in new and "kind" in products[same].values:
            new = {"kind": products[same].values["kind"].text, **new}
        name = self._same_product(new) or self._fresh(product_name(new), set(products))  # type: ignore[arg-type]
        if name not in products:
            if same and "amount" in products[same].values and "amount" not in new:
                new["amount"] = products[same].values["amount"].text
            self.document.add_entry("products", name, new)
        replaced = [name if o == same else o for o in old] or [name]
        self.document.set(self._path("step", step, "using"), replaced[0] if len(replaced) == 1 else replaced)
        self.written.append(ValueWritten(f"{step} uses {name}"))
        self.entries.get(name, [step], sort="product")

    def _same_product(self, cells: Mapping[str, Content]) -> str:
        """A product of the plan that is just so, as one that was put in before; empty for none."""
        for own, product in self.plan.entities["product"].items():
            known = {name: value.text for name, value in product.values.items() if name != "amount"}
            if known == dict(cells):
                return own
        return ""

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
            self._put("step", step, "wait", hours(wanted))

    def _who(self, step: str, to: str) -> None:
        attribute = self.rulebase.vocabulary.attributes["step"].get("who")
        found = self.rulebase.vocabulary.taxonomies[attribute.of].find(to) if attribute else None
        if found and any(s.id == step for s in self.plan.steps) and not self._taken_by_another(step, {found}):
            self._put("step", step, "who", found)
