"""Types of attributes and variables, and reading a literal of a rule as a value of its type.

A type is a dimension of `advisor.units`, a plain type (text, yes_no, year, count, profile, date),
`term:<taxonomy>`, `ref:<sort>` or `list:<type>`.
"""

from __future__ import annotations

from advisor.errors import did_you_mean
from advisor.plain import Plain
from advisor.rulebase.vocabulary import PLAIN_TYPES, SORTS, Attribute, Vocabulary
from advisor.units import DIMENSIONS, BadQuantity, read_quantity

_YES = {"yes": "yes", "true": "yes", "on": "yes", "no": "no", "false": "no", "off": "no"}
# Types whose numbers may stand for each other.
_SAME = [{"volume", "liquid", "box_volume"}, {"number", "count", "year"}, {"pressure", "draft"}, {"fraction"}]


class BadValue(ValueError):
    """A literal that is not of the wanted type; the message says what was expected."""


def type_of(attribute: Attribute) -> str:
    """The type of a vocabulary attribute (`many` aside)."""
    return f"{attribute.type}:{attribute.of}" if attribute.type in ("term", "ref") else attribute.type


def declared_type(text: str, vocabulary: Vocabulary) -> str | None:
    """The type that a pack writes for an attribute of a kind of its own (`length`, `term material`, `ref part`)."""
    words = text.split()
    if len(words) == 1 and (words[0] in DIMENSIONS or words[0] in PLAIN_TYPES):
        return words[0]
    if len(words) == 2 and words[0] == "term" and words[1] in vocabulary.taxonomies:
        return f"term:{words[1]}"
    if len(words) == 2 and words[0] == "ref" and words[1] in SORTS:
        return f"ref:{words[1]}"
    return None


def is_number(kind: str) -> bool:
    """Whether values of the type can be compared by size."""
    return kind in DIMENSIONS or kind in ("year", "count")


def fits(have: str, want: str) -> bool:
    """Whether a value of type `have` may be used where `want` is wanted."""
    if have == want or any(have in group and want in group for group in _SAME):
        return True
    word_like = ("text", "date")
    if have in word_like or want in word_like:
        return not is_number(have) and not is_number(want) and "profile" not in (have, want)
    return False


def read_literal(text: str, kind: str, vocabulary: Vocabulary) -> Plain:
    """A literal as a value of `kind`; BadValue says what was expected."""
    if kind in DIMENSIONS:
        try:
            return read_quantity(text, kind).si
        except BadQuantity as error:
            raise BadValue(str(error)) from error
    if kind == "yes_no":
        if text.lower() not in _YES:
            raise BadValue("Expected yes or no.")
        return _YES[text.lower()]
    if kind in ("count", "year"):
        if not text.isascii() or not text.isdigit() or len(text) > 9:
            raise BadValue("Expected a whole number.")
        return int(text)
    if kind.startswith("term:"):
        taxonomy = vocabulary.taxonomies[kind[5:]]
        found = taxonomy.find(text)
        if found is None:
            name = taxonomy.name.replace("_", " ")
            raise BadValue(f"Expected a {name}.{did_you_mean(text, taxonomy.spellings())}")
        return found
    if kind == "profile":
        raise BadValue("A profile cannot be compared with a word.")
    return text


def expand(value: Plain, kind: str, vocabulary: Vocabulary) -> tuple[Plain, ...]:
    """A value and, for a term, everything that is a kind of it."""
    if kind.startswith("term:") and isinstance(value, str):
        return tuple(sorted(vocabulary.taxonomies[kind[5:]].below(value)))
    return (value,)
