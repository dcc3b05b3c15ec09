"""What a sentence of a step amounts to: `install` of tile work is `tile`. Data in `rules/site/meanings/`.

A plan may say one work with many verbs. A meaning replaces the verb by the one that the trade means, where the
kinds of part and product, the tools or the method settle it; nothing unknown is ever taken for a reason.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path

from msgspec import Struct

from advisor.document import Node, read_file
from advisor.errors import InputError, Problem, allowed, did_you_mean

_KEYS = {"do", "to", "using", "with", "by", "means"}


class Clue(Struct, frozen=True):
    """One thing that a sentence must say: of the step, its part or its product; any of the words will do."""

    sort: str  # step | part | product
    attribute: str
    words: frozenset[str]


class Meaning(Struct, frozen=True):
    """Verbs that mean another one where all the clues are there."""

    verbs: frozenset[str]
    clues: tuple[Clue, ...]
    means: str


# What a sentence says: by sort and attribute the words, a member of a list being one.
Said = Mapping[tuple[str, str], frozenset[str]]


def meant(verb: str, said: Said, meanings: Mapping[str, tuple[Meaning, ...]]) -> str:
    """The verb that the sentence amounts to; the verb itself where nothing says more. The first that fits counts."""
    for one in meanings.get(verb, ()):
        if all(clue.words & said.get((clue.sort, clue.attribute), frozenset()) for clue in one.clues):
            return one.means
    return verb


def read_meanings(folder: Path, vocabulary: object) -> dict[str, tuple[Meaning, ...]]:
    """By verb the meanings that it may take, in the order of the files; InputError lists what is wrong with them."""
    problems: list[Problem] = []
    by_verb: dict[str, list[Meaning]] = {}
    for node in _listed(folder):
        for extra in sorted(set(node.pairs) - _KEYS):
            problems.append(node.problem(f"a meaning has an unknown key '{extra}'.{allowed(extra, sorted(_KEYS))}"))
        clues: list[Clue] = []
        verbs: frozenset[str] = frozenset()
        means = ""
        for word, (_, value) in node.pairs.items():
            if word == "means":
                means = _term(value, "action", vocabulary, problems)
            elif word == "do":
                verbs = _words(value, "step", "do", vocabulary, problems)
            elif word in ("to", "using"):
                sort = "part" if word == "to" else "product"
                for name, (_, inner) in value.pairs.items():
                    clues.append(Clue(sort, name, _words(inner, sort, name, vocabulary, problems)))
            elif word in ("with", "by"):
                clues.append(Clue("step", word, _words(value, "step", word, vocabulary, problems)))
        if not means or not verbs or not clues:
            problems.append(node.problem("a meaning needs 'do', 'means' and a clue: 'to', 'using', 'with' or 'by'."))
        for verb in sorted(verbs - {means}):
            by_verb.setdefault(verb, []).append(Meaning(verbs, tuple(clues), means))
    if problems:
        raise InputError(problems)
    return {verb: tuple(found) for verb, found in sorted(by_verb.items())}


def _listed(folder: Path) -> Iterator[Node]:
    for path in sorted(folder.glob("*.yaml")):
        listed = read_file(path).get("meanings")
        yield from listed.items if listed else ()


def _term(node: Node, taxonomy: str, vocabulary: object, problems: list[Problem]) -> str:
    found: str | None = vocabulary.taxonomies[taxonomy].find(node.text)  # type: ignore[attr-defined]
    if found is None:
        near = did_you_mean(node.text, vocabulary.taxonomies[taxonomy].spellings())  # type: ignore[attr-defined]
        problems.append(node.problem(f"unknown {taxonomy.replace('_', ' ')} '{node.text}'.{near}"))
    return found or ""


def _words(node: Node, sort: str, name: str, vocabulary: object, problems: list[Problem]) -> frozenset[str]:
    """Words with all their kinds; `{in: […], not: […]}` leaves some out; `only` takes words without their kinds."""
    attribute = vocabulary.attributes.get(sort, {}).get(name)  # type: ignore[attr-defined]
    if attribute is None or attribute.type != "term":
        problems.append(node.problem(f"'{name}' of a {sort} has no words to tell a meaning by."))
        return frozenset()
    taxonomy = vocabulary.taxonomies[attribute.of]  # type: ignore[attr-defined]

    def below(inner: Node | None, kinds: bool = True) -> frozenset[str]:
        found: set[str] = set()
        for one in () if inner is None else inner.items if inner.kind == "sequence" else (inner,):
            term = _term(one, attribute.of, vocabulary, problems)
            found |= taxonomy.below(term) if term and kinds else {term}
        return frozenset(found)

    if node.kind != "mapping":
        return below(node)
    return (below(node.get("in")) | below(node.get("only"), kinds=False)) - below(node.get("not"))
