"""What work uses up, in whole packs: mortar, grout, sealant, brushes, tape, screws, sandpaper (`consumables`)."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, sqrt

from msgspec.structs import replace

from advisor.plan.model import Entity
from advisor.plan.said import action_of, number, words
from advisor.review.buying.left_out import LeftOut
from advisor.review.buying.on_site import OnSite
from advisor.review.supply import Supply
from advisor.review.wording import listed
from advisor.rulebase.vocabulary import Vocabulary
from advisor.showing import show
from advisor.tables import Row, table

_EACH = "each"
_MEASURES = {"covers": "area", "runs": "length", "along": "length", "pieces": "count", "spans": "length"}
_HELD = {"holds": "weight", "fills": "amount"}


def kinds_with_rows(vocabulary: Vocabulary) -> frozenset[str]:
    """The kinds of product of which the table tells an amount."""
    terms = vocabulary.taxonomies["product_kind"]
    named = {word for row in table("consumables").rows.values() for word in row.listed("product")}
    return frozenset(kind for word in named if word in terms.terms for kind in (word, *terms.below(word)))


def used_up(site: OnSite, off: LeftOut) -> Iterator[tuple[Supply, tuple[str, ...]]]:
    """A supply for each row and each product of the plan: the packs that all its steps need, and those there are.

    Beside each the products that it counts, by their names.
    """
    for row in table("consumables").rows.values():
        by_product: dict[tuple[str, ...], tuple[list[Entity], list[Entity]]] = {}
        for step in site.at_work:
            if step.id not in off.steps and takes(row, step, site, off):
                used = off.used(step, site.products(step))
                own = [p for p in used if "product" in row.cells and _kind_of(row, p, site)]
                by_product.setdefault(tuple(p.id for p in own), (own, []))[1].append(step)
        also = [step for step in site.at_work if step.id not in off.steps and _names(row, step, site, off)]
        for names, (own, steps) in by_product.items():
            supply = _supply(row, own, steps, site)
            yield replace(supply, steps=site.order([*supply.steps, *(step.id for step in also)])), names


def takes(row: Row, step: Entity, site: OnSite, off: LeftOut) -> bool:
    """Whether a step uses it up, none of it is there, and the step has no other thing in its place."""
    return work_takes(row, step, site, off) and not own_of_row(row, site)


def own_of_row(row: Row, site: OnSite) -> list[str]:
    """What the crew has that is the row's thing."""
    return [tool for tool in site.owned if _is(site, "tool", tool, row, "tool")]


def work_takes(row: Row, step: Entity, site: OnSite, off: LeftOut) -> bool:
    """Whether a step uses it up, and has no other thing in its place."""
    action = action_of(step)
    if not _is(site, "action", action, row, "for") or _is(site, "action", action, row, "but"):
        return False
    if "parts" in row.cells and not _own(row, step, site):
        return False
    if not _fits(row, step, site):
        return False
    tools = [tool for tool in words(step, "with") if (step.id, tool) not in off.tools]
    # What the report speaks against is not the way: a brush in the place of the sprayer.
    ways = set(words(step, "by")) if len(tools) == len(words(step, "with")) else set()
    if "by" in row.cells and not any(_is(site, "method", way, row, "by") for way in ways):
        return False
    if any(_is(site, "method", way, row, "not_by") for way in ways):
        return False
    if "with" in row.cells and not any(_is(site, "tool", tool, row, "with") for tool in tools):
        return False
    if any(_is(site, "tool", tool, row, "not_with") for tool in tools):
        return False
    used = off.used(step, site.products(step))
    # A plan that names what is used names it all: mastic in the place of mortar, or a cleaner that is no sealant.
    if not used and "named" in row.cells:
        return False
    return "product" not in row.cells or not used or any(_kind_of(row, one, site) for one in used)


