"""Details that advice sets: decisions about a step with their gear; of a thing what is to get or to find out."""

from __future__ import annotations

from advisor.plain import Plain
from advisor.plan.said import words
from advisor.review.revision.steps import Steps
from advisor.review.taken_along import dropped, many, owns


class Details(Steps):
    """Sets details."""

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
        # A firm brings its own gear.
        firm = not self.rulebase.vocabulary.members("who", "paid firm").isdisjoint(map(str, cells.get("who", [])))
        for name in sorted(cells, key=lambda n: n == "ventilation"):
            values = cells[name]
            if name == "who" and self._taken_by_another(own, set(map(str, values))):
                continue
            gear = self.whole.gear_for(name, values[0])
            if gear and not firm and not owns(self.plan, gear, self.rulebase.vocabulary, values[0]):
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
        if "ventilation" in cells and not self.flows:
            # How much air is needed cannot be told yet: what is missing for it is to find out.
            for basis in self.unknown:
                self.entries.ask(basis.sort, basis.id, basis.attribute, [own])

    def _taken_by_another(self, step: str, wanted: set[str]) -> bool:
        """Whether another trade is called to the step already: it is not sent away, so both findings stay in sight."""
        called = {one for s in self.plan.steps if s.id == step for one in words(s, "who")}
        called &= self.rulebase.vocabulary.members("who", "paid firm")
        below = self.rulebase.vocabulary.taxonomies["who"].below
        return any(wanted.isdisjoint(below(one)) for one in called)

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
                self.entries.get(self.whole.house_gear.get(name, self.whole.hands), steps, {name: value})
        elif sort == "crew":
            self.entries.get(self.whole.hands, steps, said)
        else:
            self.entries.get(own, steps, said, sort)
