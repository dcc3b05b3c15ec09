"""What the crew has and the work takes, by its own name: a reader sees that it was counted, and for which steps."""

from __future__ import annotations

from collections.abc import Iterable

from advisor.plan.model import Entity
from advisor.plan.said import words
from advisor.review.buying.consumables import own_of_row, work_takes
from advisor.review.buying.left_out import LeftOut
from advisor.review.buying.on_site import OnSite, shop_words
from advisor.review.buying.tools import entry_of, in_shop
from advisor.review.supply import Supply
from advisor.tables import table

_EACH = "each"


def at_hand(site: OnSite, asked: dict[str, set[str]], off: LeftOut) -> Iterable[Supply]:
    """A line for each thing that is there and of use; `asked` is what each step needs or is told to have."""
    uses: dict[str, list[str]] = {}
    for step in site.at_work:
        named = (*words(step, "with"), *words(step, "wearing"))
        kept = (tool for tool in named if (step.id, tool) not in off.tools)
        wanted, better = asked.get(step.id, set()), shop_words()["covered_by"]
        for tool in (*kept, *sorted(wanted)):
            if not wanted.isdisjoint(better.get(tool, ())):
                continue  # not enough there
            for own in _chosen(site, tool, step):
                uses.setdefault(own, []).append(step.id)
    for name in ("hand_tools", "consumables"):
        for row in table(name).rows.values():
            for own in own_of_row(row, site)[:1]:
                taking = (step for step in site.at_work if step.id not in off.steps)
                uses.setdefault(own, []).extend(step.id for step in taking if work_takes(row, step, site, off))
    for own, steps in uses.items():
        if steps:
            need = site.people() if entry_of(site, own).get("each") == "person" else 1
            _, how, shelf = in_shop(site, own, "buy or borrow")
            yield Supply(own, site.order(steps), need, need, _EACH, "the crew has it", how, shelf, None)


def _chosen(site: OnSite, tool: str, step: Entity) -> list[str]:
    """Which of the crew's things is taken for it: what is worn at the step, else the thing itself, else the first."""
    found = site.own_of(tool)
    if tool in found:
        return [tool]
    worn = words(step, "wearing")
    return ([own for own in found if own in worn] or found)[:1]