def named_too(site: OnSite, off: LeftOut) -> frozenset[tuple[str, str]]:
    """Each step with those of its tools that are counted here: sandpaper that a step names beside its sander, and a
    drop cloth that one step names and another takes."""
    found: set[tuple[str, str]] = set()
    for row in table("consumables").rows.values():
        own = [step for step in site.at_work if step.id not in off.steps and takes(row, step, site, off)]
        for step in site.plan.steps if own else ():
            for tool in words(step, "with"):
                if _is(site, "tool", tool, row, "tool") or (step in own and _is(site, "tool", tool, row, "also")):
                    found.add((step.id, tool))
    return frozenset(found)


def _names(row: Row, step: Entity, site: OnSite, off: LeftOut) -> bool:
    """Whether a step names among its tools what the row counts."""
    tools = (tool for tool in words(step, "with") if (step.id, tool) not in off.tools)
    return any(_is(site, "tool", tool, row, "tool") for tool in tools)


def _supply(row: Row, own: list[Entity], steps: list[Entity], site: OnSite) -> Supply:
    need, why, sure = _need(row, steps, site)
    packs = [_packs(row, product) for product in own]
    have = None if None in packs else sum(p for p in packs if p is not None)
    said = str(row.cells["say"]) + (f" ({', '.join(product.id for product in own)})" if own else "")
    price = number(own[0], "cost") if own else None
    ids = tuple(s.id for s in steps)
    return Supply(said, ids, have, need, _EACH, why, "buy", str(row.cells["shelf"]), price, at_least=not sure)


def _need(row: Row, steps: list[Entity], site: OnSite) -> tuple[float, str, bool]:
    """Packs of it for all the steps, rounded up together, how that was worked out, and whether all sizes are known."""
    if "once" in row.cells:
        return float(row.cells["once"]), "one lasts for these steps (common practice)", True
    column = next(name for name in _MEASURES if name in row.cells)
    attribute, rate = _MEASURES[column], float(row.cells[column])
    if column == "pieces":
        parts = {part.id: number(part, attribute) for step in steps for part in _own(row, step, site)}
        packs = float(ceil(rate * sum(1.0 if n is None else n for n in parts.values())))
        return packs, "by the piece (common practice)", True
    if column == "along":
        return _taped(row, rate, steps, site)
    if column == "spans":
        return _held_up(row, rate, steps, site)
    total, missing, filled = 0.0, list[str](), list[str]()
    for step in steps:
        whole = number(step, attribute)
        of = _own(row, step, site) if "parts" in row.cells else site.parts(step)
        sizes = {step.id: whole} if whole is not None else {part.id: _size(part, attribute) for part in of}
        patched = _patched(row, step, site)
        sizes |= dict.fromkeys(patched & set(sizes), 0.0)
        filled += [name for name in sizes if name in patched and name not in filled]
        total += sum(size for size in sizes.values() if size is not None)
        missing += [name for name, size in (sizes or {step.id: None}).items() if size is None and name not in missing]
    packs = float(max(1, ceil(total / rate - 1e-9)))
    units = site.plan.units
    each = f"one for each {show(rate, attribute, units).text} (common practice; the label rules)"
    why = f"{show(total, attribute, units).text}, {each}" if total else each
    if filled:
        why = f"{why}. Of {listed(filled)} only the places that were filled are counted"
    if missing:
        return packs, f"{why}. The plan leaves out the {attribute} of {listed(missing)}", False
    return packs, why, True


def _patched(row: Row, step: Entity, site: OnSite) -> set[str]:
    """The parts of a step on which only the places are worked on that an earlier step filled."""
    if "after" not in row.cells:
        return set()
    done = set[str]()
    for earlier in site.plan.steps[: site.places[step.id]]:
        action = action_of(earlier)
        if _is(site, "action", action, row, "after") and not _is(site, "action", action, row, "not_after"):
            done.update(words(earlier, "to"))
    kinds = row.listed("of")
    return {one.id for one in site.parts(step) if one.id in done and site.is_kind("part_kind", one, "kind", kinds)}


