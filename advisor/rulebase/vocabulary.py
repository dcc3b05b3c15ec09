"""The words a plan may use: terms in taxonomies, and the attributes of each sort of thing in a plan."""

from __future__ import annotations

import re
from collections.abc import Iterable

from msgspec import Struct, field

from advisor.rulebase.instead import Instead
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


# Words before a name that say nothing of what it is; that a trade is booked is what `who:` says.


def _stems(folded: str) -> tuple[str, ...]:
    """What a word in -ing may be the doing of: painting, bracing, clipping."""
    first, _, rest = folded.partition(" ")
    if not first.endswith("ing") or len(first) < 6:
        return ()
    stem = first[:-3]
    forms = [stem, stem + "e", *([stem[:-1]] if stem[-1] == stem[-2] else [])]
    return tuple(f"{form} {rest}".strip() for form in forms)


class Term(Struct, frozen=True):
    """A word of a taxonomy: what it is a kind of, other spellings, what it means."""

    name: str
    parents: tuple[str, ...]
    aliases: tuple[str, ...]
    meaning: str
    gathered: bool = False  # a class that rules speak of; nobody says it in a plan


class Taxonomy(Struct):
    """Terms of one sort (materials, tools …), each possibly a kind of another."""

    name: str
    terms: dict[str, Term] = field(default_factory=dict)
    _index: dict[str, str] = field(default_factory=dict)
    _below: dict[str, frozenset[str]] = field(default_factory=dict)
    groups: dict[str, frozenset[str]] = field(default_factory=dict)  # named classes with every word in them
    told: dict[str, tuple[tuple[str, str], ...]] = field(default_factory=dict)  # see `rules/vocabulary/kinds.yaml`
    little: frozenset[str] = frozenset()  # words that say nothing of what is meant; see `grammar.yaml`

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
        self._below.pop(group.name, None)

    def find(self, word: str) -> str | None:
        """The term that the word means: itself, an alias, a plural or singular of one; `an electrician` too."""
        form = fold(word)
        said = form.split(" ")
        short = " ".join(one for one in said if one not in self.little) if len(said) > 1 else form
        forms = (form, _singular(form), *_stems(form), short)
        return next((self._index[f] for f in forms if f in self._index), None)

    def said(self, word: str) -> str | None:
        """The term that a word of a plan means: named classes are for rules alone."""
        found = self.find(word)
        return None if found in self.groups else found

    def below(self, name: str) -> frozenset[str]:
        """The term and every term that is a kind of it."""
        if name not in self._below and name in self.groups:
            self._below[name] = self.groups[name] | {name}
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


class Presumption(Struct, frozen=True):
    """The cautious value of an unknown attribute: for which kinds, unless what is stated, and why."""

    value: str
    for_kinds: tuple[str, ...]
    unless: tuple[tuple[str, str], ...]
    because: str


class Attribute(Struct, frozen=True):
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
    quiet: str = ""  # what leaving it out says, in words: that is an answer, so nobody is asked
    not_asked_of: tuple[str, ...] = ()  # kinds of part of which it would be a silly question
    read_by: str = ""  # what reads it beside rules: calendar, money, gear, report
    not_of: tuple[tuple[str, str], ...] = ()  # kinds of which it says nothing, with the attribute that is meant there
    cautious: str = ""  # of a year: the end, earlier or later, of what loose words such as `about 1920` may mean
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


class Vocabulary(Struct):
    """Taxonomies by name, attributes by sort and name."""

    taxonomies: dict[str, Taxonomy] = field(default_factory=dict)
    attributes: dict[str, dict[str, Attribute]] = field(default_factory=dict)
    instead: dict[str, Instead] = field(default_factory=dict)  # by folded word
    grammar: dict[str, tuple[str, ...]] = field(default_factory=dict)  # how phrases are read; see `grammar.yaml`
    # by sort: an attribute with a word, and what that says of another; see `rules/vocabulary/kinds.yaml`
    said_too: dict[str, dict[tuple[str, str], tuple[str, str, tuple[str, ...]]]] = field(default_factory=dict)
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
