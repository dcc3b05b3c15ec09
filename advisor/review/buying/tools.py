"""Tools to buy, rent or borrow: those that steps name, and those that their work usually takes (`hand_tools`)."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.plan.said import words
from advisor.review.buying.consumables import named_too, takes
from advisor.review.buying.left_out import LeftOut
from advisor.review.buying.on_site import OnSite, shop_words
from advisor.review.supply import Supply
from advisor.tables import Row, table

_EACH = "each"


def tools(site: OnSite, off: LeftOut) -> Iterable[Supply]:
    """Tools that the crew does not say that it has: few people buy a machine for one job."""
    named = _named(site, off)
    for tool, steps in sorted(named.items()):
        dear = tool in site.vocabulary.members("tool", "dear to buy for once")
        said, how, shelf = in_shop(site, tool, "rent or borrow" if dear else "buy or borrow")
        kept = [step for step in steps if (step, tool) not in off.tools]
        if kept:
            why = "the step names it, the crew does not" if site.owned else "the step names it"
            yield Supply(said, site.order(kept), _there(site, how), 1, _EACH, why, how, shelf, None)
        else:
            yield against(said, site.order(steps), off.tools[steps[0], tool], how, shelf)
    at_hand = {tool for tool, steps in named.items() if any((step, tool) not in off.tools for step in steps)}
    for row in table("hand_tools").rows.values():
        yield from _usual(row, at_hand, site, off)


def _named(site: OnSite, off: LeftOut) -> dict[str, list[str]]:
    """The tools that steps name, each with its steps; not what is worn, is there, or is counted in packs."""
    worn = site.vocabulary.members("tool", "worn on the body")
    counted = named_too(site, off)
    uses: dict[str, list[str]] = {}
    for step in site.plan.steps:
        for tool in words(step, "with"):
            if tool not in worn and not site.there(tool) and (step.id, tool) not in counted:
                uses.setdefault(tool, []).append(step.id)
    return uses


def _usual(row: Row, at_hand: set[str], site: OnSite, off: LeftOut) -> Iterable[Supply]:
    """A tool that work takes though no step names one of its kind."""
    own = [name.strip() for name in str(row.cells.get("tool", "")).split(";")]
    if any(site.is_one("tool", tool, own) for tool in at_hand):
        return
    steps = [step.id for step in site.at_work if step.id not in off.steps and takes(row, step, site, off)]
    if steps:
        how = str(row.cells["how"])
        why = "usual for this work (common practice)"
        yield Supply(str(row.cells["say"]), site.order(steps), _there(site, how), 1, _EACH, why, how, "tools", None)


def _there(site: OnSite, how: str) -> int | None:
    """None of it, by a crew that says what it has, or where few own one; else nobody knows."""
    return 0 if site.owned or "borrow" not in how else None


def of_shop(site: OnSite, word: str, steps: tuple[str, ...], have: float, need: float, why: str) -> Supply:
    """A thing by its vocabulary word, told as one asks for it."""
    said, how, shelf = in_shop(site, word, "buy")
    return Supply(said, steps, have, need, _EACH, why, how, shelf, None)


def in_shop(site: OnSite, word: str, usual: str) -> tuple[str, str, str]:
    """What one asks for in a shop, how one comes by it (`usual` where nothing is told of the word), and the shelf."""
    entry = entry_of(site, word)
    how = shop_words()["rent"].get(word, entry.get("how", usual))
    return entry.get("say", word), how, entry.get("shelf", "tools")


def entry_of(site: OnSite, word: str) -> dict[str, str]:
    """What is told of a word, and of the kinds of thing that it is."""
    found: dict[str, str] = {}
    for kind, told in shop_words()["kinds"].items():
        found |= told if site.is_one("tool", word, [kind]) else {}
    found |= shop_words()["shop"].get(word, {})
    return found


def goes_with(site: OnSite, listed: Iterable[Supply]) -> Iterable[Supply]:
    """What listed things are no use without: a gun for a tube of sealant, sheets for a drum sander."""
    for one in listed:
        taken = shop_words()["goes_with"].get(one.what)
        if taken is None or one.against or site.there(tool := taken.get("tool", "")):
            continue
        why = f"goes with {one.what.partition(',')[0].partition(' (')[0]}"
        if tool:
            said, how, shelf = in_shop(site, tool, "buy")
        else:
            said, how, shelf = taken["say"], "buy", taken["shelf"]
        yield Supply(said, one.steps, _there(site, how), 1, _EACH, why, how, shelf, None)


def against(said: str, steps: tuple[str, ...], title: str, how: str, shelf: str) -> Supply:
    """What nobody should get for these steps, by the title of the finding."""
    return Supply(
        said, steps, None, 0, _EACH, f"the report speaks against it: {title}", how, shelf, None, against=title
    )