def _taped(row: Row, rate: float, steps: list[Entity], site: OnSite) -> tuple[float, str, bool]:
    """As `_need`, along the edges: each part once, since the tape of one coat lasts for the next."""
    parts = {part.id: part for step in steps for part in site.parts(step)}
    edges = {name: _edges(part, site) for name, part in parts.items()}
    total = sum(one for one in edges.values() if one is not None)
    missing = [name for name, one in edges.items() if one is None]
    told = show(total, "length", site.plan.units).text
    each = f"one for each {show(rate, 'length', site.plan.units).text} (common practice)"
    why = f"{told} of edges, {each}" if total else each[0].upper() + each[1:]
    if missing:
        why += f". The plan leaves out the size of {listed(missing)}"
    return float(max(1, ceil(total / rate - 1e-9))), why, not missing


def _held_up(row: Row, apart: float, steps: list[Entity], site: OnSite) -> tuple[float, str, bool]:
    """As `_need`, for what holds a part up: at its ends, and between them as far apart as its span, else `apart`."""
    parts = {part.id: part for step in steps for part in _own(row, step, site)}
    total, told, missing, units = 0.0, list[str](), list[str](), site.plan.units
    for name, part in parts.items():
        length, span = number(part, "length"), number(part, "span") or apart
        each = 2.0 if length is None else max(1, ceil(length / span - 1e-9)) + 1.0
        total += each * (number(part, "count") or 1)
        if length is None:
            missing.append(name)
        else:
            told.append(f"{show(length, 'length', units).text} at most {show(span, 'length', units).text} apart")
    why = f"{listed(told)}, one at each end (common practice)" if told else "one at each end (common practice)"
    if missing:
        why += f". The plan leaves out the length of {listed(missing)}"
    return total, why, not missing


def _size(part: Entity, attribute: str) -> float | None:
    """What a part measures; an area also by its length and width."""
    size, length, width = (number(part, name) for name in (attribute, "length", "width"))
    return length * width if size is None and attribute == "area" and length and width else size


def _packs(row: Row, product: Entity) -> float | None:
    """How many packs the plan has of it; None where it does not say."""
    if (count := number(product, "count")) is not None:
        return count
    for column, attribute in _HELD.items():
        held = number(product, attribute)
        if column in row.cells and held is not None:
            return held / float(row.cells[column])
    return None


def _fits(row: Row, step: Entity, site: OnSite) -> bool:
    """Whether the parts have on them what the row is for, and nothing that another row is for."""
    there = {word for part in site.parts(step) for word in words(part, "has")}
    if "has" in row.cells and there.isdisjoint(row.listed("has")):
        return False
    return there.isdisjoint(row.listed("has_not"))


def _edges(part: Entity, site: OnSite) -> float | None:
    """How long the edges of a part are along which tape goes: those of its room, or of a square of its size."""
    room = site.plan.entities.get("room", {}).get((words(part, "room") or ("",))[0])
    length, width = number(room, "length"), number(room, "width")
    around = site.vocabulary.members("part_kind", "goes round a room")
    if length and width and around & set(words(part, "kind")):
        return 2 * (length + width)
    length, width, area = (number(part, name) for name in ("length", "width", "area"))
    if length and width:
        return 2 * (length + width)
    return 4 * sqrt(area) if area is not None else length


def _own(row: Row, step: Entity, site: OnSite) -> list[Entity]:
    """The parts of the step that the row is for."""
    return [part for part in site.parts(step) if site.is_kind("part_kind", part, "kind", row.listed("parts"))]


def _kind_of(row: Row, product: Entity, site: OnSite) -> bool:
    return site.is_kind("product_kind", product, "kind", row.listed("product"))


def _is(site: OnSite, sort: str, word: str, row: Row, column: str) -> bool:
    """Whether a word is one of those in a row's cell, or a kind of it."""
    return site.is_one(sort, word, row.listed(column))
