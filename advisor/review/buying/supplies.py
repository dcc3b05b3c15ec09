"""What to buy, rent or borrow, in amounts: coats and tile by size, gear by the person, and what findings ask for."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec.structs import replace

from advisor.engine.memory import Memory
from advisor.plan.model import Plan
from advisor.plan.said import words
from advisor.review.buying.at_hand import at_hand
from advisor.review.buying.by_finding import by_rules, devices
from advisor.review.buying.by_size import coats, rest, spread, tile
from advisor.review.buying.consumables import kinds_with_rows, used_up
from advisor.review.buying.gear import why_at
from advisor.review.buying.left_out import LeftOut, left_out
from advisor.review.buying.new_parts import new_parts
from advisor.review.buying.on_site import OnSite, shop_words
from advisor.review.buying.tools import against, entry_of, goes_with, of_shop, tools
from advisor.review.finding import Finding
from advisor.review.model import Gear
from advisor.review.supply import Supply
from advisor.rulebase.vocabulary import Vocabulary


def supplies(
    plan: Plan, memory: Memory, vocabulary: Vocabulary, findings: Sequence[Finding], gear: Sequence[Gear]
) -> list[Supply]:
    """All that the steps take, the shelves of a shop in a fixed order, then by name; what no one should get, too."""
    site = OnSite(plan, memory, vocabulary, findings, gear)
    off, asked = left_out(site, kinds_with_rows(vocabulary)), _asked_by_step(site)
    packs = list(used_up(site, off))
    found = [*coats(site, off), *tile(site), *_worn(site, asked), *_asked(site, asked, off), *tools(site, off)]
    found += [*at_hand(site, asked, off), *_planned(site), *(one for one, _ in packs)]
    told = {one.what for one in found} | {name for _, names in packs for name in names}
    found += new_parts(site, told | site.named_apart())
    found += rest(site, told | set(_set_as_tile(site)), off)
    found += list(goes_with(site, found))
    merged: dict[str, Supply] = {}
    for one in found:
        known = merged.get(one.what)
        if known is None or known.against:
            merged[one.what] = one
        elif not one.against:
            need = max((n for n in (known.need, one.need) if n is not None), default=None)
            steps = site.order((*known.steps, *one.steps))
            planned, at_least = known.planned or one.planned, known.at_least or one.at_least
            price = known.price or one.price
            merged[one.what] = replace(known, steps=steps, need=need, price=price, planned=planned, at_least=at_least)
    for one in found:
        for name in one.instead:
            if (own := merged.get(name)) is not None and not own.against:
                why = f"{own.why}. Not needed where {one.what.partition(',')[0]} takes its place"
                merged[name] = replace(own, why=why)
    _one_for_both(site, merged)
    for one in _products_off(site, off):
        merged.setdefault(one.what, one)
    shelves = shop_words()["shelves"]
    return sorted(merged.values(), key=lambda s: (shelves.index(s.shelf), s.what))


def _one_for_both(site: OnSite, merged: dict[str, Supply]) -> None:
    """Nobody buys two masks where one does the work of both: its line takes over the steps of the other."""
    said = shop_words()["shop"]
    for word, better in shop_words()["one_does"].items():
        less, more = merged.get(said[word]["say"]), merged.get(said[better]["say"])
        if less is not None and more is not None and not less.against and not more.against:
            merged[more.what] = replace(more, steps=site.order((*less.steps, *more.steps)))
            del merged[less.what]


def _set_as_tile(site: OnSite) -> Iterable[str]:
    """Products that are tile: counted with the part that they are set on."""
    by_area = site.vocabulary.members("product_kind", "counted by its area")
    for name, product in site.plan.entities.get("product", {}).items():
        if set(words(product, "kind")) & by_area:
            yield name


def _worn(site: OnSite, asked: dict[str, set[str]]) -> Iterable[Supply]:
    """Protective gear, one for each person; not where something better is asked for that does its work too."""
    for one in site.gear:
        need = site.people()
        if (steps := _uncovered(one.gear, one.steps, asked)) and not site.there(one.gear):
            because = why_at(site.memory, one.gear, steps[0]) or one.because
            yield of_shop(site, one.gear, steps, need if one.owned else 0, need, because)


def _asked_by_step(site: OnSite) -> dict[str, set[str]]:
    """Gear and tools that each step needs, or a finding there asks for."""
    found: dict[str, set[str]] = {}
    for gear in site.gear:
        for step in gear.steps:
            found.setdefault(step, set()).add(gear.gear)
    for finding in site.findings:
        for place in (finding.step, *finding.steps):
            found.setdefault(place or "", set()).update(site.asked_by(finding))
    return found


def _uncovered(word: str, steps: Sequence[str], asked: dict[str, set[str]]) -> tuple[str, ...]:
    """The steps at which nothing better is asked for that does the work of it too."""
    better = shop_words()["covered_by"].get(word, ())
    return tuple(step for step in steps if asked.get(step, set()).isdisjoint(better))


def _asked(site: OnSite, better: dict[str, set[str]], off: LeftOut) -> Iterable[Supply]:
    """What findings ask for, by name or by `rules/report/supplies.yaml`."""
    # What goes by area: why, and the steps and parts of all its findings.
    by_area: dict[str, tuple[str, list[str], set[str]]] = {}
    in_table = {one.gear: set(one.steps) for one in site.gear}
    for finding in site.findings:
        steps = site.order([finding.step] if finding.step else [])
        for word in site.asked_by(finding):
            if word in in_table and in_table[word] >= set(steps):
                continue
            if site.there(word) or (steps and not _uncovered(word, steps, better)):
                continue
            if any(key[0] in steps and kind == word for key, kind in off.instead.items()):
                continue  # counted in packs
            entry = entry_of(site, word)
            if steps and "for_kind" in entry:
                _, own, parts = by_area.setdefault(word, (finding.title, [], set()))
                own.extend(steps)
                parts.update(finding.parts)
                continue
            need = site.people() if entry.get("each") == "person" else 1
            yield of_shop(site, word, steps, 0, need, finding.title)
        yield from by_rules(site, finding, steps)
    yield from devices(site)
    for word, (title, steps_of, only) in by_area.items():
        yield spread(site, word, site.order(steps_of), title, frozenset(only))


def _planned(site: OnSite) -> Iterable[Supply]:
    """What the plan itself lists under `to_get`."""
    for entry in site.plan.to_get:
        if entry.sort != "who":  # nobody buys a helper
            yield replace(of_shop(site, entry.what, entry.steps, 0, 1, "the plan lists it to get"), planned=True)


def _products_off(site: OnSite, off: LeftOut) -> Iterable[Supply]:
    """Products that the report speaks against wherever the plan uses them."""
    uses: dict[str, list[str]] = {}
    for step in site.plan.steps:
        for product in site.products(step):
            uses.setdefault(product.id, []).append(step.id)
    for name, steps in sorted(uses.items()):
        if all((step, name) in off.products for step in steps):
            yield against(site.called(name), site.order(steps), off.products[steps[0], name], "buy", "paint")
