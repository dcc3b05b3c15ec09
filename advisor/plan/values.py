"""One value of an attribute: text to a term, a number or a word, or what was expected instead."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date

from advisor.document import Node
from advisor.errors import clip
from advisor.plain import Plain
from advisor.plan.loose import cautious_year
from advisor.plan.measured import other_measure
from advisor.rulebase.vocabulary import Attribute, Vocabulary, fold
from advisor.units import BadQuantity, read_quantity

MAX_TEXT = 10_000  # letters
MAX_COUNT = 1_000_000
_MAX_PLACES = 1_000  # of a profile
_YEARS = (1500, 2100)
FEW = 8  # a taxonomy this small is listed whole
_UNKNOWN = frozenset({"", "~", "null", "?", "unknown", "not known"})
_NOUNS = {"who": "kind of worker"}  # taxonomies whose name is no noun
_YES_NO = {"yes": "yes", "true": "yes", "on": "yes", "no": "no", "false": "no", "off": "no"}
_NONE = frozenset({"none", "no", "nobody", "no one"})  # `children_under_6: none` is none of them
_COUNT = re.compile(r"[+-]?(?:[0-9]{1,3}(?:,[0-9]{3})+|[0-9]{1,12})")

Nearest = Callable[[Attribute, str], str]  # ends the sentence: `; nearest: 'x'.`, `. Write 'y'.` or a full stop


class BadValueError(ValueError):
    """A value that cannot be used; the message follows on the name of its owner."""


UNKNOWN_WORDS, YES_NO, NONE_WORDS = _UNKNOWN, frozenset(_YES_NO), _NONE  # for the schema of a plan


def is_unknown(node: Node) -> bool:
    """Whether the author left the value out: no text, or a word that says so."""
    return node.kind == "scalar" and fold(node.text) in _UNKNOWN


def spoken(attribute: Attribute) -> str:
    """The attribute's name as words."""
    return attribute.name.replace("_", " ")


def scalar_value(attribute: Attribute, text: str, vocabulary: Vocabulary, near: Nearest) -> Plain:
    """Text as a value of the attribute's type (no ref, no profile). Raises BadValueError."""
    text = text.strip()
    if attribute.type == "term":
        return _term(attribute, text, vocabulary, near)
    if attribute.type == "yes_no":
        if text.lower() not in _YES_NO:
            raise _bad(attribute, text)
        return _YES_NO[text.lower()]
    if attribute.type == "text":
        return checked_text(attribute.name, text)
    if attribute.type == "date":
        return _date(attribute, text)
    if attribute.type == "year":
        if (loose := cautious_year(attribute, text)) is not None:
            text = str(loose)
        if not re.fullmatch("[0-9]{4}", text) or not _YEARS[0] <= int(text) <= _YEARS[1]:
            raise _bad(attribute, text)
        return int(text)
    if attribute.type == "count":
        return _count(attribute, text)
    return _quantity(attribute, text, vocabulary)


def checked_text(name: str, text: str) -> str:
    """Free text of a bearable length, or BadValueError."""
    if len(text) > MAX_TEXT:
        raise BadValueError(f": '{name}' has {len(text):,} letters. Expected at most {MAX_TEXT:,}.")
    return text


def profile_value(attribute: Attribute, node: Node) -> Plain:
    """`{0 ft: 1 in, 3 ft: 1/2 in}` as (place, measure) pairs in metres, in order of place."""
    if node.kind != "mapping" or not node.pairs:
        raise _bad(attribute, node.text or f"a {'list' if node.kind == 'sequence' else node.kind}")
    if len(node.pairs) > _MAX_PLACES:
        raise BadValueError(f": '{attribute.name}' has {len(node.pairs):,} places. Expected at most {_MAX_PLACES:,}.")
    found: dict[float, float] = {}
    for word, (_, measure) in node.pairs.items():
        place = _length(attribute, word, "a place")
        if place < 0:
            raise BadValueError(f": '{attribute.name}' has a place '{clip(word)}'. Expected places from 0 up.")
        if place in found:
            raise BadValueError(f": '{attribute.name}' names the place '{clip(word)}' twice.")
        found[place] = _length(attribute, measure.text, f"at '{clip(word)}' the measure")
        _check_limits(attribute, measure.text, found[place], "length")
    return tuple(sorted(found.items()))


