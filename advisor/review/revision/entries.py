"""Entries of `to_get` and `to_find_out` written into a plan's text: added once, and their steps added to."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct

from advisor.plan.editing import Content, PlanText
from advisor.plan.facts import question
from advisor.plan.model import Plan
from advisor.review.revision.written import ThingToFindOut, ThingToGet, Written
from advisor.rulebase.vocabulary import Vocabulary
from advisor.units import read_quantity


class _Wanted(Struct):
    """An entry of `to_get` as it stands by now."""

    what: str
    steps: list[str]
    values: dict[str, list[str]]


def _members(value: Content) -> list[str]:
    if isinstance(value, str):
        return [one.strip() for one in value.split(", ")]
    return [str(one) for one in value]


def _to_get(what: str, own: Mapping[str, list[str]], steps: Sequence[str]) -> ThingToGet:
    details = ", ".join(f"{name.replace('_', ' ')} {', '.join(values)}" for name, values in own.items())
    return ThingToGet(what, details, tuple(steps))


def _content(members: list[str]) -> Content:
    return members[0] if len(members) == 1 else members


class EntryWriter:
    """Writes entries into one document; it knows those that stand there, and those that it added."""

    def __init__(self, document: PlanText, plan: Plan, vocabulary: Vocabulary) -> None:
        self.document, self._vocabulary = document, vocabulary
        self._things = {own for sort in ("part", "product", "room") for own in plan.entities[sort]}
        self.steps = {step.id: place for place, step in enumerate(plan.steps)}
        self._got = [
            _Wanted(entry.what, list(entry.steps), {name: _members(value.text) for _, name, value in entry.values})
            for entry in plan.to_get
        ]
        self.written: list[Written] = []
        self._asked = [(e.sort, e.of, e.attribute, e.ask, e.by) for e in plan.to_find_out]

    def get(self, what: str, steps: Sequence[str], said: Mapping[str, Content] | None = None, sort: str = "") -> None:
        """A thing to get before the steps, with how it should be; nothing where an entry says it already."""
        what = what if sort else self._unlike(what)
        own = {name: _members(value) for name, value in (said or {}).items()}
        for number, known in enumerate(self._got):
            if known.what != what:
                continue
            lacks = {name: more for name, wanted in own.items() if (more := self._lacks(known.values, name, wanted))}
            more = [step for step in steps if step not in known.steps] if known.steps else []
            if not lacks and not more:
                return
            if not lacks and set(known.values) == set(own):
                self.document.add_to(["to_get", f"#{number}", "for"], more)
                known.steps += more
                self.written.append(ThingToGet(what, "", tuple(more), too=True))
                return
            if lacks and not more and set(known.steps) == set(steps):
                self._make(number, known, lacks, sort)
                self.written.append(_to_get(what, lacks, steps))
                return
        cells: dict[str, Content] = {"what": what}
        if said:
            cells["as"] = dict(said)
        if steps:
            cells["for"] = list(steps)
        self.document.add_item("to_get", cells)
        self._got.append(_Wanted(what, list(steps), own))
        self.written.append(_to_get(what, own, steps))

    def _unlike(self, gear: str) -> str:
        """The gear by a word that no thing of the plan has for its name."""
        tools = self._vocabulary.taxonomies.get("tool")
        if gear not in self._things or tools is None or gear not in tools.terms:
            return gear
        kinds = sorted(tools.below(gear) - {gear} - self._things)
        return kinds[0] if kinds else gear

    def _lacks(self, values: Mapping[str, list[str]], name: str, wanted: list[str]) -> list[str]:
        """What an entry does not say yet. A stronger fan will do for a weaker one."""
        known = values.get(name, [])
        more = [one for one in wanted if one not in known]
        if name == "airflow" and more and known:
            return more if read_quantity(more[0], name).si > read_quantity(known[0], name).si else []
        return more

    def _make(self, number: int, known: _Wanted, lacks: Mapping[str, list[str]], sort: str) -> None:
        """The same thing for the same steps, in more respects."""
        path = ["to_get", f"#{number}", "as"]
        if not known.values:
            self.document.set(path, {name: _content(more) for name, more in lacks.items()})
        for name, more in lacks.items():
            attribute = next(
                (a for s in (sort, "step", "crew", "house") if (a := self._vocabulary.attribute(s, name))), None
            )
            if known.values and name in known.values and attribute is not None and attribute.many:
                self.document.add_to([*path, name], more)
                known.values[name] += more
            else:
                if known.values:
                    self.document.set([*path, name], _content(more))
                known.values[name] = list(more)

    def ask(self, sort: str, own: str, attribute: str, steps: Sequence[str], ask: str = "") -> None:
        """Something to find out, at the latest before the earliest of the steps."""
        by = min((s for s in steps if s in self.steps), key=lambda s: self.steps[s], default="")
        text = ask or question(self._vocabulary.attributes[sort][attribute], own)
        for number, (s, o, a, t, known) in enumerate(self._asked):
            if (s, o, a) != (sort, own, attribute) or (not attribute and t != text):
                continue
            if known and (not by or self.steps.get(by, 0) < self.steps.get(known, 0)):
                self.document.set(["to_find_out", f"#{number}", "by"], by or "unknown")
                self._asked[number] = (s, o, a, t, by)
            return
        cells: dict[str, Content] = {"ask": text, "of": own}
        if attribute:
            cells["attribute"] = attribute
        if by:
            cells["by"] = by
        self.document.add_item("to_find_out", cells)
        self.written.append(ThingToFindOut(text))
        self._asked.append((sort, own, attribute, text, by))
