"""What a country changes: values with their sources, words in place of others, whom to ask. From `rules/places/`.

A value that nobody read stands in no table: it is unknown, and asked. The rules are written by the law and in the
words of one country; nothing of this is read for a house that stands there.
"""

from __future__ import annotations

import re
from functools import lru_cache
from pathlib import Path

from msgspec import Struct

from advisor.document import Node, read_file
from advisor.errors import InputError, Problem, clip, did_you_mean
from advisor.rulebase.vocabulary import Vocabulary
from advisor.tables import rules_folder

HOME = "US"  # the country whose law the rules are written by
FOLDER = "places"
ANYWHERE = "anywhere.yaml"  # what holds in every country but that of the rules, and the names of the rows
ELSEWHERE = "elsewhere"  # key of the bibliography that stands where a law of the rules' country is left out
_CODE = re.compile(r"[A-Z]{2}")


class LocalValue(Struct, frozen=True):
    """A value of a country as it is told, with its source; of a year or a measure also the number in its base unit."""

    name: str
    meaning: str
    value: str
    number: float | None
    cite: str
    url: str
    verified: str


class Country(Struct, frozen=True):
    """A country as far as it is known: its rows by name, its words, whose law was not looked at, whom to ask."""

    code: str  # empty for a country that is not known
    name: str  # as in `the law of …`
    rows: dict[str, LocalValue]
    missing: tuple[tuple[str, str], ...]  # rows that nobody read: name and question
    words: tuple[
        tuple[str, str, frozenset[str]], ...
    ]  # what is written, what is told, packs where it means another thing
    laws: str  # which law was not looked at
    ask: str  # whom to ask


@lru_cache(maxsize=16)
def country(code: str, name: str = "", folder: Path | None = None) -> Country:
    """The tables of a country; without one of its own it has no rows, and the words that serve anywhere."""
    home = (folder or rules_folder()) / FOLDER
    anywhere = read_file(home / ANYWHERE)
    own = home / "countries" / f"{code}.yaml"
    known = read_file(own) if _CODE.fullmatch(code) and own.is_file() else None
    problems: list[Problem] = []
    names = {key: node for key, (_, node) in _pairs(anywhere, "rows").items()}
    rows = {key: _row(key, at, node, names, problems) for key, (at, node) in _pairs(known, "rows").items()}
    words = {} if _text(known, "keeps_words") == "yes" else dict(_pairs(anywhere, "words"))
    sets, chosen = _pairs(anywhere, "word_sets"), known.get("word_sets") if known else None
    for one in chosen.items if chosen else []:
        words |= sets[one.text][1].pairs if one.text in sets else {}
    words |= _pairs(known, "words")
    if problems:
        raise InputError(problems)
    return Country(
        code,
        _text(known, "name") or name or _text(anywhere, "name"),
        rows,
        tuple((key, _text(node, "ask")) for key, node in names.items() if key not in rows),
        tuple((word, *_word(node)) for word, (_, node) in sorted(words.items())),
        _text(known, "laws") or _text(anywhere, "laws"),
        _text(known, "ask") or _text(anywhere, "ask"),
    )


def is_law(key: str) -> bool:
    """Whether a source is a law or code of the country of the rules: elsewhere it is not cited."""
    return key.startswith(_laws())


def country_of(code: str, vocabulary: Vocabulary) -> Country:
    """The country of a code, by the name that the vocabulary has for it."""
    known = vocabulary.taxonomies.get("country")
    term = known.terms.get(code) if known else None
    return country(code, term.meaning if term else "")


def as_cited(key: str, citation: str, there: str) -> str:
    """A citation as it stands in a country: a book of another one's law or authorities says that it binds nobody."""
    books, say = _books()
    for own, keys, names in books:
        if own != there and ((keys and key.startswith(keys)) or (names and names.search(citation))):
            return f"{citation} {say}"
    return citation


@lru_cache(maxsize=1)
def _books() -> tuple[tuple[tuple[str, tuple[str, ...], re.Pattern[str] | None], ...], str]:
    """Countries with the keys and names of their books, and what is said of one elsewhere."""
    anywhere = read_file(rules_folder() / FOLDER / ANYWHERE)
    listed = anywhere.get("books_of")
    found = []
    for own, (_, node) in sorted(listed.pairs.items()) if listed else []:
        keys, names = node.get("keys"), node.get("names")
        words = "|".join(re.escape(one.text) for one in names.items) if names else ""
        pattern = re.compile(rf"(?<!\w)(?:{words})(?!\w)") if words else None
        found.append((own, tuple(one.text for one in keys.items) if keys else (), pattern))
    return tuple(found), _text(anywhere, "book_elsewhere")


@lru_cache(maxsize=1)
def _laws() -> tuple[str, ...]:
    listed = read_file(rules_folder() / FOLDER / ANYWHERE).get("laws_of_home")
    return tuple(one.text for one in listed.items) if listed else ()


def tables(folder: Path | None = None) -> list[str]:
    """The codes of the countries that have a table."""
    return sorted(path.stem for path in ((folder or rules_folder()) / FOLDER / "countries").glob("*.yaml"))


def in_words(text: str, there: Country, pack: str = "") -> str:
    """A sentence of the rules in the words of the country."""
    pattern, said = _replacing(there.words, pack)
    return pattern.sub(lambda found: said[found.group(0)], text) if pattern else text


@lru_cache(maxsize=64)
def _replacing(
    words: tuple[tuple[str, str, frozenset[str]], ...], pack: str
) -> tuple[re.Pattern[str] | None, dict[str, str]]:
    said: dict[str, str] = {}
    for word, other, not_in in words:
        if pack not in not_in:
            said[word] = other
            said.setdefault(_begun(word), _begun(other))
    if not said:
        return None, said
    longest = sorted(said, key=lambda word: (-len(word), word))
    return re.compile(rf"(?<![\w-])(?:{'|'.join(map(re.escape, longest))})(?![\w-])"), said


def _begun(text: str) -> str:
    """As at the beginning of a sentence."""
    return text[:1].upper() + text[1:]


def _row(key: str, at: Node, node: Node, names: dict[str, Node], problems: list[Problem]) -> LocalValue:
    if key not in names:
        problems.append(at.problem(f"'{clip(key)}' is no row of a country.{did_you_mean(key, names)}"))
    for wanted in ("value", "cite", "verified"):
        if not _text(node, wanted):
            problems.append(at.problem(f"row '{clip(key)}' needs '{wanted}'."))
    return LocalValue(
        key,
        _text(names.get(key), "meaning"),
        _text(node, "value"),
        _number(_text(node, "number")),
        _text(node, "cite"),
        _text(node, "url"),
        _text(node, "verified"),
    )


def _number(text: str) -> float | None:
    try:
        return float(text)
    except ValueError:
        return None


def _word(node: Node) -> tuple[str, frozenset[str]]:
    if node.kind == "scalar":
        return node.text, frozenset()
    listed = node.get("not_in")
    return _text(node, "say"), frozenset(one.text for one in listed.items) if listed else frozenset()


def _pairs(node: Node | None, key: str) -> dict[str, tuple[Node, Node]]:
    found = node.get(key) if node else None
    return found.pairs if found else {}


def _text(node: Node | None, key: str) -> str:
    found = node.get(key) if node else None
    return " ".join(found.text.split()) if found else ""
