"""What becomes of each word of `trade_words.yaml` in a plan: taken, answered with the right word, or led astray.

Run `python -m tests.plan.trade_words` for the shares and the words that fall short.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import yaml

from advisor.errors import InputError
from advisor.plan import read_plan
from advisor.rulebase.vocabulary import SORTS, Vocabulary
from advisor.rulebase.vocabulary_files import load_vocabulary
from advisor.units import BadQuantity, read_quantity

WORDS = Path(__file__).with_name("trade_words.yaml")
RULES = Path(__file__).parents[2] / "rules" / "vocabulary"
# The list in which a word of each sort is looked for, and the key at which a plan says it.
LISTS = {
    "action": ("action", "step", "do"),
    "part": ("part_kind", "part", "kind"),
    "material": ("material", "part", "material"),
    "tool": ("tool", "step", "with"),
    "gear": ("tool", "step", "wearing"),
    "product": ("product_kind", "product", "kind"),
    "room": ("room_kind", "room", "kind"),
    "condition": ("condition", "part", "has"),
    "hazard": ("condition", "part", "has"),
    "trade": ("who", "step", "who"),
}
GOOD = ("taken", "answered", "rightly nothing")
BAD = ("taken wrongly", "wrong offer")
SAYS_ITSELF = "works out"  # of a danger: the advisor finds it, nobody has to write it


def load_words(path: Path = WORDS) -> list[dict[str, str]]:
    """Every word with its sort and what is expected; a brand-like word counts as the sort `brand`."""
    data = yaml.safe_load(path.read_text(encoding="utf-8"))
    brands = [{"sort": "brand", **row} for row in data["brandlike"]]
    return [*data["words"], *brands]


def judge(row: Mapping[str, str], vocabulary: Vocabulary) -> tuple[str, str]:
    """What became of the word (one of `GOOD`, `BAD` or `no hint`), and what was taken or offered."""
    word, sort = row["word"], row["sort"]
    if sort == "unit":
        return _unit(word, row["expect"])
    if sort == "attribute":
        return _attribute(word, row["expect"], vocabulary)
    if sort == "brand":
        return _brand(word, row["expect"], vocabulary)
    taxonomy, entity, key = LISTS[sort]
    taken = vocabulary.taxonomies[taxonomy].said(word)
    wanted = _wanted(row["expect"], taxonomy)
    if taken is not None:
        return ("taken" if (taxonomy, taken) in wanted else "taken wrongly"), taken
    return _answer(message(entity, key, word, vocabulary), wanted, vocabulary)


def _wanted(expect: str, taxonomy: str) -> list[tuple[str, str]]:
    """`a | list:b | sort.attribute` as (list or `attribute`, name) pairs."""
    found = []
    for one in expect.split(" | "):
        where, colon, name = one.partition(":")
        sort, dot, attribute = one.partition(".")
        if dot and sort in SORTS:
            found.append(("attribute", f"{sort}.{attribute}"))
        else:
            found.append((where, name) if colon else (taxonomy, one))
    return found


def message(entity: str, key: str, word: str, vocabulary: Vocabulary) -> str:
    """The mistake that a plan gets which says the word at the key; empty where it is taken."""
    plan: dict[str, Any] = {"parts": {"thing": {"kind": "wall"}}, "steps": [{"do": "install", "to": "thing"}]}
    if entity == "step":
        plan["steps"] = [{"do": "install", "to": "thing", key: word}]
    elif entity in ("house", "crew", "budget", "code"):
        plan[entity] = {key: word}
    else:
        kinds = {"part": "wall", "room": "kitchen", "product": "primer"}
        plan[entity + "s"] = {"thing": {"kind": kinds[entity], key: word}}
    try:
        read_plan(plan, vocabulary, "plan")
    except InputError as error:
        return next((one.message for one in error.problems if f"'{word}'" in one.message), "")
    return ""


# The first word offered: `nearest: 'x'`, `write 'x'`, `Did you mean 'x'?`
OFFER = re.compile(r"(?:nearest:|[Ww]rite|[Ss]ay|Did you mean) '([^']*(?:'s[^']*)?)'")


def offered(said: str) -> str:
    """The word that a message offers first, or nothing."""
    match = OFFER.search(said)
    return match[1] if match else ""


def _answer(said: str, wanted: list[tuple[str, str]], vocabulary: Vocabulary) -> tuple[str, str]:
    offer = offered(said)
    if SAYS_ITSELF in said:
        return ("answered" if any(name == "worked out" for _, name in wanted) else "wrong offer"), said
    if not offer:
        return ("rightly nothing" if ("none" in [n for _, n in wanted]) else "no hint"), ""
    return ("answered" if any(_meets(offer, *one, vocabulary) for one in wanted) else "wrong offer"), offer


def _meets(offer: str, where: str, name: str, vocabulary: Vocabulary) -> bool:
    pieces = [tuple(part.strip() for part in piece.partition(":")[::2]) for piece in offer.split(", ")]
    for key, value in pieces:
        if where == "attribute":
            sort, _, attribute = name.partition(".")
            found = vocabulary.attribute(sort, key)
            if found is not None and found.name == attribute:
                return True
        elif where in vocabulary.taxonomies and vocabulary.taxonomies[where].said(value or key) == name:
            return True
    return False


def _unit(word: str, expect: str) -> tuple[str, str]:
    try:
        read = read_quantity(f"3 {word}", expect if expect != "none" else "time")
    except BadQuantity as error:
        return ("rightly nothing" if expect == "none" else "no hint"), str(error)
    return ("taken" if expect != "none" else "taken wrongly"), repr(read)


def _attribute(word: str, expect: str, vocabulary: Vocabulary) -> tuple[str, str]:
    wanted = _wanted(expect, "attribute")
    sort = wanted[0][1].partition(".")[0] if wanted[0][0] == "attribute" and expect != "none" else "part"
    found = vocabulary.attribute(sort, word)
    if found is not None:
        right = ("attribute", f"{sort}.{found.name}") in wanted
        return ("taken" if right else "taken wrongly"), found.name
    plan: dict[str, Any] = {"steps": [{"do": "install", "to": "thing"}], "parts": {"thing": {"kind": "wall"}}}
    if sort == "step":
        plan["steps"][0][word] = "1"
    elif sort in ("house", "crew", "budget"):
        plan[sort] = {word: "1"}
    else:
        kind = {"part": "wall", "room": "kitchen", "product": "primer"}[sort]
        plan[sort + "s"] = {"thing": {"kind": kind, word: "1"}}
    said = ""
    try:
        read_plan(plan, vocabulary, "plan")
    except InputError as error:
        said = next((one.message for one in error.problems if f"'{word}'" in one.message), "")
    return _answer(said, wanted, vocabulary)


def _brand(word: str, everyday: str, vocabulary: Vocabulary) -> tuple[str, str]:
    """A maker's word: tried in every list, taken in none (unless its everyday spelling), and answered in one."""
    shown = ""
    for taxonomy in ("tool", "product_kind", "part_kind", "material"):
        taken = vocabulary.taxonomies[taxonomy].said(word)
        if taken is not None:
            return ("taken" if vocabulary.taxonomies[taxonomy].said(everyday) == taken else "taken wrongly"), taken
    for _, entity, key in (LISTS[sort] for sort in ("tool", "product", "part", "material")):
        offer = offered(message(entity, key, word, vocabulary))
        if everyday in offer:
            return "answered", offer
        shown = shown or offer
    return ("wrong offer" if shown else "no hint"), shown


