"""What to buy, rent or borrow, as text, table or data."""

from __future__ import annotations

import textwrap
from typing import Any

from advisor.reports.clean import legible
from advisor.reports.data import SCHEMA, as_utf8, made_by_data, made_by_words
from advisor.reports.notes import words_below
from advisor.reports.supply_data import amount, ask_for, in_shop, supply_data
from advisor.reports.table_csv import table
from advisor.review.model import Report
from advisor.review.supply import Supply

WIDTH = 80
HEADER = (
    "shelf",
    "what",
    "how",
    "have",
    "need",
    "to get",
    "unit",
    "for",
    "why",
    "price USD",
    "ask for",
    "at least",
    "against",
)
SHELVES = {
    "safety": "SAFETY SHELF", "paint": "PAINT", "tile": "TILE", "flooring": "FLOORING", "electrical": "ELECTRICAL",
    "plumbing": "PLUMBING", "doors": "DOORS AND WINDOWS", "lumber": "LUMBER", "hardware": "SCREWS AND FITTINGS",
    "tools": "TOOLS",
}  # fmt: skip
NONE = "Nothing to get, by what the plan says and the rules know. What they do not know can still be missing."


def to_get(report: Report) -> list[str]:
    """What is lacking, by name, as it stands on the first screen."""
    return [short_name(one) for one in report.supplies if one.lacking and one.how != "hire"]


def short_name(one: Supply) -> str:
    """The first words of what to ask for: what stands behind a comma or in brackets is for the shop."""
    return one.what.partition(",")[0].partition(" (")[0].partition(":")[0]


def amounts(one: Supply) -> str:
    """`have 1 qt, need 1.76 qt: get 1 qt`: what is to get is rounded up to what shops sell."""
    least = "at least " * one.at_least
    if one.need is None:
        if one.have:
            return f"have {amount(one.have, one.unit)}; whether that is enough cannot be told"
        return "how much it takes cannot be told"
    whole = in_shop(one.need, one)
    if one.have is None and "borrow" in one.how:  # nobody owns half a hammer
        return f"get {whole}, if you have none"
    if one.have is None:
        exact = amount(one.need, one.unit)
        worked = f" ({exact} by the sum)" if exact != whole else ""
        return f"get {least}{whole}{worked}, less what you have (the plan does not say)"
    if not one.lacking:
        enough = "enough for what the plan tells" if one.at_least else "enough"
        return f"have {amount(one.have, one.unit)}, need {least}{amount(one.need, one.unit)}: {enough}"
    if not one.have:
        return f"get {least}{whole}"
    return f"have {amount(one.have, one.unit)}, need {least}{amount(one.need, one.unit)}: get {least}{ask_for(one)}"


def price_words(one: Supply) -> str:
    """What the plan says that it costs; empty where it says nothing."""
    return f"{one.price:,.2f} USD by the plan" if one.price is not None else ""


def as_supplies_text(report: Report) -> str:
    """The list for the shop: by shelf, what is lacking first, what is there below."""
    lines = textwrap.wrap(f"What to buy, rent or borrow: {report.plan.title or report.plan.file}", WIDTH)
    lacking = [one for one in report.supplies if one.lacking]
    for shelf, title in SHELVES.items():
        own = [one for one in lacking if one.shelf == shelf]
        if own:
            lines += ["", title]
        for one in own:
            how = f" ({one.how})" if one.how != "buy" else ""
            how += " (in the plan under to_get)" if one.planned else ""
            price = f"; {price_words(one)}" if one.price is not None else ""
            lines += _wrap(f"{one.what}{how}: {amounts(one)}{price}", "  [ ] ")
            lines += _wrap(
                f"For {', '.join(one.steps) or 'the whole work'}. {one.why[:1].upper()}{one.why[1:]}.", "      "
            )
    if not lacking:
        lines += ["", *textwrap.wrap(NONE, WIDTH)]
    if there := [one for one in report.supplies if not one.lacking and not one.against]:
        lines += ["", "ALREADY THERE, BY THE PLAN"]
        lines += [line for one in there for line in _wrap(_there(one), "  ")]
    if against := [one for one in report.supplies if one.against]:
        lines += ["", "DO NOT GET: THE REVIEW SPEAKS AGAINST IT"]
        lines += [
            line for one in against for line in _wrap(f"{one.what} ({', '.join(one.steps)}): {one.against}.", "  ")
        ]
    lines += [
        "",
        *textwrap.wrap(
            "Amounts are by common rates; the label rules. Money stands only where the plan names it.", WIDTH
        ),
    ]
    lines += words_below(lines, report)
    lines += ["", made_by_words(report)]
    return "\n".join(legible(line) for line in lines) + "\n"


def _there(one: Supply) -> str:
    """What is there and, where it was worked out, what it was held against."""
    why = f". {one.why[:1].upper()}{one.why[1:]}." if one.unit != "each" else ""
    return f"{one.what}: {amounts(one)}{why}"


def as_supplies_csv(report: Report) -> str:
    """One row a thing, what is there too."""
    rows: list[tuple[object, ...]] = [HEADER]
    for s in report.supplies:
        cells = (s.have, s.need, s.short)
        told = tuple("" if value is None else f"{value:.6g}" for value in cells)
        price = "" if s.price is None else s.price
        least = "yes" if s.at_least else ""
        rows.append(
            (s.shelf, s.what, s.how, *told, s.unit, "; ".join(s.steps), s.why, price, ask_for(s), least, s.against)
        )
    return table(rows)


def as_supplies_json(report: Report) -> str:
    """The list as data, with the plan's name."""
    data: dict[str, Any] = {
        "schema": SCHEMA,
        "plan": {"file": report.plan.file, "title": report.plan.title, "units": report.plan.units},
        "made_by": made_by_data(report),
        "supplies": [supply_data(one) for one in report.supplies],
        "cautions": list(report.cautions),
    }
    import json

    return as_utf8(json.dumps(data, ensure_ascii=False, indent=2)) + "\n"


def _wrap(text: str, indent: str) -> list[str]:
    blank = " " * len(indent)
    return textwrap.wrap(text, WIDTH, initial_indent=indent, subsequent_indent=blank, break_on_hyphens=False)
