"""What to write where a measure was given in a way that its key does not take: another key, fewer words, a count."""

from __future__ import annotations

import re

from advisor.errors import clip
from advisor.rulebase.vocabulary import Attribute, Vocabulary, fold
from advisor.units import BadQuantity, read_quantity

_PACKS = re.compile(r"([0-9]{1,4}) ([a-z]+?)s?\b")
_OUNCES = re.compile(r"([0-9]+(?:\.[0-9]+)?) ?(?:oz|ounces?)\.?")


def other_measure(attribute: Attribute, text: str, vocabulary: Vocabulary) -> str:
    """A sentence with what to write for a measure that the key cannot take, or nothing."""
    text = text.replace(" per ", "/")
    shown = clip(text)
    known = vocabulary.attributes.get(attribute.sort, {})
    count = known.get("count")
    packs = _PACKS.match(fold(text))
    if packs and count is not None and packs[2] in vocabulary.grammar.get("packs", ()):
        return f" Write 'count: {packs[1]}', and what one holds in 'note:'."
    if attribute.type == "liquid" and "weight" in known and (ounces := _OUNCES.fullmatch(fold(text))):
        return f" Write 'weight: {ounces[1]} oz', of a liquid '{attribute.name}: {ounces[1]} fl oz'."
    for row in vocabulary.grammar.get("keys of measures", ()):
        kind, name = row.split()
        one = known.get(name)
        if one is not None and one.type == kind != attribute.type and _reads(text, kind):
            return f" Write '{name}: {shown}'."
    words = text.split()
    for cut in range(len(words) - 1, 0, -1):  # `18 lb each`: the measure, and what more is said of it
        short = " ".join(words[:cut])
        if _reads(short, attribute.type):
            return f" Write '{attribute.name}: {clip(short)}', and the rest in 'note:'."
    return ""


def measure_of_list(attribute: Attribute, text: str, vocabulary: Vocabulary) -> str:
    """The same where a key that takes words was given a measure: `joint: 1/16 in` is `joint_width`."""
    known = vocabulary.attributes.get(attribute.sort, {})
    for end in ("width", "length", "height", "depth", "thickness"):
        one = known.get(f"{attribute.name}_{end}")
        if one is not None and _reads(text, one.type):
            return f"Write '{one.name}: {clip(text)}'."
    return ""


def _reads(text: str, kind: str) -> bool:
    try:
        read_quantity(text, kind)
    except (BadQuantity, KeyError):
        return False
    return True
