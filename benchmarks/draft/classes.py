"""The classes of facts that the totals of sentences are told apart by, and the table of them."""

from __future__ import annotations

from collections import Counter

from advisor.rulebase.vocabulary import Attribute

AMOUNTS = ("count", "year", "number", "money", "fraction", "date")
NO_AMOUNTS = ("yes_no", "term", "ref", "text", "profile")


def class_of(sort: str, attribute: Attribute) -> str:
    """Which class of facts an attribute belongs to, as the totals tell them apart."""
    name = attribute.name
    if sort in ("house", "code", "crew", "budget"):
        return "house and household"
    if sort == "step" and name in ("do", "to"):
        return "what is done" if name == "do" else "to what"
    if name == "kind":
        return f"which {sort}s there are"
    if attribute.type == "time" or name in ("day", "after"):
        return "waits and times"
    if attribute.type in AMOUNTS or attribute.type not in NO_AMOUNTS:
        return "amounts"
    if sort == "step":
        return "details of steps"
    return "places" if attribute.type == "ref" else f"what {sort}s are like"


COLUMNS = ("facts", "right", "offered", "thing not found", "not written", "other value", "wrong", "beyond")


def classes(total: Counter[str]) -> str:
    """The same by class of facts, what loses most first: heard, offered, and how the rest was missed."""
    named = {key.removeprefix("class ").rpartition(":")[0] for key in total if key.startswith("class ")}

    def row(name: str) -> list[int]:
        return [total[f"class {name}: {column}"] for column in COLUMNS]

    listed = sorted(((row(name), name) for name in named), key=lambda one: (one[0][1] + one[0][2] - one[0][0], one[1]))
    head = f"    {'by class':<24}" + "".join(f"{column:>16}" for column in COLUMNS)
    return "\n".join([head, *(f"    {name:<24}" + "".join(f"{n:>16}" for n in ns) for ns, name in listed)])
