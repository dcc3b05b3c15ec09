"""Advice put into a plan: hold points, steps, products and waits become lines of its file."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from advisor.engine.guards import value_of
from advisor.engine.run import Drawn, run
from advisor.errors import InputError
from advisor.plan import make_facts, read_plan
from advisor.plan.editing import Content, PlanText, flow
from advisor.plan.model import Plain, Plan
from advisor.review.advised import product_name
from advisor.review.model import Finding, Report
from advisor.review.reviewing import review_plan
from advisor.rulebase.base import RuleBase
from advisor.rulebase.model import Advice, Operand
from advisor.rulebase.values import type_of
from advisor.units import DIMENSIONS, show

ROUNDS = 8
_SECTIONS = {"room": "rooms", "part": "parts", "product": "products", "step": "steps"}


@dataclass(slots=True)
class Revision:
    """A plan's text before and after, the reviews of both, and what could not be mended."""

    before: str
    after: str
    old: Report
    new: Report
    rounds: int
    left: list[Finding] = field(default_factory=list)


def accept(text: str, name: str, wanted: Iterable[str], rulebase: RuleBase) -> Revision:
    """Put the advice of the wanted findings (ids, rule ids, or `all`) into the plan, in a few rounds.

    A round takes the advice of the findings that stand; what it brings along is taken in the next one. Only
    `all` tries a finding again that stands after its advice was taken.
    """
    chosen = set(wanted)
    plan = read_plan(text, rulebase.vocabulary, name)
    old = report = review_plan(plan, rulebase)
    current, rounds = text, 0
    seen = {text}
    tried: set[str] = set()
    for rounds in range(1, ROUNDS + 1):
        taken = [f for f in report.findings if "all" in chosen or (chosen & {f.id, f.rule} and f.id not in tried)]
        tried |= {f.id for f in taken}
        changed = apply(current, plan, taken, rulebase, name)
        if changed in seen:
            rounds -= 1
            break
        seen.add(changed)
        current = changed
        plan = read_plan(current, rulebase.vocabulary, name)
        report = review_plan(plan, rulebase)
    left = [f for f in report.findings if "all" in chosen or chosen & {f.id, f.rule}]
    return Revision(text, current, old, report, rounds, left)


def apply(text: str, plan: Plan, findings: Iterable[Finding], rulebase: RuleBase, name: str) -> str:
    """The text with the advice of the findings put in, one by one, as long as they stand.

    Tests come first: whether the rest is needed hangs on them. What the advice of an earlier finding has mended
    already is left alone. A change that would not read is left out.
    """
    wished: set[tuple[str, str, str]] = set()
    standing: set[tuple[str, str]] | None = None  # None: all of them
    for finding in sorted(findings, key=lambda f: not (f.kind == "refer" and _has_advice(f))):
        if standing is not None and (finding.rule, finding.step or "") not in standing:
            continue
        editor = _Editor(PlanText(text), plan, rulebase, wished)
        editor.take(finding)
        changed = editor.document.text
        if changed == text:
            continue
        try:
            plan = read_plan(changed, rulebase.vocabulary, name)
        except InputError:
            continue  # such as an order that would wait for itself
        text = changed
        standing = _standing(plan, rulebase)
    return text


def _standing(plan: Plan, rulebase: RuleBase) -> set[tuple[str, str]]:
    """Rule and step of all that the rules say of the plan."""
    drawn = run(rulebase, make_facts(plan, rulebase.vocabulary).facts).drawn
    found = set()
    for one in drawn:
        step = one.conclusion.step
        found.add((one.why.variant.rule.id, str(one.env[step.name]) if step else ""))  # type: ignore[attr-defined]
    return found


def _has_advice(finding: Finding) -> bool:
    return any(isinstance(d, Drawn) and d.conclusion.advice for d in finding.drawn)


