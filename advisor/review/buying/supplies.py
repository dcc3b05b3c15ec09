"""What to buy, rent or borrow, in amounts: coats and tile by size, gear by the person, and what findings ask for."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import Any

from advisor.calculators.tile import tile_to_buy
from advisor.document import read_file
from advisor.engine.memory import Memory
from advisor.plan.model import Plan
from advisor.plan.said import number, words
from advisor.review.buying.consumables import used_up
from advisor.review.finding import Finding
from advisor.review.model import Gear
from advisor.review.supply import Supply
from advisor.rulebase.vocabulary import Vocabulary
from advisor.showing import show
from advisor.tables import rules_folder
from advisor.units import from_base, to_base

_EACH = "each"
_SPARE = 1.1  # common practice: a tenth is left in can, tray and roller


@dataclass(frozen=True)
class _Plan:
    """What a list of supplies is made from."""

    plan: Plan
    memory: Memory
    vocabulary: Vocabulary
    findings: Sequence[Finding]
    gear: Sequence[Gear]

    def people(self) -> int:
        """How many people work."""
        crew = self.plan.entities.get("crew", {}).get("crew")
        return max(1, int(number(crew, "people") or 1))

    def owned(self) -> frozenset[str]:
        """What the crew says that it has."""
        crew = self.plan.entities.get("crew", {}).get("crew")
        return frozenset(words(crew, "owns")) if crew else frozenset()

    def there(self, what: str) -> bool:
        """Whether the crew has it, or something that is a kind of it."""
        tools = self.vocabulary.taxonomies.get("tool")
        return not self.owned().isdisjoint({what, *(tools.below(what) if tools and what in tools.terms else ())})

    def order(self, steps: Iterable[str]) -> tuple[str, ...]:
        """Steps in the plan's order, each once."""
        places = self.places
        return tuple(sorted({s for s in steps if s in places}, key=places.__getitem__))

    @cached_property
    def places(self) -> dict[str, int]:
        """The place of each step."""
        return {step.id: n for n, step in enumerate(self.plan.steps)}


def supplies(
    plan: Plan, memory: Memory, vocabulary: Vocabulary, findings: Sequence[Finding], gear: Sequence[Gear]
) -> list[Supply]:
    """All that the steps take, the shelves of a shop in a fixed order, then by name."""
    site = _Plan(plan, memory, vocabulary, findings, gear)
    found = [*_coats(site), *_tile(site), *_worn(site), *_asked(site), *_tools(site), *_planned(site)]
    found += used_up(plan, vocabulary, site.owned())
    merged: dict[str, Supply] = {}
    for one in found:
        known = merged.get(one.what)
        if known is None:
            merged[one.what] = one
        else:
            need = max((n for n in (known.need, one.need) if n is not None), default=None)
            steps = site.order((*known.steps, *one.steps))
            planned = known.planned or one.planned
            merged[one.what] = replace(known, steps=steps, need=need, price=known.price or one.price, planned=planned)
    shelves = _known()["shelves"]
    return sorted(merged.values(), key=lambda s: (shelves.index(s.shelf), s.what))


def _coats(site: _Plan) -> Iterable[Supply]:
    """Paint and the like: what the coats take with a tenth to spare, against what the plan has."""
    units = site.plan.units
    needs: dict[str, dict[tuple[str, str], float]] = {}
    for record in site.memory.by_kind.get("paint_need", []):
        v = record.values
        needs.setdefault(str(v["product"]), {})[(str(v["step"]), str(v["of"]))] = float(v["needed"])  # type: ignore[arg-type]
    for name, each in sorted(needs.items()):
        product = site.plan.entities.get("product", {}).get(name)
        if product is None:
            continue  # advised: listed by the finding that asks for it
        need = sum(each.values()) * _SPARE
        have = number(product, "amount")
        there = None if have is None else show(have, "liquid", units)
        unit = there.unit if there else show(need, "liquid", units).unit  # both in the unit of what is there
        why = "area and coats by the usual spread, a tenth to spare; the label rules"
        yield Supply(
            name, site.order(s for s, _ in each), there.number if there else None, _in(need, unit, "liquid"), unit, why,
            "buy", "paint", number(product, "cost"),
        )  # fmt: skip


def _in(value: float, unit: str, dimension: str) -> float:
    """A value of base units in a unit, to three figures: nobody buys paint more exactly."""
    return float(f"{from_base(value, unit, dimension):.3g}")


