"""The words a plan may use: terms in taxonomies, and the attributes of each sort of thing in a plan."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

from advisor.document import Node, read_file
from advisor.errors import InputError, Problem, did_you_mean
from advisor.rulebase.instead import Instead, read_grammar, read_instead, without_little_words
from advisor.rulebase.meanings import Meaning
from advisor.units import DIMENSIONS, noun

SORTS = ("house", "code", "room", "part", "product", "crew", "step", "budget")
PLAIN_TYPES = ("text", "yes_no", "year", "count", "profile", "date")


def fold(word: str) -> str:
    """A word without regard to case, hyphens, underscores and repeated spaces."""
    return " ".join(re.split(r"[\s_\-]+", word.strip().lower())).strip()


def _singular(folded: str) -> str:
    for ending, instead in (
        ("ies", "y"),
        ("shes", "sh"),
        ("ches", "ch"),
        ("sses", "ss"),
        ("xes", "x"),
        ("s", ""),
    ):
        if folded.endswith(ending) and len(folded) > len(ending) + 2 and not folded.endswith("ss"):
            return folded[: -len(ending)] + instead
    return folded


def _stems(folded: str) -> tuple[str, ...]:
    """What a word in -ing may be the doing of: painting, bracing, clipping."""
    first, _, rest = folded.partition(" ")
    if not first.endswith("ing") or len(first) < 6:
        return ()
    stem = first[:-3]
    forms = [stem, stem + "e", *([stem[:-1]] if stem[-1] == stem[-2] else [])]
    return tuple(f"{form} {rest}".strip() for form in forms)


@dataclass(frozen=True, slots=True)
class Term:
    """A word of a taxonomy: what it is a kind of, other spellings, what it means."""

    name: str
    parents: tuple[str, ...]
    aliases: tuple[str, ...]
    meaning: str
    gathered: bool = False  # a class that rules speak of; nobody says it in a plan


@dataclass(slots=True)
class Taxonomy:
    """Terms of one sort (materials, tools …), each possibly a kind of another."""

    name: str
    terms: dict[str, Term] = field(default_factory=dict)
    _index: dict[str, str] = field(default_factory=dict)
    _below: dict[str, frozenset[str]] = field(default_factory=dict)
    groups: dict[str, frozenset[str]] = field(default_factory=dict)  # named classes with every word in them

    def add(self, term: Term) -> None:
        """Add a term and its spellings."""
        self.terms[term.name] = term
        for word in (term.name, *term.aliases):
            for form in (fold(word), _singular(fold(word))):
                self._index.setdefault(form, term.name)

    def gather(self, group: Term, members: Iterable[str]) -> None:
        """Add a named class with every word in it; words that came to be in it as kinds of others included."""
        self.add(group)
        self.groups[group.name] = frozenset(members)

    def find(self, word: str) -> str | None:
        """The term that the word means: itself, an alias, or a plural or singular of one."""
        form = fold(word)
        forms = (form, _singular(form), *_stems(form), without_little_words(form))
        return next((self._index[f] for f in forms if f in self._index), None)

    def said(self, word: str) -> str | None:
        """The term that a word of a plan means: named classes are for rules alone."""
        found = self.find(word)
        return None if found in self.groups else found

    def below(self, name: str) -> frozenset[str]:
        """The term and every term that is a kind of it."""
        if name in self.groups:
            return self.groups[name] | {name}
        if name not in self._below:
            found = {name}
            grown = True
            while grown:
                more = {t.name for t in self.terms.values() if found.intersection(t.parents)} - found
                found |= more
                grown = bool(more)
            self._below[name] = frozenset(found)
        return self._below[name]

    def above(self, name: str) -> tuple[str, ...]:
        """What the term is a kind of, nearest first."""
        found: list[str] = []
        queue = list(self.terms[name].parents) if name in self.terms else []
        while queue:
            parent = queue.pop(0)
            if parent not in found and parent in self.terms:
                found.append(parent)
                queue.extend(self.terms[parent].parents)
        return (*found, *sorted(group for group, members in self.groups.items() if name in members))

    def spellings(self) -> Iterable[str]:
        """Every spelling that is understood, for near misses."""
        return [word for t in self.terms.values() for word in (t.name, *t.aliases)]

    def spoken(self) -> Iterable[str]:
        """Every spelling that a plan may use."""
        terms = [t for t in self.terms.values() if t.name not in self.groups]
        return [word for t in terms for word in (t.name, *t.aliases)]


@dataclass(frozen=True, slots=True)
class Presumption:
    """The cautious value of an unknown attribute: for which kinds, unless what is stated, and why."""

    value: str
    for_kinds: tuple[str, ...]
    unless: tuple[tuple[str, str], ...]
    because: str


@dataclass(frozen=True, slots=True)
class Attribute:
    """One thing that may be said of a sort: its type, the question to ask, the presumption."""

    sort: str
    name: str
    type: str  # a dimension, a plain type, `term` or `ref`
    of: str  # taxonomy of a term, sort of a ref
    many: bool
    least: str
    most: str
    meaning: str
    ask: str
    presume: tuple[Presumption, ...]
    aliases: tuple[str, ...]
    example: str
    quiet: bool = False  # leaving it out is itself an answer, so nobody is asked
    not_asked_of: tuple[str, ...] = ()  # kinds of part of which it would be a silly question
    read_by: str = ""  # what reads it beside rules: calendar, money, gear, report
    not_of: tuple[tuple[str, str], ...] = ()  # kinds of which it says nothing, with the attribute that is meant there
    place: str = ""  # the relation of `rules/site/places.yaml` that it means, or that relation's word turned round

    @property
    def expected(self) -> str:
        """What may be written, in words."""
        words = {
            "text": "some words",
            "yes_no": "yes or no",
            "year": "a year, such as 1957",
            "count": "a whole number, such as 2",
            "date": "a date, such as 2026-05-04",
            "profile": "places with measures, such as {0 ft: 1-1/4 in, 3 ft: 1/2 in}",
            "term": f"a {self.of.replace('_', ' ')}",
            "ref": f"the name of a {self.of} of this plan",
        }
        if self.type in words:
            return words[self.type]
        return f"{noun(self.type)}, such as '{self.example or DIMENSIONS[self.type][3]}'"


@dataclass(slots=True)
class Vocabulary:
    """Taxonomies by name, attributes by sort and name."""

    taxonomies: dict[str, Taxonomy] = field(default_factory=dict)
    attributes: dict[str, dict[str, Attribute]] = field(default_factory=dict)
    instead: dict[str, Instead] = field(default_factory=dict)  # by folded word
    grammar: dict[str, tuple[str, ...]] = field(default_factory=dict)  # how phrases are read; see `grammar.yaml`
    meanings: dict[str, tuple[Meaning, ...]] = field(default_factory=dict)  # by verb; see `meanings.py`

    def members(self, taxonomy: str, *classes: str) -> frozenset[str]:
        """The words of named classes with all their kinds; KeyError where there is no such class.

        A vocabulary without that list of words at all has no members.
        """
        known = self.taxonomies.get(taxonomy)
        if known is None:
            return frozenset()
        for name in classes:
            if name not in known.terms:
                raise KeyError(f"{taxonomy}: {name}")
        return frozenset(word for name in classes for word in known.groups.get(name, known.below(name)))

    def attribute(self, sort: str, word: str) -> Attribute | None:
        """The attribute of that name or alias, letter case and hyphens aside."""
        known = self.attributes.get(sort, {})
        if word in known:
            return known[word]
        form = fold(word)
        for attribute in known.values():
            if form in map(fold, (attribute.name, *attribute.aliases)):
                return attribute
        return None


def load_vocabulary(folders: Iterable[Path]) -> Vocabulary:
    """The vocabulary of the given `vocabulary` folders; InputError lists all that is wrong with them."""
    vocabulary = Vocabulary()
    problems: list[Problem] = []
    classes: list[Node] = []
    for folder in folders:
        for path in sorted(folder.glob("**/*.yaml")):
            try:
                root = read_file(path)
                if root.get("classes"):
                    classes.append(root.pairs["classes"][1])
                else:
                    _read(root, vocabulary, problems)
            except InputError as error:
                problems.extend(error.problems)
    _add_classes(vocabulary, classes, problems)
    for taxonomy in vocabulary.taxonomies.values():
        for term in taxonomy.terms.values():
            for parent in term.parents:
                if parent not in taxonomy.terms:
                    hint = did_you_mean(parent, taxonomy.terms)
                    problems.append(
                        Problem(taxonomy.name, 0, 0, f"'{term.name}' is a kind of unknown '{parent}'.{hint}")
                    )
    for sort in vocabulary.attributes.values():
        for attribute in sort.values():
            if attribute.type == "term" and attribute.of not in vocabulary.taxonomies:
                problems.append(
                    Problem(attribute.sort, 0, 0, f"'{attribute.name}' uses an unknown taxonomy '{attribute.of}'.")
                )
    if problems:
        raise InputError(problems)
    return vocabulary


def _read(root: Node, vocabulary: Vocabulary, problems: list[Problem]) -> None:
    if root.get("taxonomy"):
        _read_taxonomy(root, vocabulary, problems)
    elif root.get("sort"):
        _read_sort(root, vocabulary, problems)
    elif root.get("instead"):
        read_instead(root, vocabulary.instead, fold, problems.append)
    elif root.get("grammar"):
        read_grammar(root, vocabulary.grammar)
    else:
        problems.append(root.problem("is no vocabulary file. Expected 'taxonomy:', 'sort:' or 'instead:' at its top."))


_CLASS_KEYS = {"of", "also", "but", "meaning", "aliases"}


def _add_classes(vocabulary: Vocabulary, listed: Iterable[Node], problems: list[Problem]) -> None:
    """Named classes: `classes: {action: {cut power: {of: […], but: […]}}}` puts a term above those of a list.

    `of` takes words with all their kinds, `also` words without them; those of `but`, with their kinds, stay out.
    """
    for node in listed:
        for name, (key, terms) in node.pairs.items():
            taxonomy = vocabulary.taxonomies.get(name)
            if taxonomy is None:
                problems.append(key.problem(f"classes of an unknown list '{name}'."))
                continue
            for word, (at, spec) in terms.pairs.items():
                for extra in sorted(set(spec.pairs) - _CLASS_KEYS):
                    problems.append(at.problem(f"class '{word}' has an unknown key '{extra}'."))
                if taxonomy.find(word) is not None:
                    problems.append(at.problem(f"class '{word}' of '{name}' is a word already."))
                    continue
                found: dict[str, set[str]] = {"of": set(), "also": set(), "but": set()}
                for slot, members in found.items():
                    for member in _words(spec.get(slot)):
                        if member not in taxonomy.terms:
                            near = did_you_mean(member, taxonomy.terms)
                            problems.append(at.problem(f"class '{word}' names an unknown '{member}'.{near}"))
                        else:
                            members |= {member} if slot == "also" else taxonomy.below(member)
                meaning = spec.get("meaning")
                taxonomy.gather(
                    Term(word, (), _words(spec.get("aliases")), meaning.text if meaning else "", True),
                    (found["of"] | found["also"]) - found["but"],
                )


def _words(node: Node | None) -> tuple[str, ...]:
    if node is None:
        return ()
    return (node.text,) if node.kind == "scalar" else tuple(item.text for item in node.items)


def _read_taxonomy(root: Node, vocabulary: Vocabulary, problems: list[Problem]) -> None:
    name = root.pairs["taxonomy"][1].text
    taxonomy = vocabulary.taxonomies.setdefault(name, Taxonomy(name))
    terms = root.get("terms")
    for word, (key, spec) in (terms.pairs if terms else {}).items():
        unknown = set(spec.pairs) - {"is", "aliases", "meaning"}
        if unknown:
            problems.append(key.problem(f"term '{word}' has an unknown key '{sorted(unknown)[0]}'."))
        if word in taxonomy.terms:
            problems.append(key.problem(f"term '{word}' of '{name}' stands twice."))
        for spelling in (word, *_words(spec.get("aliases"))):
            other = taxonomy._index.get(fold(spelling))
            if other and other != word:
                problems.append(key.problem(f"'{spelling}' of '{word}' already means '{other}'."))
        meaning = spec.get("meaning")
        taxonomy.add(Term(word, _words(spec.get("is")), _words(spec.get("aliases")), meaning.text if meaning else ""))


_ATTRIBUTE_KEYS = {
    "type",
    "of",
    "to",
    "many",
    "least",
    "most",
    "meaning",
    "ask",
    "presume",
    "aliases",
    "example",
    "quiet",
    "not_asked_of",
    "place",
    "read_by",
    "not_of",
}


def _read_sort(root: Node, vocabulary: Vocabulary, problems: list[Problem]) -> None:
    sort = root.pairs["sort"][1].text
    if sort not in SORTS:
        problems.append(root.problem(f"unknown sort '{sort}'.{did_you_mean(sort, SORTS)}"))
    known = vocabulary.attributes.setdefault(sort, {})
    listed = root.get("attributes")
    for name, (key, spec) in (listed.pairs if listed else {}).items():
        for extra in sorted(set(spec.pairs) - _ATTRIBUTE_KEYS):
            problems.append(key.problem(f"attribute '{name}' has an unknown key '{extra}'."))
        if name in known:
            problems.append(key.problem(f"attribute '{name}' of '{sort}' stands twice."))

        def text(field_name: str, spec: Node = spec) -> str:
            node = spec.get(field_name)
            return node.text if node else ""

        kind = text("type")
        if kind not in DIMENSIONS and kind not in (*PLAIN_TYPES, "term", "ref"):
            problems.append(key.problem(f"attribute '{name}' has an unknown type '{kind}'."))
            continue
        known[name] = Attribute(
            sort, name, kind, text("of") or text("to"), text("many") == "yes", text("least"), text("most"),
            text("meaning"), text("ask"), _presumptions(spec.get("presume")),
            _words(spec.get("aliases")), text("example"), text("quiet") == "yes",
            _words(spec.get("not_asked_of")), text("read_by"), _pairs(spec.get("not_of")), text("place"),
        )  # fmt: skip


def _pairs(node: Node | None) -> tuple[tuple[str, str], ...]:
    return tuple((kind, value.text) for kind, (_, value) in node.pairs.items()) if node else ()


def _presumptions(node: Node | None) -> tuple[Presumption, ...]:
    if node is None:
        return ()
    found = []
    for one in node.items if node.kind == "sequence" else [node]:
        unless = one.get("unless")
        pairs = tuple((k, v.text) for k, (_, v) in unless.pairs.items()) if unless else ()
        value, because = one.get("value"), one.get("because")
        found.append(
            Presumption(value.text if value else "", _words(one.get("for")), pairs, because.text if because else "")
        )
    return tuple(found)
