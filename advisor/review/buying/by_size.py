"""Paint, tile and what else of the plan goes by size: what it takes against what is there, and how that was summed."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from advisor.calculators.tile import tile_to_buy
from advisor.plan.model import Entity
from advisor.plan.said import action_of, number, words
from advisor.review.buying.left_out import LeftOut
from advisor.review.buying.on_site import SPARE, OnSite, shop_words
from advisor.review.supply import Supply
from advisor.review.wording import listed
from advisor.showing import show
from advisor.tables import table
from advisor.units import from_base, to_base

_MOST_TOLD = 3  # terms of a sum that are printed


def coats(site: OnSite, off: LeftOut) -> Iterable[Supply]:
    """Paint and the like: what the coats take with a tenth to spare, against what the plan has."""
    units, asked = site.plan.units, _both_faces(site)
    rates = {str(r.values["product"]): float(r.values["rate"]) for r in site.memory.by_kind.get("spread_of", [])}  # type: ignore[arg-type]
    for name, rate in sorted(rates.items()):
        product = site.plan.entities.get("product", {}).get(name)
        if product is None or rate <= 0:
            continue  # advised: listed by the finding that asks for it
        own = [s for s in _coating(site) if product in site.products(s) and (s.id, name) not in off.products]
        if not own:
            continue
        need, told, unsized = 0.0, list[str](), list[str]()
        without = {part: why for step in own for part, why in off.surfaces.get((step.id, name), {}).items()}
        for step in own:
            layers = number(step, "coats") or 1
            sized, missing = _areas(site, step, without=off.surfaces.get((step.id, name), ()))
            unsized += [one for one in missing if one not in unsized]
            for area in sized:
                need += area * layers / rate * SPARE
                told.append(f"{show(area, 'area', units).text} x {layers:g} coat{'s' * (layers != 1)}")
        have = number(product, "amount")
        there = None if have is None else show(have, "liquid", units)
        steps, price = tuple(step.id for step in own), number(product, "cost")
        if not told:
            why = f"the plan leaves out the size of {listed(unsized)}{_not_on(without)}"
            yield Supply(name, steps, there.number if there else None, None, there.unit if there else "", why, "buy",
                         "paint", price)  # fmt: skip
            continue
        unit = there.unit if there else show(need, "liquid", units).unit  # both in the unit of what is there
        spread = show(rate, "spreading_rate", units).text
        why = f"{_summed(told)} at {spread}, and a tenth to spare; the label rules"
        both = dict.fromkeys(p.id for step in own for p in site.parts(step) if p.id in asked)
        why += f". Both faces of {listed(list(both))} are counted, as this report asks" if both else ""
        why += f". The plan leaves out the size of {listed(unsized)}" if unsized else ""
        why += _not_on(without)
        yield Supply(
            name, steps, there.number if there else None, _in(need, unit, "liquid"), unit, why, "buy", "paint", price,
            at_least=bool(unsized),
        )  # fmt: skip


def _not_on(without: dict[str, str]) -> str:
    """The surfaces that are left out of the sum, each with the finding that speaks against the coat there."""
    by_title: dict[str, list[str]] = {}
    for part, title in without.items():
        by_title.setdefault(title, []).append(part)
    return "".join(f". Without {listed(parts)}, by this report: {title}" for title, parts in by_title.items())


def spread(site: OnSite, word: str, steps: tuple[str, ...], title: str, only: frozenset[str]) -> Supply:
    """A product that the report asks for and that goes by area: as much as its steps take, and what it stands for.

    Of the parts of its steps, those in `only`; all where it is empty.
    """
    entry, units = shop_words()["shop"][word], site.plan.units
    rate = _rate_of(entry)
    own = [step for step in site.plan.steps if step.id in steps]
    told, need, unsized = list[str](), 0.0, list[str]()
    for step in own:
        sized, missing = _areas(site, step, only)
        unsized += [one for one in missing if one not in unsized]
        need += sum(sized) / rate * SPARE
        told += [show(area, "area", units).text for area in sized]
    pack = show(need or to_base(1, "qt", "liquid"), "liquid", units)
    why = f"{title}. "
    if told:
        why += f"{_summed(told)} at {show(rate, 'spreading_rate', units).text}, and a tenth to spare; the label rules"
    if unsized:
        why += f"{'. ' if told else ''}The plan leaves out the size of {listed(unsized)}"
    instead = _instead_of(site, entry["for_kind"], own)
    if instead:
        why += f". It takes the place of {listed(instead)} there, which is then not needed"
    return Supply(
        entry["say"], steps, 0.0, _in(need, pack.unit, "liquid") if told else pack.number,
        pack.unit, why, "buy", entry["shelf"], None, at_least=bool(unsized),
        instead=tuple(instead),
    )  # fmt: skip


def _rate_of(entry: dict[str, str]) -> float:
    """How far a gallon of it goes [m2/m3]."""
    if "rate" in entry:
        number_, unit = entry["rate"].split(" ")
        return to_base(float(number_), unit, "spreading_rate")
    row = table("spreading_rates").row(entry["spread"])
    return float(row.cells["least"]) if row else 0.0


def _instead_of(site: OnSite, kind: str, steps: list[Entity]) -> list[str]:
    """Products of the plan that do the same work at these steps."""
    there = (p.id for step in steps for p in site.products(step) if site.is_kind("product_kind", p, "kind", [kind]))
    return list(dict.fromkeys(there))


def _coating(site: OnSite) -> list[Entity]:
    coating = site.vocabulary.taxonomies["action"].below("coat")
    return [step for step in site.at_work if action_of(step) in coating]


def _areas(
    site: OnSite, step: Entity, only: Collection[str] = (), without: Collection[str] = ()
) -> tuple[list[float], list[str]]:
    """The areas that a step coats, and the parts of which nothing tells it: those in `only`, none of `without`."""
    parts = [part for part in site.parts(step) if part.id not in without]
    parts = [part for part in parts if part.id in only] or parts
    if len(parts) == len(site.parts(step)) and (whole := number(step, "area")) is not None:
        return [whole], []
    sized, missing, both = [], [], _both_faces(site)
    for part in parts:
        length, width = number(part, "length"), number(part, "width")
        faces = sum(int(shop_words()["faces"].get(face, 0)) for face in words(step, "faces"))
        if (area := number(part, "area")) is not None:
            sized.append(area * (2 if faces < 2 and part.id in both else 1))
        elif length and width and faces:
            sized.append(length * width * (max(faces, 2) if part.id in both else faces))
        else:
            missing.append(part.id)
    return sized, missing if site.parts(step) else [step.id]


def _both_faces(site: OnSite) -> set[str]:
    """The parts of which the report asks that all faces are coated, where the plan coats the one in sight."""
    rules = shop_words()["both_faces"]
    return {part for finding in site.findings if finding.rule in rules for part in finding.parts}


def _summed(told: list[str]) -> str:
    """The terms of a sum, as many as a reader follows."""
    said = " + ".join(told[:_MOST_TOLD])
    return f"{said} + {len(told) - _MOST_TOLD} more" if len(told) > _MOST_TOLD else said


def _in(value: float, unit: str, dimension: str) -> float:
    """A value of base units in a unit, to three figures: nobody buys paint more exactly."""
    return float(f"{from_base(value, unit, dimension):.3g}")


def tile(site: OnSite) -> Iterable[Supply]:
    """Tile with its waste, against what was bought."""
    units = site.plan.units
    wastes = {str(r.values["part"]): float(r.values["waste"]) for r in site.memory.by_kind.get("tile_waste", [])}  # type: ignore[arg-type]
    boxes = {
        str(r.values["part"]): (float(r.values["boxes"]), float(r.values["per_box"]))  # type: ignore[arg-type]
        for r in site.memory.by_kind.get("tile_bought", [])
    }
    by_area = site.vocabulary.members("product_kind", "counted by its area")
    steps: dict[str, list[str]] = {}
    for record in site.memory.by_kind.get("sets_tile", []):
        steps.setdefault(str(record.values["part"]), []).append(str(record.values["step"]))
    for name, own in sorted(steps.items()):
        part = site.plan.entities.get("part", {}).get(name)
        area, bought = number(part, "area"), boxes.get(name)
        have = bought[0] * bought[1] if bought else None
        for step in site.plan.steps:
            for product in site.products(step):
                if step.id in own and have is None and set(words(product, "kind")) & by_area:
                    have = number(product, "area")
        what, price = f"tile for {name}", number(part, "cost")
        unit = show(1, "area", units).unit
        there = None if have is None else _in(have, unit, "area")
        if area is None:
            why = "its area is not stated; add a tenth for cuts"
            yield Supply(what, site.order(own), there, None, unit if have else "", why, "buy", "tile", price)
            continue
        waste = wastes.get(name, 0.1)
        need = tile_to_buy(area, to_base(1, "sqft", "area"), waste, 0)
        why = f"{show(area, 'area', units).text} and {waste:.0%} for cuts and broken pieces"
        pack = from_base(bought[1], unit, "area") if bought else 0.0
        if not bought:
            why += "; the plan gives no area for a box: divide by what stands on the box and round up"
        yield Supply(
            what, site.order(own), there, _in(need.value, unit, "area"), unit, why, "buy", "tile", price, pack=pack
        )


def rest(site: OnSite, told: set[str], off: LeftOut) -> Iterable[Supply]:
    """Products that steps use and nothing above counts: not how much they take is told, but that they are needed."""
    uses: dict[str, list[str]] = {}
    for step in site.at_work:
        for product in site.products(step):
            if product.id not in told and (step.id, product.id) not in off.products:
                uses.setdefault(product.id, []).append(step.id)
    for name, steps in sorted(uses.items()):
        product = site.plan.entities["product"][name]
        have, unit = _amount(site, product)
        shelves = shop_words()["shelf_of"]
        shelf = next(
            (s for s, kinds in shelves.items() if site.is_kind("product_kind", product, "kind", kinds)), "paint"
        )
        yield Supply(
            site.called(name), tuple(steps), have, None, unit,
            "the plan names it; its label says how far it goes", "buy", shelf, number(product, "cost"),
        )  # fmt: skip


def _amount(site: OnSite, product: Entity) -> tuple[float | None, str]:
    """How much of a product there is, by whatever the plan says it in."""
    if (count := number(product, "count")) is not None:
        return count, "each"
    for attribute, dimension in (("amount", "liquid"), ("weight", "mass"), ("area", "area"), ("length", "length")):
        if attribute == "length" and site.is_kind("product_kind", product, "kind", shop_words()["length_of_each"]):
            continue
        if (held := number(product, attribute)) is not None:
            shown = show(held, dimension, site.plan.units)
            return float(f"{shown.number:.3g}"), shown.unit
    return None, ""