def _length(attribute: Attribute, text: str, what: str) -> float:
    try:
        return read_quantity(text, "length").si
    except BadQuantity as error:
        shown = clip(text)
        raise BadValueError(f": '{attribute.name}' has {what} '{shown}'. {clip(str(error), 200)}") from error


def _bad(attribute: Attribute, text: str) -> BadValueError:
    return BadValueError(f": '{attribute.name}' is '{clip(text)}'. Expected {attribute.expected}.")


def _term(attribute: Attribute, text: str, vocabulary: Vocabulary, near: Nearest) -> str:
    taxonomy = vocabulary.taxonomies[attribute.of]
    found = taxonomy.said(text)
    if found is not None:
        return found
    words = _NOUNS.get(attribute.of, attribute.of.replace("_", " "))
    if attribute.name == "kind":
        words, wanted = "kind", f"a kind of {attribute.sort}"
    else:
        wanted = f"{'an' if words[:1] in 'aeio' else 'a'} {words}"
        if len(taxonomy.terms) <= FEW:
            wanted += f" ({', '.join(sorted(taxonomy.terms))})"
    if words in (spoken(attribute), "action", "tool"):
        what = f" has an unknown {words}, '{clip(text)}'"
    else:
        what = f": '{attribute.name}' is '{clip(text)}'"
    raise BadValueError(f"{what}. Expected {wanted}{near(attribute, text)}")


def _date(attribute: Attribute, text: str) -> str:
    try:
        if not re.fullmatch("[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
            raise ValueError(text)
        return date.fromisoformat(text).isoformat()
    except ValueError as error:
        raise _bad(attribute, text) from error


def _count(attribute: Attribute, text: str) -> int:
    if fold(text) in _NONE and int(attribute.least or 0) <= 0:
        return 0
    if not _COUNT.fullmatch(text):
        raise _bad(attribute, text)
    number = int(text.replace(",", ""))
    least, most = int(attribute.least or 0), int(attribute.most or MAX_COUNT)
    if number < least:
        raise BadValueError(f": '{attribute.name}' is '{clip(text)}'. Expected {least:,} or more.")
    if number > most:
        raise BadValueError(f": '{attribute.name}' is '{clip(text)}'. Expected {most:,} or less.")
    return number


def _quantity(attribute: Attribute, text: str, vocabulary: Vocabulary) -> float:
    try:
        value = read_quantity(text, attribute.type).si
    except BadQuantity as error:
        said = f": '{attribute.name}' is '{clip(text)}'. {clip(str(error), 200)}"
        if attribute.type == "time":
            lasts = (attribute.sort, attribute.name) == ("step", "for")
            said = f" lasts '{clip(text)}'." if lasts else f": '{attribute.name}' is '{clip(text)}'."
            said += " Expected a time with a unit, such as '5 h' or '30 min'."
            if _YES_NO.get(fold(text)) == "no" or fold(text) in ("none", "never", "not"):
                said += " For none write '0 h'."
        raise BadValueError(said + other_measure(attribute, text, vocabulary)) from error
    _check_limits(attribute, text, value, attribute.type)
    return value


def _check_limits(attribute: Attribute, text: str, value: float, dimension: str) -> None:
    shown = f": '{attribute.name}' is '{clip(text)}'."
    if attribute.least and value < read_quantity(attribute.least, dimension).si:
        raise BadValueError(f"{shown} Expected {attribute.least} or more.")
    if attribute.most and value > read_quantity(attribute.most, dimension).si:
        raise BadValueError(f"{shown} Expected {attribute.most} or less.")
