"""Steps that advice adds, each whole: with product, tools, time and people; a test with its two ways on."""

from __future__ import annotations

from advisor.plain import Plain
from advisor.plan.editing import Content, flow
from advisor.plan.said import words
from advisor.review.revision.text import Writing
from advisor.review.revision.written import StepAdded, TwoWays, ValueWritten
from advisor.review.taken_along import many


class Steps(Writing):
    """Adds steps."""

    def _add(self, cells: dict[str, list[Plain]], where: str, step: str) -> None:
        place = self._place(step)
        if place is None:
            return
        new: dict[str, Content] = {name: self._written("step", name, values) for name, values in cells.items()}
        if self._stands(cells, where, step):
            return  # once more would not help
        wish = (flow(new), where, step)
        if wish in self.wished:
            return  # another finding of this round asked for the very same
        self.wished.add(wish)
        taken = {s.id for s in self.plan.steps} | self.names
        own = self._fresh(str(cells["do"][0]), taken)
        self.names.add(own)
        with_it = self._with_it(str(cells["do"][0]), new, own)
        if where == "after" and any(one.id == step and "after" in one.values for one in self.plan.steps):
            with_it["after"] = step  # that one waits for others, and would be done after this one
        elif where == "before" and (waits := self._waits_for(step)):
            with_it["after"] = waits  # else it would be done where the line stands, long before that one
        self.document.add_step({"id": own, **new, **with_it}, where, step, place[1])
        self.written.append(StepAdded(own, where, step))
        self.added.append(place[1] + (where == "after"))
        self.entries.steps.setdefault(own, self.entries.steps.get(step, 0))
        for tool in many({**new, **with_it}.get("with", [])):
            self.need(str(tool), [own])
        if str(cells["do"][0]) in self.whole.tests and where == "before":
            self._two_ways(own, str(cells["do"][0]), step)

    def _waits_for(self, step: str) -> Content:
        """What a step follows that is written above what it waits for; nothing for one that is done where it stands."""
        place = next(number for number, one in enumerate(self.plan.steps) if one.id == step)
        entity = self.plan.steps[place]
        if all(one.line < entity.line for one in self.plan.steps[:place]):
            return ""
        names = words(entity, "after")
        return names[0] if len(names) == 1 else names

    def _stands(self, cells: dict[str, list[Plain]], where: str, step: str) -> bool:
        """Whether the plan has that very step on that side already, and after what undid it."""
        order = [one.id for one in self.plan.steps]
        at = order.index(step)
        since = order.index(self.undone_by) + 1 if self.undone_by in order else 0
        beside = self.plan.steps[since:at] if where == "before" else self.plan.steps[at + 1 :]
        wanted = {name: sorted(map(str, values)) for name, values in cells.items() if name in ("do", "to", "in")}
        same = [
            one for one in beside
            if {n: sorted(words(one, n)) for n in wanted} == wanted
        ]  # fmt: skip
        # A box with two feeds has two breakers.
        twice = str(cells["do"][0]) in self.rulebase.vocabulary.members("action", "cut power")
        return len(same) >= (2 if twice else 1)

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
        self.written.append(ValueWritten(f"new product {name}"))
        if cells["kind"] not in self.whole.at_hand:
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
        self.document.set(["steps", f"#{place[1]}", "if"], {f"result of {test}": self.whole.results["clear"]})
        other: dict[str, Content] = {"id": self._fresh(f"{step}-if-found", {s.id for s in self.plan.steps}), **kept}
        other |= {**self.whole.tests[do], "if": {f"result of {test}": self.whole.results["found"]}}
        self.document.add_step(other, "after", step, place[1])
        self.written.append(TwoWays(step, test, str(other["id"])))
        self.added.append(place[1] + 1)