def measure(vocabulary: Vocabulary) -> dict[str, list[tuple[str, str, str, str]]]:
    """Every word under what became of it: sort, word, what was expected, what was taken or offered."""
    found: dict[str, list[tuple[str, str, str, str]]] = defaultdict(list)
    for row in load_words():
        result, shown = judge(row, vocabulary)
        found[result].append((row["sort"], row["word"], row["expect"], shown))
    return found


def shares(found: Mapping[str, list[tuple[str, str, str, str]]], brands: bool = False) -> dict[str, float]:
    """Per cent of each outcome, of the brand-like words or of all others."""
    counts = Counter({r: sum((one[0] == "brand") == brands for one in rows) for r, rows in found.items()})
    total = sum(counts.values())
    return {result: round(100 * count / total, 1) for result, count in sorted(counts.items())}


def main() -> None:
    """Print the shares and the words that fall short."""
    found = measure(load_vocabulary([RULES]))
    for brands, name in ((False, "trade words"), (True, "brand-like words")):
        part = shares(found, brands)
        good = sum(part.get(one, 0) for one in GOOD)
        bad = sum(part.get(one, 0) for one in BAD)
        print(f"{name}: {part}; right {good:.1f} %, wrong {bad:.1f} %")
    for result in (*BAD, "no hint"):
        print(f"\n{result} ({len(found[result])})")
        for sort, word, expect, shown in found[result]:
            print(f"  {sort}: {word!r} expected {expect!r}, got {shown!r}")


if __name__ == "__main__":
    main()
