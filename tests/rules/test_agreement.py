"""The sentences of rules read well for a part of any name: `door`, `doors`, or several told together.

A name that an author gives may be one thing or many, and a report names several parts at once. So no verb follows a
name as its subject, and no `it` or `them` stands for one.
"""

import re
from functools import cache

import pytest

from advisor.rulebase.base import load_rulebase

NAMED = ("ref:part", "ref:product")
VERB = re.compile(r"(\w+ )?\{\{ (\w+) \}\} ((?:is|are|was|were|has|have|does|do|goes|go|[a-z]+s)\b)")
NO_VERBS = {"across", "always", "as", "indoors", "outdoors", "plus", "this", "upstairs"}
# After these words another noun is the subject: `the label of {{ product }} asks`.
LEADS = {"any", "at", "behind", "for", "from", "in", "of", "on", "shows", "to", "under", "with"}
PRONOUN = re.compile(r"\b(it|its|itself|them|their|they)\b", re.IGNORECASE)
# What the pronoun stands for, where a name goes before it but is not meant.
STANDS_FOR = {
    "drill-into-known-cable": "cables",
    "loaded-shelf-on-anchors": "studs",
    "look-behind-the-hole": "hole",
    "old-ceiling-cut-for-a-thing": "hole",
    "air-unmeasured-solvent": "vapor",
    "asbestos-found-refer": "material",
    "asbestos-made-dust": "material",
    "asbestos-possible-refer": "material",
    "bonding-primer-on-slick-face": "primer",
    "cabinets-joined-before-top": "cabinets",
    "ceiling-before-floor": "floor",
    "chip-wet-or-shrouded": "tool",
    "close-solvent-cans": "can",
    "coat-pieces-before-joining": "pieces",
    "dishwasher-high-loop": "hose",
    "dry-after-pressure-wash": "wood",
    "dryer-outlet-unknown": "duct",
    "fan-rated-for-vapor": "fan",
    "find-out-fuel-first": "gas",
    "find-out-wiring": "metal",
    "floor-stiff-for-tile": "joists",
    "friction-faces-bare": "faces",
    "guard-open-edge": "edge",
    "large-tile-mortar": "mortar",
    "membrane-under-tile": "membrane",
    "new-wood-lasts-in-rain": "wood",
    "number-the-doors": "piece",
    "old-wiring": "wire",
    "plates-off-before-tile": "plates",
    "power-on-too-early": "power",
    "same-family-in-all-coats": "coat",
    "scribe-to-crooked-wall": "edge",
    "trap-arm-falls-too-far": "pipe",
    "unknown-fuel-rolled-out": "hose",
    "unsanded-grout-in-wide-soft-tile": "grout",
    "veneer-edges": "edges",
    "washing-around-live-outlets": "circuit",
    "water-stopped-before-new-wood": "water",
}


@cache
def sentences():
    """Every text of a rule that a reader meets, with the names of parts and products that are put into it."""
    return [
        (rule.id, text, {name for name, kind in rule.types.items() if kind in NAMED})
        for rule in load_rulebase([]).rules
        for conclusion in rule.conclusions
        for text in (conclusion.what, conclusion.because, *(text for _, text in conclusion.controls))
    ]


def verbs_after_names(text, names):
    """The verbs whose subject is a name, as far as the words around them show."""
    return [
        found.group(3)
        for found in VERB.finditer(text)
        if found.group(2) in names
        and found.group(3) not in NO_VERBS
        and (found.group(1) or "").strip().lower() not in LEADS
    ]


def pronouns_after_names(text, names):
    """The pronouns that come after a name."""
    starts = [found.end() for found in re.finditer(r"\{\{ (\w+) \}\}", text) if found.group(1) in names]
    return PRONOUN.findall(text[min(starts) :]) if starts else []


def test_no_verb_agrees_with_a_name():
    wrong = {rule: found for rule, text, names in sentences() if (found := verbs_after_names(text, names))}

    assert wrong == {}


def test_no_pronoun_stands_for_a_name():
    """Where one is found: say the thing again, leave the word out, or add to STANDS_FOR what it does stand for."""
    wrong = {
        rule: found
        for rule, text, names in sentences()
        if (found := pronouns_after_names(text, names)) and rule not in STANDS_FOR
    }

    assert wrong == {}


def test_what_a_pronoun_stands_for_is_said_in_the_same_text():
    stands = {
        rule: STANDS_FOR[rule]
        for rule, text, names in sentences()
        if rule in STANDS_FOR and pronouns_after_names(text, names) and STANDS_FOR[rule] in text.lower()
    }

    assert stands == STANDS_FOR


@pytest.mark.parametrize(
    ("text", "verbs", "pronouns"),
    [
        ("Wash {{ part }} first and sand it after.", [], ["it"]),
        ("Seal the edges before {{ part }} goes in.", ["goes"], []),
        ("Plan a leak test after {{ part }} is joined.", ["is"], []),
        ("The label of {{ part }} asks for that.", [], []),
        ("Move it before {{ part }} in {{ room }}.", [], []),
        ("Cut {{ part }} outdoors, as the dust is fine.", [], []),
    ],
)
def test_the_check_sees_what_agrees_with_a_name(text, verbs, pronouns):
    names = {"part"}

    assert (verbs_after_names(text, names), pronouns_after_names(text, names)) == (verbs, pronouns)
