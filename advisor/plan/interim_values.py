"""One value of a plan, read as the type that the vocabulary gives its attribute."""

from __future__ import annotations

import re

from advisor.document import Node
from advisor.errors import Problem, clip, nearest
from advisor.plan.model import Plain, Value
from advisor.rulebase.values import BadValue, read_literal, type_of
from advisor.rulebase.vocabulary import Attribute, Vocabulary
from advisor.units import DIMENSIONS, BadQuantity, read_quantity

UNKNOWN = frozenset({"unknown", "?", "not known", ""})
MAX_TEXT = 10_000
MAX_COUNT = 1_000_000
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")


class Reader:
    """Reads values, gathering mistakes; `owner` is how messages name the thing that the values belong to."""

    def __init__(self, vocabulary: Vocabulary, problems: list[Problem]) -> None:
        self.vocabulary = vocabulary
        self.problems = problems

    def value(self, owner: str, attribute: Attribute, node: Node) -> Value | None:
        """The value, or None where it is unknown or cannot be read (which is recorded)."""
        if node.kind == "scalar" and node.text.strip().lower() in UNKNOWN and not (node.quoted and node.text):
            return None
        if attribute.type == "profile":
            return self._profile(owner, attribute, node)
        if attribute.many:
            nodes = node.items if node.kind == "sequence" else [node]
            read = [self._scalar(owner, attribute, one) for one in nodes]
            words = tuple(sorted({r for r in read if r is not None}, key=lambda w: (str(type(w)), w)))
            if attribute.type == "ref":  # the author's order of parts means something; sets of words do not
                words = tuple(dict.fromkeys(r for r in read if r is not None))
            return Value(words, clip(str(node.plain())), node.line, node.column)
        plain = self._scalar(owner, attribute, node)
        return None if plain is None else Value(plain, node.text, node.line, node.column)

    def _scalar(self, owner: str, attribute: Attribute, node: Node) -> Plain | None:
        if node.kind != "scalar":
            self._wrong(owner, attribute, node, f"a {node.kind}")
            return None
        text = node.text.strip()
        if len(text) > MAX_TEXT:
            self.problems.append(node.problem(f"{owner}: '{attribute.name}' is longer than {MAX_TEXT:,} letters."))
            return None
        if attribute.type == "term":
            return self._term(owner, attribute, node, text)
        if attribute.type == "ref":
            return text
        try:
            plain = read_literal(text, type_of(attribute), self.vocabulary)
        except BadValue as error:
            self._wrong(owner, attribute, node, text, str(error))
            return None
        return self._limits(owner, attribute, node, text, plain)

    def _term(self, owner: str, attribute: Attribute, node: Node, text: str) -> str | None:
        taxonomy = self.vocabulary.taxonomies[attribute.of]
        found = taxonomy.find(text)
        if found is None:
            near = nearest(text, taxonomy.spellings())
            hint = f"; nearest: '{near}'" if near else ""
            noun = taxonomy.name.replace("_", " ").replace("part kind", "kind of part").replace("room kind", "kind of room")
            noun = noun.replace("product kind", "kind of product")
            self.problems.append(
                node.problem(f"{owner} has an unknown {attribute.name}, '{clip(text)}'. Expected a {noun}{hint}.")
            )
        return found

    def _limits(self, owner: str, attribute: Attribute, node: Node, text: str, plain: Plain) -> Plain | None:
        if attribute.type == "date" and not _DATE.fullmatch(text):
            self._wrong(owner, attribute, node, text)
            return None
        if attribute.type == "count" and isinstance(plain, int) and plain > MAX_COUNT:
            self._wrong(owner, attribute, node, text, f"Expected at most {MAX_COUNT:,}.")
            return None
        if attribute.type == "year" and isinstance(plain, int) and not 1600 <= plain <= 2100:
            self._wrong(owner, attribute, node, text, "Expected a year from 1600 to 2100.")
            return None
        if not isinstance(plain, int | float):
            return plain
        if attribute.least and plain < self._bound(attribute, attribute.least):
            self._wrong(owner, attribute, node, text, f"Expected at least {attribute.least}.")
            return None
        if attribute.most and plain > self._bound(attribute, attribute.most):
            self._wrong(owner, attribute, node, text, f"Expected at most {attribute.most}.")
            return None
        return plain

    def _bound(self, attribute: Attribute, limit: str) -> float:
        if attribute.type in DIMENSIONS:
            return read_quantity(limit, attribute.type).si
        return float(limit)

    def _profile(self, owner: str, attribute: Attribute, node: Node) -> Value | None:
        if node.kind != "mapping" or not node.pairs:
            self._wrong(owner, attribute, node, node.text or f"a {node.kind}")
            return None
        pairs = []
        for place, (key, measure) in node.pairs.items():
            try:
                pairs.append((read_quantity(place, "length").si, read_quantity(measure.text, "length").si))
            except BadQuantity as error:
                self._wrong(owner, attribute, key, f"{place}: {measure.text}", str(error))
                return None
        return Value(tuple(sorted(pairs)), clip(str(node.plain())), node.line, node.column)

    def _wrong(self, owner: str, attribute: Attribute, node: Node, found: str, expected: str = "") -> None:
        wanted = expected or f"Expected {attribute.expected}."
        self.problems.append(node.problem(f"{owner}: '{attribute.name}' is '{clip(found)}'. {wanted}"))
