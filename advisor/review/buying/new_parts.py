"""Parts that the plan puts in new: lights, a fan, a sink. They are bought like all else."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec.structs import replace

from advisor.plan.model import Entity
from advisor.plan.said import action_of, number, words
from advisor.review.buying.on_site import SPARE, OnSite, pieces, shop_words
from advisor.review.supply import Supply
from advisor.showing import show


def new_parts(site: OnSite, told: set[str]) -> Iterable[Supply]:
    """One for each part that a step puts in new; not those `told` by name, nor what the plan lists to get itself."""
    planned = {entry.what for entry in site.plan.to_get}
    steps: dict[str, list[str]] = {}
    for step in site.at_work:
        for part in site.parts(step):
            if _goes_in_new(site, step, part) and _in_a_shop(site, part):
                steps.setdefault(part.id, []).append(step.id)
    for name, own in steps.items():
        part = site.plan.entities["part"][name]
        kinds = set(words(part, "kind"))
        if name not in told and planned.isdisjoint({name, *kinds}):
            yield _bought(site, part, own)


def _in_a_shop(site: OnSite, part: Entity) -> bool:
    """Whether one buys it as such: no wall, but the boards of a deck that the plan calls new."""
    known = shop_words()["new_parts"]
    if words(part, "new") == ("yes",) and _asked_for(site, part):
        return True
    return not site.is_kind("part_kind", part, "kind", known["not_bought"])


def _asked_for(site: OnSite, part: Entity) -> str:
    """What one asks for of a part that is bought as something else: boards for the deck."""
    named = shop_words()["new_parts"]["if_new"]
    return next((said for kind, said in named.items() if site.is_kind("part_kind", part, "kind", [kind])), "")


def _goes_in_new(site: OnSite, step: Entity, part: Entity) -> bool:
    """Whether the step puts the part in, and it was not there before."""
    known, action = shop_words()["new_parts"], action_of(step)
    if action not in site.vocabulary.members("action", *known["do"]) or site.is_one("action", action, known["but"]):
        return False
    new = words(part, "new")
    return new == ("yes",) or (not new and site.is_one("action", action, known["swaps"]))


def _bought(site: OnSite, part: Entity, steps: list[str]) -> Supply:
    known = shop_words()["new_parts"]
    kind = (words(part, "kind") or (part.id,))[0]
    asked = _asked_for(site, part) if words(part, "new") == ("yes",) else ""
    what = f"{asked or kind} ({part.id})" if asked or kind != part.id else part.id
    shelf = next(
        (s for s, kinds in known["shelf_of"].items() if site.is_kind("part_kind", part, "kind", kinds)), known["shelf"]
    )
    why = "the plan puts it in new"
    if (stock := _stock(site, part)) is not None:
        what, why = stock, "the plan cuts it to size"
        return Supply(what, site.order(steps), None, number(part, "count") or 1.0, "each", why, "buy",
                      known["from_stock"]["shelf"], number(part, "cost"))  # fmt: skip
    for attribute in known["sold_by"]:
        if site.is_kind("part_kind", part, "kind", known["sold_by"][attribute]):
            if (size := number(part, attribute)) is None:
                why += f"; the plan leaves out its {attribute}"
                return Supply(what, site.order(steps), None, None, "", why, "buy", shelf, number(part, "cost"))
            return _cut(site, part, attribute, size, Supply(
                what, site.order(steps), None, None, "each", why, "buy", shelf, number(part, "cost")
            ))  # fmt: skip
    need = number(part, "count") or 1.0
    return Supply(what, site.order(steps), None, need, "each", why, "buy", shelf, number(part, "cost"))


def _stock(site: OnSite, part: Entity) -> str | None:
    """What a part is cut from: `plywood for shelf, 96 in x 16 in x 3/4 in`; None where no step cuts it to size."""
    known = shop_words()["new_parts"]["from_stock"]
    of = words(part, "material")
    if not of or not site.is_kind("part_kind", part, "kind", known["kinds"]):
        return None
    if not any(
        site.is_one("action", action_of(step), known["do"]) and part in site.parts(step) for step in site.at_work
    ):
        return None
    sizes = [number(part, name) for name in known["sizes"]]
    shown = [show(size, "length", site.plan.units).text for size in sizes if size is not None]
    named = f"{of[0]} for {part.id}"
    return f"{named}, {' x '.join(shown)}" if shown else named


def _cut(site: OnSite, part: Entity, attribute: str, size: float, supply: Supply) -> Supply:
    """With a tenth for what is cut off, and in whole sheets where it comes in sheets (common practice)."""
    units, named = site.plan.units, shop_words()["new_parts"]
    told = f"{supply.why}; {show(size, attribute, units).text} and a tenth for what is cut off"
    for kind, sheet in named["sheets"].items():
        if site.is_kind("part_kind", part, "kind", [kind]):
            need, one = pieces(size, str(sheet["covers"]), attribute)
            why = f"{told}, one for each {show(one, attribute, units).text} (common practice)"
            return replace(supply, what=f"{supply.what}, {sheet['say']}", need=float(need), why=why)
    shown = show(size * SPARE, attribute, units)
    return replace(supply, need=shown.number, unit=shown.unit, why=f"{told} (common practice)")