def _tile(site: _Plan) -> Iterable[Supply]:
    """Tile with its waste, against what was bought."""
    wastes = {str(r.values["part"]): float(r.values["waste"]) for r in site.memory.by_kind.get("tile_waste", [])}  # type: ignore[arg-type]
    bought = {
        str(r.values["part"]): float(r.values["boxes"]) * float(r.values["per_box"])  # type: ignore[arg-type]
        for r in site.memory.by_kind.get("tile_bought", [])
    }
    by_area = site.vocabulary.members("product_kind", "counted by its area")
    steps: dict[str, list[str]] = {}
    for record in site.memory.by_kind.get("sets_tile", []):
        steps.setdefault(str(record.values["part"]), []).append(str(record.values["step"]))
    for name, own in sorted(steps.items()):
        part = site.plan.entities.get("part", {}).get(name)
        area = number(part, "area")
        have = bought.get(name)
        for step in site.plan.steps:
            for product in (site.plan.entities.get("product", {}).get(p) for p in words(step, "using")):
                if step.id in own and product is not None and have is None and set(words(product, "kind")) & by_area:
                    have = number(product, "area")
        what, why = f"tile for {name}", "its area is not stated; add a tenth for cuts"
        if area is None:
            yield Supply(what, site.order(own), None, None, "", why, "buy", "tile", None)
            continue
        waste = wastes.get(name, 0.1)
        need = tile_to_buy(area, to_base(1, "sqft", "area"), waste, 0)
        shown = show(need.value, "area", site.plan.units)
        there = None if have is None else _in(have, shown.unit, "area")
        why = f"area and {waste:.0%} for cuts and broken pieces"
        yield Supply(
            what,
            site.order(own),
            there,
            _in(need.value, shown.unit, "area"),
            shown.unit,
            why,
            "buy",
            "tile",
            number(part, "cost"),
        )


def _worn(site: _Plan) -> Iterable[Supply]:
    """Protective gear, one for each person."""
    for one in site.gear:
        need = site.people()
        yield _of_shop(one.gear, one.steps, need if one.owned else 0, need, one.because)


def _of_shop(word: str, steps: tuple[str, ...], have: float, need: float, why: str) -> Supply:
    """A thing by its vocabulary word, told as one asks for it."""
    entry = _known()["shop"].get(word, {})
    how = _known()["rent"].get(word, entry.get("how", "buy"))
    return Supply(entry.get("say", word), steps, have, need, _EACH, why, how, entry.get("shelf", "tools"), None)


def _asked(site: _Plan) -> Iterable[Supply]:
    """What findings ask for, by name or by `rules/report/supplies.yaml`."""
    for finding in site.findings:
        steps = site.order([finding.step] if finding.step else [])
        for word in finding.wants:
            if word in {g.gear for g in site.gear}:
                continue
            entry = _known()["shop"].get(word, {})
            need = site.people() if entry.get("each") == "person" else 1
            yield _of_shop(word, steps, need if site.there(word) else 0, need, finding.title)
        for asked in _known()["by_rule"].get(finding.rule, []):
            yield _by_rule(site, finding, asked, steps)


def _by_rule(site: _Plan, finding: Finding, asked: dict[str, Any], steps: tuple[str, ...]) -> Supply:
    need: float = 1
    if asked.get("each") == "person":
        need = site.people()
    if asked.get("count") == "part":
        need = sum(_count(site, name) for name in finding.parts) or 1  # a part without a count is what they stand in
    what = asked["say"]
    for one in finding.numbers:
        if one.name == asked.get("from"):
            what = f"{what} ({show(one.value, one.dimension, site.plan.units).text})"
    return Supply(
        what, steps, 0, need, _EACH, finding.title, asked.get("how", "buy"), asked.get("shelf", "tools"), None
    )


def _planned(site: _Plan) -> Iterable[Supply]:
    """What the plan itself lists under `to_get`."""
    for entry in site.plan.to_get:
        if entry.sort != "who":  # nobody buys a helper
            yield replace(_of_shop(entry.what, entry.steps, 0, 1, "the plan lists it to get"), planned=True)


def _count(site: _Plan, name: str) -> float:
    return number(site.plan.entities.get("part", {}).get(name), "count") or 0


def _tools(site: _Plan) -> Iterable[Supply]:
    """Tools that a step names and the crew does not say that it has: few people buy a machine for one job."""
    if not site.owned():
        return  # nobody said what is there
    worn = site.vocabulary.members("tool", "worn on the body")
    uses: dict[str, list[str]] = {}
    for step in site.plan.steps:
        for tool in words(step, "with"):
            if tool not in worn and not site.there(tool):
                uses.setdefault(tool, []).append(step.id)
    for tool, steps in sorted(uses.items()):
        how = _known()["rent"].get(
            tool,
            "rent or borrow" if tool in site.vocabulary.members("tool", "dear to buy for once") else "buy or borrow",
        )
        entry = _known()["shop"].get(tool, {})
        yield Supply(
            entry.get("say", tool),
            site.order(steps),
            0,
            1,
            _EACH,
            "the step names it, the crew does not",
            how,
            entry.get("shelf", "tools"),
            None,
        )


@lru_cache(maxsize=1)
def _known() -> dict[str, Any]:
    known: dict[str, Any] = read_file(rules_folder() / "report" / "supplies.yaml").plain()
    return known
