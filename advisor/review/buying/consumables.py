"""What work uses up, in whole packs: mortar, grout, sealant, brushes, tape, screws, sandpaper (`consumables`)."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from math import ceil

from advisor.plan.model import Entity, Plan
from advisor.plan.said import action_of, number, words
from advisor.review.supply import Supply
from advisor.rulebase.vocabulary import Vocabulary
from advisor.tables import Row, table

_EACH = "each"
_MEASURES = {"covers": "area", "runs": "length", "pieces": "count"}
_HELD = {"holds": "weight", "fills": "amount"}


def used_up(plan: Plan, vocabulary: Vocabulary, owned: Collection[str]) -> Iterator[Supply]:
    """A supply for each row and each product of the plan: the packs that all its steps need, and those there are."""
    hired = vocabulary.members("who", "paid firm")
    at_work = [s for s in plan.steps if "done" not in s.values and hired.isdisjoint(words(s, "who"))]
    for row in table("consumables").rows.values():
        by_product: dict[tuple[str, ...], list[Entity]] = {}
        for step in at_work:
            if _takes(row, step, plan, vocabulary, owned):
                own = [p for p in _products(step, plan) if "product" in row.cells and _kind_of(row, p, vocabulary)]
                by_product.setdefault(tuple(p.id for p in own), []).append(step)
        for names, steps in by_product.items():
            yield _supply(row, [plan.entities["product"][name] for name in names], steps, plan, vocabulary)


def _takes(row: Row, step: Entity, plan: Plan, vocabulary: Vocabulary, owned: Collection[str]) -> bool:
    """Whether a step uses it up, and has no other thing in its place."""
    action = action_of(step)
    if not _is(vocabulary, "action", action, row, "for") or _is(vocabulary, "action", action, row, "but"):
        return False
    if "parts" in row.cells and not _own(row, step, plan, vocabulary):
        return False
    ways = set(words(step, "by"))
    if "by" in row.cells and not any(_is(vocabulary, "method", way, row, "by") for way in ways):
        return False
    if any(_is(vocabulary, "method", way, row, "not_by") for way in ways):
        return False
    if any(_is(vocabulary, "tool", tool, row, "tool") for tool in {*owned}):
        return False
    used = _products(step, plan)
    # A plan that names what is used names it all: mastic in the place of mortar, or a cleaner that is no sealant.
    if not used and "named" in row.cells:
        return False
    return "product" not in row.cells or not used or any(_kind_of(row, one, vocabulary) for one in used)


def _supply(row: Row, own: list[Entity], steps: list[Entity], plan: Plan, vocabulary: Vocabulary) -> Supply:
    need, why = _need(row, steps, plan, vocabulary)
    packs = [_packs(row, product) for product in own]
    have = None if None in packs else sum(p for p in packs if p is not None)
    said = str(row.cells["say"]) + (f" ({', '.join(product.id for product in own)})" if own else "")
    price = number(own[0], "cost") if own else None
    return Supply(said, tuple(s.id for s in steps), have, need, _EACH, why, "buy", str(row.cells["shelf"]), price)


def _need(row: Row, steps: list[Entity], plan: Plan, vocabulary: Vocabulary) -> tuple[float, str]:
    """Packs of it for all the steps, rounded up together, and how that was worked out; one at least."""
    if "once" in row.cells:
        return float(row.cells["once"]), "one lasts for these steps (common practice)"
    column = next(name for name in _MEASURES if name in row.cells)
    attribute, rate = _MEASURES[column], float(row.cells[column])
    if column == "pieces":
        parts = {part.id: number(part, attribute) for step in steps for part in _own(row, step, plan, vocabulary)}
        return float(
            ceil(rate * sum(1.0 if n is None else n for n in parts.values()))
        ), "by the piece (common practice)"
    total, sure = 0.0, True
    for step in steps:
        whole = number(step, attribute)
        of = _own(row, step, plan, vocabulary) if "parts" in row.cells else _parts(step, plan)
        sizes = [whole] if whole is not None else [number(part, attribute) for part in of]
        total += sum(size for size in sizes if size is not None)
        sure = sure and bool(sizes) and None not in sizes
    packs = float(max(1, ceil(total / rate - 1e-9)))
    if not sure:
        return packs, f"at least so many: the plan leaves out the {attribute} that it goes by"
    return packs, f"by {attribute} and the usual yield of a pack (common practice); the label rules"


def _packs(row: Row, product: Entity) -> float | None:
    """How many packs the plan has of it; None where it does not say."""
    if (count := number(product, "count")) is not None:
        return count
    for column, attribute in _HELD.items():
        held = number(product, attribute)
        if column in row.cells and held is not None:
            return held / float(row.cells[column])
    return None


def _own(row: Row, step: Entity, plan: Plan, vocabulary: Vocabulary) -> list[Entity]:
    """The parts of the step that the row is for."""
    return [
        part
        for part in _parts(step, plan)
        if any(_is(vocabulary, "part_kind", kind, row, "parts") for kind in words(part, "kind"))
    ]


def _parts(step: Entity, plan: Plan) -> list[Entity]:
    known = plan.entities.get("part", {})
    return [known[name] for name in words(step, "to") if name in known]


def _products(step: Entity, plan: Plan) -> list[Entity]:
    known = plan.entities.get("product", {})
    return [known[name] for name in words(step, "using") if name in known]


def _kind_of(row: Row, product: Entity, vocabulary: Vocabulary) -> bool:
    return any(_is(vocabulary, "product_kind", kind, row, "product") for kind in words(product, "kind"))


def _is(vocabulary: Vocabulary, sort: str, word: str, row: Row, column: str) -> bool:
    """Whether a word is one of those in a row's cell, or a kind of it."""
    terms = vocabulary.taxonomies[sort]
    names = [name.strip() for name in str(row.cells.get(column, "")).split(";") if name.strip()]
    return any(word == name or word in terms.below(name) for name in names if name in terms.terms)