class _Editor:
    """Writes one finding's advice into the document."""

    def __init__(self, document: PlanText, plan: Plan, rulebase: RuleBase, wished: set[tuple[str, str, str]]) -> None:
        self.document, self.plan, self.rulebase = document, plan, rulebase
        self.wished = wished  # steps asked for in this round: their text, and where
        self.names: set[str] = set()
        self.numbers = {line: n for n, line in enumerate(sorted(s.line for s in plan.steps))}
        self.added: list[int] = []  # where steps went in, each counted in the file as it was then

    def take(self, finding: Finding) -> None:
        drawn = [d for d in finding.drawn if isinstance(d, Drawn)]
        for index, advice in enumerate(drawn[0].conclusion.advice if drawn else ()):
            matches = [(d.conclusion.advice[index], d) for d in drawn]
            self._advise(advice, [{n: value_of(v, d.env) for n, v in self._cells(a)} for a, d in matches], drawn[0])
        if finding.kind == "precede" and finding.first and finding.step and not _has_advice(finding):
            self._after(finding.step, finding.first)
        elif finding.kind == "wait" and finding.first and finding.duration:
            self._wait(finding.first, finding.duration)
        elif finding.kind == "refer" and finding.step and not _has_advice(finding):
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
            self._use(cells, step)
        elif advice.form == "set":
            self._set(matches)
        elif advice.form == "own":
            self._add_to(["crew", "owns"], "crew", "crew", "owns", cells["owns"])

    def _written(self, sort: str, name: str, values: list[Plain]) -> Content:
        attribute = self.rulebase.vocabulary.attributes[sort][name]
        kind = type_of(attribute)
        texts = []
        for value in values:
            if kind in DIMENSIONS and isinstance(value, int | float):
                texts.append(show(float(value), kind, self.plan.units).text)
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

    def _use(self, cells: dict[str, list[Plain]], step: str) -> None:
        entity = next((s for s in self.plan.steps if s.id == step), None)
        if entity is None:
            return
        using = entity.values.get("using")
        old = [str(w) for w in using.plain] if using and isinstance(using.plain, tuple) else []
        products = self.plan.entities["product"]
        kind = cells.get("kind", [""])[0]
        same = next(
            (o for o in old if (k := products[o].values.get("kind")) and k.plain == kind), old[0] if old else None
        )
        name = self._fresh(product_name({k: v[0] for k, v in cells.items()}), set(products))
        new = {attribute: self._written("product", attribute, values) for attribute, values in cells.items()}
        if same and "amount" in products[same].values and "amount" not in new:
            new["amount"] = products[same].values["amount"].text
        self.document.add_entry("products", name, new)
        replaced = [name if o == same else o for o in old] or [name]
        self.document.set(self._path(step, "using"), replaced[0] if len(replaced) == 1 else replaced)

    def _set(self, matches: list[dict[str, Plain]]) -> None:
        for match in matches:
            cells: dict[str, list[Plain]] = {}
            for key, value in match.items():
                cells.setdefault(key.partition("#")[0], []).append(value)
            sort = next(s for s in ("step", "part", "product", "room", "house", "crew") if s in cells)
            own = str(cells.pop(sort)[0])
            for name, values in cells.items():
                path = (
                    self._path(own, name)
                    if sort == "step"
                    else [_SECTIONS[sort], own, name]
                    if sort in _SECTIONS
                    else [sort, name]
                )
                if self.rulebase.vocabulary.attributes[sort][name].many:
                    self._add_to(path, sort, own, name, values)
                else:
                    self.document.set(path, self._written(sort, name, values))

    def _add_to(self, path: list[str], sort: str, own: str, name: str, values: list[Plain]) -> None:
        """A list is added to, not overwritten."""
        value = self.plan.entities[sort][own].values.get(name)
        known = value.plain if value and isinstance(value.plain, tuple) else ()
        more = [v for v in values if v not in known]
        if more:
            written = self._written(sort, name, more)
            self.document.add_to(path, [written] if isinstance(written, str) else written)

    def _after(self, step: str, first: str) -> None:
        entity = next((s for s in self.plan.steps if s.id == step), None)
        if entity is None or not any(s.id == first for s in self.plan.steps):
            return
        value = entity.values.get("after")
        known = [str(w) for w in value.plain] if value and isinstance(value.plain, tuple) else []
        if first not in known:
            self._give_id(first)
            words = [*known, first]
            self.document.set(self._path(step, "after"), words[0] if len(words) == 1 else words)

    def _wait(self, step: str, seconds: float) -> None:
        if any(s.id == step for s in self.plan.steps):
            self.document.set(self._path(step, "wait"), _hours(seconds))

    def _who(self, step: str, to: str) -> None:
        attribute = self.rulebase.vocabulary.attributes["step"].get("who")
        found = self.rulebase.vocabulary.taxonomies[attribute.of].find(to) if attribute else None
        if found and any(s.id == step for s in self.plan.steps):
            self.document.set(self._path(step, "who"), found)

    def _path(self, step: str, name: str) -> list[str]:
        place = self._place(step)
        return ["steps", f"#{place[1]}" if place else step, name]

    def _give_id(self, step: str) -> None:
        """A step that others name must have its id written."""
        place = self._place(step)
        entity = next(s for s in self.plan.steps if s.id == step)
        if place and not any(k == "id" for k in _keys(self.plan, entity.line)):
            self.document.set(self._path(step, "id"), step)

    def _fresh(self, word: str, taken: set[str]) -> str:
        base = re.sub(r"[^\w -]", "", word).strip().replace(" ", "-")[:50] or "step"
        number, name = 1, base
        while name in taken:
            number += 1
            name = f"{base}-{number}"
        return name


def _keys(plan: Plan, line: int) -> Mapping[str, object]:
    steps = plan.tree.get("steps")
    return next((item.pairs for item in (steps.items if steps else []) if item.line == line), {})


def _hours(seconds: float) -> str:
    hours = seconds / 3600
    return f"{hours:g} h" if hours >= 1 else f"{seconds / 60:g} min"
