"""Reading the files of a `vocabulary` folder: words, attributes, named classes, answers to words that are not taken."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from advisor.document import Node, files_below, read_file
from advisor.errors import InputError, Problem, did_you_mean
from advisor.rulebase.instead import read_grammar, read_instead
from advisor.rulebase.told import add_told
from advisor.rulebase.vocabulary import (
    PLAIN_TYPES,
    SORTS,
    Attribute,
    Presumption,
    Taxonomy,
    Term,
    Vocabulary,
    fold,
)
from advisor.units import DIMENSIONS


def load_vocabulary(folders: Iterable[Path]) -> Vocabulary:
    """The vocabulary of the given `vocabulary` folders; InputError lists all that is wrong with them."""
    vocabulary = Vocabulary()
    problems: list[Problem] = []
    classes: list[Node] = []
    kinds: list[Node] = []
    for folder in folders:
        for path in files_below(folder):
            try:
                root = read_file(path)
                if root.get("classes"):
                    classes.append(root.pairs["classes"][1])
                elif root.get("kinds"):
                    kinds.append(root)
                else:
                    _read(root, vocabulary, problems)
            except InputError as error:
                problems.extend(error.problems)
    for taxonomy in vocabulary.taxonomies.values():
        taxonomy.little = frozenset(vocabulary.grammar.get("little", ()))
    _add_classes(vocabulary, classes, problems)
    add_told(vocabulary, kinds, problems)
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
    "cautious",
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

        if text("cautious") not in ("", "earlier", "later"):
            problems.append(
                key.problem(f"attribute '{name}' is cautious '{text('cautious')}'. Expected earlier or later.")
            )
        kind = text("type")
        if kind not in DIMENSIONS and kind not in (*PLAIN_TYPES, "term", "ref"):
            problems.append(key.problem(f"attribute '{name}' has an unknown type '{kind}'."))
            continue
        known[name] = Attribute(
            sort, name, kind, text("of") or text("to"), text("many") == "yes", text("least"), text("most"),
            text("meaning"), text("ask"), _presumptions(spec.get("presume")),
            _words(spec.get("aliases")), text("example"), text("quiet"),
            _words(spec.get("not_asked_of")), text("read_by"), _pairs(spec.get("not_of")), text("cautious"),
            text("place"),
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
