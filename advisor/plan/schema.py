"""The form of a plan as JSON Schema (draft 2020-12), made from the vocabulary: editors complete and explain by it.

The reader is the judge; the schema is a help while writing. It cannot tell whether a name stands for something in
the plan, nor limits of quantities. Editors may read `yes` as a word or as true, and `2` as a number: both are taken.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Any

from advisor.plan.checking import MAX_MEMBERS
from advisor.plan.loose import LOOSE_PATTERN
from advisor.plan.names import MAX_NAME
from advisor.plan.planned_schema import planned_sections
from advisor.plan.reading import NEEDED, SECTIONS, SINGLE, UNITS
from advisor.plan.values import MAX_TEXT, NONE_WORDS, UNKNOWN_WORDS, YES_NO
from advisor.rulebase.vocabulary import SORTS, Attribute, Taxonomy, Vocabulary
from advisor.unit_table import BARE_ALLOWED, DIMENSIONS
from advisor.unit_table import UNITS as UNIT_TABLE

Schema = dict[str, Any]
DRAFT = "https://json-schema.org/draft/2020-12/schema"
_ABOUT = {
    "house": "the house and who lives in it",
    "code": "which building codes are in force",
    "room": "rooms and places by their names",
    "part": "what is worked on or put in, by its name",
    "product": "what is used up, by its name",
    "crew": "who does the work and what they own",
    "step": "the steps, in the order meant",
    "budget": "money and time at hand",
}
_NUMBER = r"(?:\d[\d,]*\.\d+|\.\d+|\d[\d,]*)(?:[eE][+-]?\d{1,3})?"
_MIXED = rf"(?:\d+[- ]\d+/\d+|\d+/\d+|{_NUMBER})"
_POWER = r"(?:sq|square|cu|cubic)\.?[ -]*(?:ft|feet|foot|inches|inch|in|metres?|meters?|m|yards?|yd|miles?)\.?"
# A name in the plan: letters of any language, digits, spaces, - and _, no space at its ends.
_BAD = r"\x00-\x1f!-,./:-@\[-^`{-~"
_NAME = rf"^[^\s{_BAD}](?:[^{_BAD}]*[^\s{_BAD}])?$"


def plan_schema(vocabulary: Vocabulary) -> Schema:
    """The schema of a plan; the same bytes for the same vocabulary."""
    properties: Schema = {
        "title": {"description": "what the plan is called", "type": ["string", "number"]},
        "note": _text("remarks, which no rule reads"),
        "units": {"description": "units of the report", "enum": [*UNITS, "", None]},
    }
    for sort in SORTS:
        section = next((word for word, own in SECTIONS.items() if own == sort), sort)
        known = {"description": _ABOUT[sort]}
        if sort in SINGLE:
            properties[sort] = known | {"anyOf": [_ref(sort), _ref("not known")]}
        elif sort == "step":
            properties["steps"] = known | {"type": "array", "minItems": 1, "items": _ref(sort)}
        else:
            names = {"pattern": _NAME, "maxLength": MAX_NAME}
            listed = {"type": "object", "propertyNames": names, "additionalProperties": _ref(sort)}
            properties[section] = known | {"anyOf": [listed, _ref("not known")]}
    properties |= planned_sections()
    return {
        "$schema": DRAFT,
        "title": "A renovation plan",
        "type": "object",
        "required": ["steps"],
        "additionalProperties": False,
        "properties": properties,
        "$defs": dict(_definitions(vocabulary)),
    }


def _definitions(vocabulary: Vocabulary) -> Iterator[tuple[str, Schema]]:
    yield "not known", {"description": "left out", "enum": [*sorted(UNKNOWN_WORDS), "Unknown", None]}
    yield "name", {"description": "a name of this plan", "type": ["string", "integer"]}
    yield "yes_no", {"description": "yes or no", "enum": [*_spelled(sorted(YES_NO)), True, False]}
    for name, taxonomy in sorted(vocabulary.taxonomies.items()):
        yield f"word of {name}", _words(taxonomy)
    for dimension in DIMENSIONS:
        yield f"quantity of {dimension}", _quantity(dimension)
    for sort in SORTS:
        yield sort, _thing(sort, vocabulary)
        for attribute in vocabulary.attributes.get(sort, {}).values():
            yield f"{attribute.name} of {sort}", _attribute(attribute)


def _thing(sort: str, vocabulary: Vocabulary) -> Schema:
    """What may be said of one thing of the sort. An alias points to its attribute."""
    properties: Schema = {"note": _text("remarks, which no rule reads")}
    if sort == "step":
        properties["id"] = {"description": "a name for the step", "type": ["string", "integer", "null"]}
        properties["if"] = {
            "description": "done only with that result of a test, as in {result of try-lead: positive}",
            "type": "object",
            "minProperties": 1,
            "maxProperties": 1,
            "propertyNames": {"pattern": "^result of "},
            "additionalProperties": _ref("word of test_result"),
        }
    required: list[Schema] = []
    for attribute in vocabulary.attributes.get(sort, {}).values():
        spellings = list(dict.fromkeys(s for w in (attribute.name, *attribute.aliases) for s in _joined(w)))
        own = [s for s in spellings if s not in properties and vocabulary.attribute(sort, s) is attribute]
        properties |= {spelling: _ref(f"{attribute.name} of {sort}") for spelling in own}
        if attribute.name == NEEDED.get(sort):
            required = [{"required": [spelling]} for spelling in own]
    found = {"type": "object", "properties": properties, "additionalProperties": False}
    return found | ({"anyOf": required} if required else {})


def _joined(word: str) -> Iterator[str]:
    """`lead_time`, `lead time` and `lead-time` are one."""
    yield word
    parts = re.split("[ _-]+", word)
    yield from (sign.join(parts) for sign in " _-")


def _attribute(attribute: Attribute) -> Schema:
    said = [attribute.meaning[:1].upper() + attribute.meaning[1:] + "."]
    said += [attribute.ask.replace("{{ id }}", "it")] if attribute.ask else []
    found: Schema = {"description": " ".join(said)}
    if attribute.example:
        found["examples"] = [attribute.example.partition(":")[2].strip()]
    one = _single(attribute)
    choices = [one]
    if attribute.many:
        choices += [{"type": "array", "maxItems": MAX_MEMBERS, "items": {"anyOf": [one, _ref("not known")]}}]
        choices += [{"enum": _spelled(sorted({*NONE_WORDS, "nothing"}))}]
    if attribute.name != NEEDED.get(attribute.sort):
        choices.append(_ref("not known"))
    return found | {"anyOf": choices}


def _single(attribute: Attribute) -> Schema:
    if attribute.type == "term":
        return _ref(f"word of {attribute.of}")
    if attribute.type in DIMENSIONS:
        return _ref(f"quantity of {attribute.type}")
    if attribute.type == "year":
        years = {"type": "integer", "minimum": 1500, "maximum": 2100}
        loose = [{"type": "string", "pattern": LOOSE_PATTERN}] if attribute.cautious else []
        return {"anyOf": [years, {"type": "string", "pattern": "^[0-9]{4}$"}, *loose]}
    if attribute.type == "count":
        least, most = int(attribute.least or 0), int(attribute.most or 1_000_000)
        written = {"type": "string", "pattern": r"^[+-]?[0-9][0-9,]*$"}
        none = [{"enum": _spelled(sorted({*NONE_WORDS, "nothing"}))}] if least <= 0 and not attribute.many else []
        return {"anyOf": [{"type": "integer", "minimum": least, "maximum": most}, written, *none]}
    if attribute.type == "date":
        return {"type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}
    if attribute.type == "profile":
        length = _ref("quantity of length")
        return {"type": "object", "minProperties": 1, "propertyNames": length, "additionalProperties": length}
    return {"yes_no": _ref("yes_no"), "ref": _ref("name")}.get(attribute.type) or _text("")


def _words(taxonomy: Taxonomy) -> Schema:
    """The words with their meanings, then their other spellings, then all in other letters and numbers of them."""
    terms = [term for term in taxonomy.terms.values() if not term.gathered]
    listed = [{"const": term.name} | ({"description": term.meaning} if term.meaning else {}) for term in terms]
    aliases = [alias for term in terms for alias in term.aliases]
    numbers = [int(term.name) for term in terms if term.name.isdigit()]
    forms = sorted({_loosely(word) for term in terms for word in (term.name, *term.aliases)})
    choices = [*listed, *([{"enum": list(dict.fromkeys(aliases))}] if aliases else [])]
    choices += [{"enum": numbers}] if numbers else []
    return {"anyOf": [*choices, {"type": "string", "pattern": f"^(?:{_LEAD})?(?:{'|'.join(forms)})$"}]}


_SHORT = 5  # letters: what may be an abbreviation
_LEAD = "(?:an?|the|my|our|some|booked|hired) "


def _loosely(word: str) -> str:
    """A pattern of the word: capitals, spaces or hyphens or underscores, singular or plural."""
    parts = [p for p in re.split(r"[\s_\-]+", word.strip().lower()) if p]
    last = parts[-1]
    ending = next((e for e in ("ies", "shes", "ches", "sses", "xes") if last.endswith(e)), "")
    if ending == "ies":
        parts[-1], tail = last[:-3], "(?:y|ies|Y|IES)"
    else:
        stem = last[:-1] if last.endswith("s") and not last.endswith("ss") and len(last) > 3 else last
        parts[-1], tail = stem, "(?:e?s|E?S)?"
    return "[ _-]+".join(map(_capitals, parts)) + tail


def _capitals(part: str) -> str:
    """`pine`, `Pine`, or all in capitals where the word is short: `GFCI`."""
    upper = part.upper()
    if upper[0] == part[0] or len(upper) != len(part):
        return re.escape(part)
    loose = f"[{part[0]}{upper[0]}]{re.escape(part[1:])}"
    return f"(?:{loose}|{re.escape(upper)})" if 1 < len(part) <= _SHORT else loose


def _quantity(dimension: str) -> Schema:
    units = sorted({u for u in UNIT_TABLE[dimension] if u}, key=lambda unit: (-len(unit), unit))
    spelled = "|".join(re.escape(u) + r"\.?" if u.isalpha() else re.escape(u) for u in _spelled(units))
    unit = f"(?:{spelled}|{_POWER})" if dimension in ("area", "volume", "liquid", "box_volume") else f"(?:{spelled})"
    if not units:
        unit = ""
    elif dimension in BARE_ALLOWED:
        unit += "?"
    signed = rf"[$€£] *{_MIXED}|" if dimension == "money" else ""
    pattern = rf"^ *[-−+]? *(?:{signed}{_MIXED} *{unit}(?:[ -]*{_MIXED} *{unit})*) *$"
    found: Schema = {"description": f"such as {DIMENSIONS[dimension][3]}", "type": "string", "pattern": pattern}
    bare = dimension in BARE_ALLOWED or not units
    return {"anyOf": [{"type": "number"}, found]} if bare else found


def _spelled(words: Iterable[str]) -> list[str]:
    """Words as people write them: capitals at the start or throughout; single letters keep their case."""
    return list(dict.fromkeys(s for w in words for s in ((w, w.capitalize(), w.upper()) if len(w) > 1 else (w,))))


def _text(description: str) -> Schema:
    found: Schema = {"type": ["string", "number", "boolean", "null"], "maxLength": MAX_TEXT}
    return {"description": description} | found if description else found


def _ref(name: str) -> Schema:
    return {"$ref": "#/$defs/" + name.replace(" ", "%20")}
